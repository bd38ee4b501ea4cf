"""A clean unit from a new lot to its exported tag, by keys alone."""

from pypdf import PdfReader

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.sequences.planning.answer_content import is_reading
from tests.desktop.windows import window_on
from tests.journeys.shift import Shift


def test_a_clean_unit_goes_from_new_lot_to_exported_tag(look, bench, path, tmp_path):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-002")
        shift.take_in(count=3)
        assert technician.reads("unit") == "TB-002"

        shift.work_until_page("outcome")
        assert {str(stage.status) for stage in technician.view.state.stages} == {"done"}
        assert technician.reads("outcome-say").startswith("Everything is done.")

        technician.tab_to("outcome-grade")
        technician.type("B, worn label")
        technician.tab_to("outcome-price")
        technician.type("12.00")
        technician.strike("Enter", "1")
        assert technician.complaint == ""

        technician.strike("Ctrl+E")
        technician.retype(str(tmp_path / "tag.pdf"))
        technician.strike("Enter")

        technician.strike("F2")
        board = technician.window.lots.board.board
        row = board.row_of("TB-002")
        assert board.index(row, 1).data() == "for sale"
        assert board.index(row - 1, 1).data() == "not tested"

    text = PdfReader(tmp_path / "tag.pdf").pages[0].extract_text()
    for words in ("TB-002", "Mains unit, two AC outputs", "For sale", "12.00", "AB", "3 A", "NOT tested"):
        assert words in text
    assert verify_workbook(path) == ()


def test_the_record_of_a_clean_unit_has_every_reading_with_its_meter_and_its_band(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until_page("outcome")
        readings = [entry for entry in shift.entries() if is_reading(entry) and entry.content.meter]
        assert len(readings) >= 18
        for entry in readings:
            assert entry.by == "AB"
            assert entry.content.judgement == "pass"
            assert entry.content.rules_version
            assert entry.content.lower is not None or entry.content.upper is not None
            assert entry.content.derivation


def test_live_work_begins_limited_and_each_time_ends_with_the_way_back(look, bench):
    with window_on(look, bench, initials="") as technician:
        shift = Shift(technician, "TB-001")
        shift.take_in(count=1)
        shift.work_until_page("outcome")
        order = [entry.address.partition(".")[0] for entry in shift.entries() if entry.kind == "answer"]
        stages = [name for name, before in zip(order, ["", *order], strict=False) if name != before]
        assert stages.index("first-power") < stages.index("live-voltage")
        assert stages[stages.index("live-voltage") + 1] == "make-safe"
        assert "make-safe" in stages[: stages.index("first-power")], "the insulation test leaves charge behind"
