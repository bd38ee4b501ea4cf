"""A sticker says which unit it is stuck on: every unit gets one, and none of them is recorded as a tag."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.faults import record_hazard
from benchapp.actions.entries.intake import take_in_lot, take_in_units
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.entries.runs import retype_units
from benchapp.actions.papers.print_jobs import Paper, Wish, print_jobs, record_printed, sheets_for
from benchapp.actions.papers.printing import export_tags
from benchapp.actions.papers.stickers import export_stickers, sticker_contents
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import ExportProblem
from benchapp.desktop.scanning.codes import unit_of_code
from benchapp.lots.listed_units import ListedUnit
from tests.actions.driving import do_what_is_due
from tests.actions.exchange.benches import HUB, YARD, at, bring, export, make
from tests.paper.making import pages_text
from tests.people import staffed

MARKS = ("TB-001", "TB-002", "TB-003")
UNKNOWN = "unknown-mains-item"


@pytest.fixture
def shipped(path, clock):
    """A workbook on the shipped files, with no unit yet."""
    opened = Bench.create(path, clock=clock, workshop=staffed())
    yield opened
    opened.close()


def wish(**changes):
    return Wish(**({"paper": Paper.STICKERS, "units": MARKS, "sheet": "a4-3-by-8"} | changes))


@pytest.mark.parametrize("sheet", ["a4-3-by-8", "a4-4-by-10", "letter-3-by-10", "a4-2-by-4"])
def test_printed_stickers_are_the_bytes_of_the_exported_ones(bench, lot, tmp_path, sheet):
    (job,) = print_jobs(bench, wish(sheet=sheet, start_at=3, copies=2))
    out = tmp_path / "stickers.pdf"
    done = export_stickers(bench, out=out, units=MARKS, sheet=sheet, start_at=3, copies=2)
    assert job.pdf == out.read_bytes()
    assert job.title == "Stickers TB-001 to TB-003"
    assert done.words == f"6 stickers are in {out}."
    assert pages_text(job.pdf)[0].count("TB-002") == 2


@pytest.mark.parametrize("sheet", ["roll-62", "roll-29"])
def test_a_roll_is_cut_sticker_by_sticker(bench, lot, sheet):
    jobs = print_jobs(bench, wish(sheet=sheet, copies=3))
    assert [job.title for job in jobs] == [f"Sticker {mark}" for mark in MARKS]
    assert {(job.copies, round(job.width)) for job in jobs} == {(3, int(sheet.removeprefix("roll-")))}


def test_a_sticker_printed_is_no_tag_printed_and_leaves_no_trace(bench, lot, path, tmp_path):
    heads = [bench.unit(mark).record_hash for mark in MARKS]
    (job,) = print_jobs(bench, wish())
    changes = record_printed(bench, job, printer="Office", by="CD")
    export_stickers(bench, out=tmp_path / "stickers.pdf", units=MARKS)
    assert changes.words == "Stickers TB-001 to TB-003: printed on Office."
    assert changes.units == frozenset()
    assert bench.workbook.entries_of_kinds("tags-printed") == ()
    assert [bench.workbook.tags_printed(mark) for mark in MARKS] == [(), (), ()]
    assert [bench.unit(mark).record_hash for mark in MARKS] == heads
    assert verify_workbook(path) == ()


def test_a_sticker_says_the_same_whatever_the_record_says(bench, lot):
    (before,) = sticker_contents(bench, ["TB-001"])
    do_what_is_due(bench, "TB-001")
    set_disposition(bench, "TB-001", "keep", by="CD")
    record_hazard(bench, "TB-001", "smoke", by="AB")
    (after,) = sticker_contents(bench, ["TB-001"])
    assert (after.shelf_mark, after.title, after.lot, after.taken_in) == (
        before.shelf_mark,
        before.title,
        before.lot,
        before.taken_in,
    )
    for sticker in (before, after):
        assert unit_of_code(bench, sticker.code) == "TB-001"


def test_a_unit_on_hold_gets_its_sticker_and_the_scanner_finds_it(tmp_path):
    hub, yard = make(tmp_path / "hub.workbook"), make(tmp_path / "yard.workbook", marks=("TB-014",), at=YARD)
    with at(yard, YARD) as bench:
        do_what_is_due(bench, "TB-014")
    bring(hub, export(yard, YARD, tmp_path / "yard.dayfile"))
    with at(hub, HUB) as bench:
        held = [unit.mark for unit in bench.units() if unit.held]
        assert len(held) == 2
        (job,) = print_jobs(bench, wish(units=tuple(held)))
        (text,) = pages_text(job.pdf)
        for mark, sticker in zip(held, sticker_contents(bench, held), strict=True):
            assert mark in text
            assert unit_of_code(bench, sticker.code) == mark
        assert "hold" not in text.lower()


def test_a_unit_that_nobody_knows_yet_gets_its_sticker(shipped):
    take_in_lot(shipped, name="Van", equipment=UNKNOWN, route=UNKNOWN, marks=["X-1"], by="AB")
    (sticker,) = sticker_contents(shipped, ["X-1"])
    assert (sticker.title, sticker.lot) == ("Mains item of unknown design", "Van")
    (job,) = print_jobs(shipped, wish(units=("X-1",), sheet="roll-29"))
    assert "no test says this is safe" in pages_text(job.pdf)[0]


def test_a_unit_that_came_later_bears_its_own_day_and_one_of_another_design_that_design(shipped, clock):
    take_in_lot(shipped, name="Van", equipment="tb-ls1", route="loudspeaker", marks=["TB-001"], by="AB")
    clock.pass_days(28)
    more = ListedUnit(mark="TB-009", equipment="tb-ls1", route="loudspeaker")
    take_in_units(shipped, name="Van", units=[more], by="AB", more=True)
    first, later = sticker_contents(shipped, ["TB-001", "TB-009"])
    assert (first.taken_in, later.taken_in) == ("2026-05-04", "2026-06-01")
    retype_units(shipped, ["TB-009"], equipment=UNKNOWN, route=UNKNOWN, by="AB", why="no label")
    assert sticker_contents(shipped, ["TB-009"])[0].title == "Mains item of unknown design"


def test_stickers_never_take_the_place_of_tags(bench, lot, tmp_path):
    out = tmp_path / "paper.pdf"
    export_tags(bench, lot=lot, out=out)
    before = out.read_bytes()
    with pytest.raises(ExportProblem, match="no sticker sheet of this program"):
        export_stickers(bench, out=out, units=MARKS)
    assert out.read_bytes() == before


def test_the_usual_sheet_of_stickers_comes_first_and_tags_are_offered_no_label_too_small_for_them():
    stickers, tags = ([sheet.id for sheet in sheets_for(paper)] for paper in (Paper.STICKERS, Paper.TAGS))
    assert stickers[0] == "a4-3-by-8"
    assert set(stickers) - set(tags) == {"a4-3-by-8", "a4-4-by-10", "letter-3-by-10", "roll-29"}
