"""Meters of a workshop's own, and the shipped examples that are a demo's alone."""

from datetime import date

import pytest

from benchapp.actions.entries.days import change_workshop
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.meter_files import a_year_after, add_meter, next_meter_id
from benchapp.actions.standalone.checking import check_files
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.judgement.meters.data_sheet import MeterSheet, SheetLine
from benchapp.judgement.meters.functions import Function
from tests.actions.conftest import Clock
from tests.people import staffed

LINE = SheetLine(
    function=Function.resistance, smallest="600 ohm", largest="60 Mohm", resolution="0.1 ohm", accuracy="1 % + 2 counts"
)


@pytest.fixture
def shed(tmp_path):
    """A new workshop, none of a demo."""
    bench = Bench.create(tmp_path / "shed.workbook", clock=Clock(), workshop=staffed(demo=False))
    yield bench
    bench.close()


def sheet(**said):
    dates = {"calibrated": date(2026, 4, 14), "due": date(2027, 4, 14)}
    given = {"meter": "m1", "title": "Hand meter", "kind": "hand meter", "categories": ("CAT III 600 V",)}
    return MeterSheet(**(given | dates | {"lines": (LINE,)} | said))


def take_in(bench, *marks):
    take_in_lot(bench, name="Shed", equipment="unknown-mains-item", route="unknown-mains-item", marks=marks, by="AB")


def test_a_new_workshop_is_offered_no_example_and_a_demo_is(shed, bench):
    assert set(shed.catalogue.equipment) == {"unknown-mains-item"}
    assert shed.catalogue.meters == {}
    assert {"tb-mu1", "tb-ls1", "unknown-mains-item"} <= set(bench.catalogue.equipment)
    assert "tb-m1" in bench.catalogue.meters


def test_an_example_that_a_workshop_took_over_is_its_own(shed, tmp_path):
    folder = tmp_path / "meters"
    folder.mkdir()
    folder.joinpath("tb-m1.yaml").write_text(shed.catalogue.texts["resources/meters/tb-m1.yaml"])
    assert set(shed.reread_files().meters) == {"tb-m1"}


def test_whether_a_workbook_is_a_demos_is_settled_when_it_is_begun(shed):
    with pytest.raises(Refused, match="settled when it is begun"):
        change_workshop(shed, staffed(demo=True), by="SV", reason="to look")


def test_a_kept_meter_is_a_file_that_passes_check_and_is_offered_at_once(shed, tmp_path):
    changes = add_meter(shed, sheet(serial="4711"), by="AB")
    path = tmp_path / "meters" / "m1.yaml"
    assert str(path) in changes.words
    (report,) = check_files([path])
    assert report.good, report
    assert shed.catalogue.meters["m1"].serial == "4711"
    assert next_meter_id(shed) == "m2"


def test_units_of_which_nothing_was_recorded_begin_anew_with_the_meter_and_others_go_on(shed):
    from benchapp.actions.entries.hazards import record_old_hazard

    take_in(shed, "S-001", "S-002")
    record_old_hazard(shed, "S-002", "perished-cord", by="AB", where="at the plug")
    changes = add_meter(shed, sheet(), by="AB")
    assert changes.units == {"S-001"}
    assert "Units in work go on" in changes.words
    assert set(shed.plan("S-001").meters) == {"m1"}
    assert set(shed.plan("S-002").meters) == set()


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"lines": ()}, "at least one line"),
        ({"meter": "My Meter"}, "small letters and digits"),
        ({"categories": ("CAT 3",)}, "no measurement category"),
        ({"due": date(2026, 1, 1)}, "not after its calibration"),
        ({"lines": (LINE, LINE)}, "must come before"),
    ],
)
def test_a_meter_that_cannot_be_is_refused_in_a_sentence_and_nothing_is_written(shed, tmp_path, said, words):
    with pytest.raises(Refused, match=words) as refused:
        add_meter(shed, sheet(**said), by="AB")
    assert "yaml" not in refused.value.sentence
    assert not (tmp_path / "meters").exists()


def test_a_label_that_is_taken_is_refused_and_so_is_nobody(shed):
    add_meter(shed, sheet(), by="AB")
    with pytest.raises(Refused, match="There is a meter m1 already"):
        add_meter(shed, sheet(), by="AB")
    with pytest.raises(Refused, match="initials"):
        add_meter(shed, sheet(meter="m2"), by=" ")


def test_a_calibration_is_due_a_year_later_on_the_last_of_february_too():
    assert a_year_after(date(2024, 2, 29)) == date(2025, 2, 28)
    assert a_year_after(date(2026, 4, 14)) == date(2027, 4, 14)
