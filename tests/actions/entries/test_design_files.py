"""Designs made from templates at the intake of a new workshop: each passes `check`, and a sound unit goes its route."""

from datetime import timedelta

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.design_files import add_design, next_design_id
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.standalone.checking import check_files
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.sequences.planning.state import DueKind
from benchapp.wiring.checks.design_sheet import DesignSheet
from benchapp.wiring.model.templates import NOT_KNOWN, shared_parts, shipped_templates
from tests.actions.conftest import Clock
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
PLATE = {
    "power": "60",
    "output volts": "12 V",
    "output current": "1",
    "impedance": "8",
    "fuse": "3 A",
    "cord length": "1.8",
    "cord area": "0.75",
}
KNOWN = [name for name in shipped_templates() if name != NOT_KNOWN]
MAINS = [name for name in KNOWN if shipped_templates()[name].mains_fed]


@pytest.fixture
def shed(tmp_path, clock):
    """A new workshop with meters; designs it has none."""
    bench = Bench.create(tmp_path / "shed.workbook", clock=clock, workshop=staffed(demo=False))
    meters = tmp_path / "meters"
    meters.mkdir()
    for name in METERS:
        (meters / f"{name}.yaml").write_text(bench.catalogue.texts[f"resources/meters/{name}.yaml"])
    bench.reread_files()
    proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    yield bench
    bench.close()


def sheet(template, **said):
    """All that a plate says of such a thing."""
    given = {"equipment": "made", "title": f"A made {template}", "template": template, "inside_known": True}
    plate = {"equipment_class": shipped_templates()[template].template_class, "volts": "230", "figures": PLATE}
    return DesignSheet(**(given | plate | said))


def go_through(bench, clock, route):
    """A sound unit of the made design as far as its route leads."""
    take_in_lot(bench, name="Van", equipment="made", route=route, marks=("V-001",), by="AB")
    limiter = {"first-power.limiter": AskAnswer(answer="variable transformer")}
    due = do_what_is_due(bench, "V-001", until="first-power-by-resistance.heating", answers=limiter)
    if due.address == "first-power-by-resistance.heating":
        clock.now += timedelta(minutes=6)
        due = do_what_is_due(bench, "V-001")
    return due


@pytest.mark.parametrize("template", KNOWN)
def test_a_sound_unit_of_a_known_design_goes_from_intake_to_the_sale_table(shed, clock, tmp_path, template):
    changes = add_design(shed, sheet(template), by="AB")
    path = tmp_path / "equipment" / "made.yaml"
    assert str(path) in changes.words
    assert "Not known yet" not in changes.words
    (report,) = check_files([path])
    assert report.good, report
    route = shed.catalogue.routes_for("made")[0]
    assert go_through(shed, clock, route).kind is DueKind.finished
    set_disposition(shed, "V-001", "for sale", by="CD", grade="B", price="£5")
    shed.close()
    assert verify_workbook(shed.path) == ()


@pytest.mark.parametrize(
    ("said", "wanting"),
    [
        ({"inside_known": False}, "inside"),
        ({"volts": ""}, "supply volts"),
        ({"equipment_class": ""}, "class"),
        ({"figures": {}}, "power"),
    ],
)
@pytest.mark.parametrize("template", MAINS)
def test_what_is_not_known_yet_leaves_dead_tests_alone(shed, clock, tmp_path, template, said, wanting):
    changes = add_design(shed, sheet(template, **said), by="AB")
    assert f"Not known yet: {wanting}" in changes.words
    (report,) = check_files([tmp_path / "equipment" / "made.yaml"])
    assert report.good, report
    assert shed.catalogue.routes_for("made") == ("unknown-mains-item",)
    assert go_through(shed, clock, "unknown-mains-item").kind is DueKind.finished
    with pytest.raises(Refused, match="cannot be marked “for sale”"):
        set_disposition(shed, "V-001", "for sale", by="CD", grade="B", price="£5")


def test_an_item_of_another_class_than_its_template_has_an_inside_that_nobody_knows(shed):
    changes = add_design(shed, sheet("heater", equipment_class="II"), by="AB")
    assert "Not known yet: an inside of class II" in changes.words
    assert shed.catalogue.equipment["made"].equipment_class == "II"
    assert shed.catalogue.routes_for("made") == ("unknown-mains-item",)


@pytest.mark.parametrize("region", ["gb", "eu", "us", "au"])
@pytest.mark.parametrize("template", shipped_templates())
def test_every_template_makes_a_sound_file_in_every_region(tmp_path, template, region):
    bench = Bench.create(tmp_path / "away.workbook", clock=Clock(), workshop=staffed(demo=False, region=region))
    with bench:
        add_design(bench, sheet(template, volts=""), by="AB")
        add_design(bench, sheet(template, equipment="other"), by="AB")
        assert bench.left_out == ()
        plugs = bench.catalogue.limits[region].plug.connectors
        mains = [one for one in ("made", "other") if bench.catalogue.equipment[one].plug != "none"]
        assert all(bench.catalogue.equipment[one].connectors["plug"] in plugs for one in mains)
        assert all(report.good for report in check_files(sorted((tmp_path / "equipment").glob("*.yaml"))))


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"title": " "}, "Say what it is"),
        ({"volts": "many"}, "many"),
        ({"volts": "-5 V"}, "more than 0"),
        ({"figures": PLATE | {"power": "60 V"}}, "60 V"),
        ({"figures": PLATE | {"fuse": "0"}}, "more than 0"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_nothing_is_written(shed, tmp_path, said, words):
    with pytest.raises(Refused, match=words) as refused:
        add_design(shed, sheet("heater", **said), by="AB")
    assert "yaml" not in refused.value.sentence
    assert not (tmp_path / "equipment").exists()


def test_a_loudspeaker_without_its_impedance_asks_for_it(shed):
    with pytest.raises(Refused, match="impedance"):
        add_design(shed, sheet("loudspeaker", figures={}), by="AB")


def test_an_id_is_made_from_the_title_and_never_twice(shed):
    assert next_design_id(shed, "Floor lamp, 60 W") == "floor-lamp-60-w"
    add_design(shed, sheet("fan", equipment="floor-fan"), by="AB")
    assert next_design_id(shed, "Floor fan") == "floor-fan-2"
    assert next_design_id(shed, "1970s fan")[0].isalpha()
    assert next_design_id(shed, "…") == "design"


def test_each_share_of_a_plate_names_its_source():
    assert all(len(one.source) > 10 for one in shared_parts().shares.values())
    assert shared_parts().unloaded.source
