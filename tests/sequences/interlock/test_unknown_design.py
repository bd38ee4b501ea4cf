"""A mains item that nobody knows: inspected, rewired, tested dead against the limits; never mains, never for sale."""

import pytest

from benchapp.actions.standalone.checking import check_files
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.checks.loading import load_with_own
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import EntryKind
from tests.sequences.bench import Refused, Unit, catalogue, plan_of

UNKNOWN = "unknown-mains-item"


@pytest.fixture
def unknown() -> Unit:
    unit = Unit(plan_of(UNKNOWN, UNKNOWN))
    unit.hold("tb-m1")
    unit.finish()
    return unit


def test_intake_offers_the_dead_route_and_no_other():
    assert catalogue().routes_for(UNKNOWN) == (UNKNOWN,)
    assert all(step.supply is Supply.none for step in plan_of(UNKNOWN, UNKNOWN).steps)


def test_its_dead_tests_are_held_against_the_limits(unknown):
    assert unknown.state.complete
    assert unknown.state.steps["unknown-tests.earth"].judgement == "pass"
    unknown.hold("tb-it1")
    unknown.reads("unknown-tests.earth", "2 ohm")
    assert unknown.state.steps["unknown-tests.earth"].status.value == "failed"


def test_every_hazard_of_old_equipment_is_asked_of_it():
    plan = plan_of(UNKNOWN, UNKNOWN)
    assert {one.hazard for one in plan.hazards_asked} == {k for k, one in plan.hazards.items() if not one.presumed}


@pytest.mark.parametrize("supply", [Supply.limited, Supply.full])
def test_no_mains_ever_comes_to_it(unknown, supply):
    row = next(one for one in unknown.state.interlock[supply] if one.id == "design")
    assert not row.holds
    assert "nobody knows what is inside it" in row.why


def test_nobody_can_say_of_a_unit_that_its_design_is_known(unknown):
    with pytest.raises(Refused, match="would ask for less"):
        unknown.record(EntryKind.fact, facts={"design known": "yes"})


def test_it_is_never_for_sale_and_not_kept_with_its_plug_on(unknown):
    with pytest.raises(Refused, match="nobody knows its design: it goes for spares"):
        unknown.record(EntryKind.disposition, "", "MH", disposition="for sale")
    with pytest.raises(Refused, match="cut its plug off"):
        unknown.record(EntryKind.disposition, disposition="keep")


@pytest.mark.parametrize("end", ["spares or repair", "scrap", "keep"])
def test_its_way_out_is_by_the_cut_plug(unknown, end):
    unknown.record(EntryKind.plug_destroyed, note="cut and crushed")
    unknown.record(EntryKind.disposition, disposition=end, note="nobody knows it")
    assert unknown.state.disposition == end


def test_it_may_wait_on_hold_for_somebody_to_draw_its_circuit(unknown):
    unknown.record(EntryKind.disposition, disposition="hold")
    assert unknown.due.kind.value == "held"


def test_a_workshops_own_unknown_item_is_good_and_goes_the_dead_route_alone(tmp_path):
    shipped = shipped_folder("resources") / "equipment" / f"{UNKNOWN}.yaml"
    own = tmp_path / "our-unknown.yaml"
    own.write_text(shipped.read_text(encoding="utf-8").replace(f"equipment: {UNKNOWN}", "equipment: our-unknown"))
    assert [one.good for one in check_files([own])] == [True]
    found, _ = load_with_own(tmp_path)
    assert found.routes_for("our-unknown") == (UNKNOWN,)
