"""Which hazards of old equipment a design is asked about, by its own word, its age, its facts and its parts."""

import pytest

from benchapp.sequences.planning.hazards import hazards_asked, hazards_presumed
from benchapp.wiring.model.written import Years
from tests.sequences.loaded import load_catalogue

SHIPPED = load_catalogue()


def asked(design: str = "tb-rec1", **changes: object) -> set[str]:
    equipment = SHIPPED.equipment[design].model_copy(update=changes)
    return {one.hazard for one in hazards_asked(equipment, equipment.facts(), SHIPPED.hazards)}


def test_a_recorder_of_the_seventies_is_asked_about_what_sits_in_such_recorders():
    assert asked() >= {"asbestos", "pcb-capacitor", "selenium-rectifier", "mercury", "leaked-battery", "perished-cord"}


def test_a_transformer_alone_is_asked_about_no_capacitor_and_no_rectifier():
    assert asked("tb-mu1") == {"asbestos", "perished-cord", "thermal-link"}


def test_a_unit_made_after_the_ban_is_not_asked_about_asbestos():
    assert "asbestos" not in asked(made=Years(first=2001, last=2009))
    assert "asbestos" in asked(made=Years(first=1999, last=2009))


def test_a_design_of_unknown_age_is_asked_about_every_age():
    assert {"asbestos", "series-resistor-cord", "selenium-rectifier"} <= asked(made=None)


def test_a_design_is_asked_about_what_it_is_known_for_whatever_its_age():
    late = Years(first=2015, last=2020)
    assert "picture-tube" not in asked(made=late)
    assert "picture-tube" in asked(made=late, hazards=("picture-tube",))


def test_of_a_design_that_nobody_knows_every_hazard_is_asked_that_its_age_allows():
    every = {name for name, one in SHIPPED.hazards.items() if not one.presumed}
    assert asked("tb-mu1", design_known=False, made=None, equipment_class="unknown") == every


def test_what_is_presumed_is_told_and_never_asked():
    equipment = SHIPPED.equipment["tb-rec1"]
    told = {one.hazard for one in hazards_presumed(equipment, equipment.facts(), SHIPPED.hazards)}
    assert {"lead-solder", "stored-charge"} <= told
    assert not told & asked()


@pytest.mark.parametrize("name", sorted(SHIPPED.hazards))
def test_every_statement_of_a_shipped_hazard_says_where_it_comes_from(name):
    for one in SHIPPED.hazards[name].statements():
        assert one.source
        assert one.status
        assert one.say.endswith(".")
