"""A unit is lent to one bench at a time: nobody else records on it until it is back."""

import pytest

from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.outcome import mark_anew
from benchapp.actions.entries.runs import start_run
from benchapp.actions.exchange.exporting import export_day_file
from benchapp.actions.exchange.holds import told_of_file
from benchapp.actions.workbench.problems import Refused
from benchapp.workbook.model.problems import Lent
from tests.actions.exchange.benches import HALL, HUB, YARD, at, bring, copy, export, make, verified
from tests.forging import Forger


@pytest.fixture
def lent(tmp_path):
    """A hub that lent TB-001 to the hall, and the hall's copy with the unit in it."""
    hub = make(tmp_path / "hub.workbook")
    hall = copy(hub, tmp_path / "hall.workbook")
    out = export(hub, HUB, tmp_path / "to-hall.dayfile", units=["TB-001"], lend_to=HALL.uuid)
    bring(hall, out, bench=HALL)
    return hub, hall


def note(path, bench, unit, words="a foot is missing"):
    with at(path, bench, hour=11) as opened:
        record_note(opened, unit, words, by="AB")


def test_a_lent_unit_is_worked_on_where_it_is_and_nowhere_else(lent):
    hub, hall = lent
    note(hall, HALL, "TB-001")
    with at(hub, HUB, hour=11) as bench:
        for refused in (
            lambda: record_note(bench, "TB-001", "x", by="AB"),
            lambda: start_run(bench, "TB-001", by="AB"),
            lambda: mark_anew(bench, "TB-001", "TB-009", by="AB"),
        ):
            with pytest.raises(Lent, match="TB-001 is lent to another bench"):
                refused()
        record_note(bench, "TB-002", "the others stay", by="AB")
    assert told_of_file(hub) == (f"TB-001 is lent to {HALL.uuid}: it alone may record on it.",)
    assert verified(hub) == ()
    assert verified(hall) == ()


def test_a_unit_that_comes_back_is_everybodys_again_and_no_record_forks(lent, tmp_path):
    hub, hall = lent
    note(hall, HALL, "TB-001")
    back = export(hall, HALL, tmp_path / "back.dayfile", units=["TB-001"], lend_to="Hub")
    with pytest.raises(Lent):
        note(hall, HALL, "TB-001")
    bring(hub, back)
    note(hub, HUB, "TB-001", "it is back")
    note(hub, YARD, "TB-001", "the other bench of the hub may too")
    assert told_of_file(hub) == ()
    assert verified(hub) == ()


def test_a_unit_lent_a_second_time_stays_with_the_bench_that_has_it(lent, tmp_path):
    hub, hall = lent
    bring(hub, export(hall, HALL, tmp_path / "back.dayfile", units=["TB-001"], lend_to="Hub"))
    bring(hall, export(hub, HUB, tmp_path / "again.dayfile", units=["TB-001"], lend_to="Hall"), bench=HALL)
    with at(hall, HALL) as bench:
        assert bench.unit("TB-001").lent_to == HALL.uuid
    note(hall, HALL, "TB-001")
    with pytest.raises(Lent):
        note(hub, HUB, "TB-001")


def test_what_cannot_be_lent_is_a_sentence_and_leaves_no_file(lent, tmp_path):
    hub, _ = lent
    out = tmp_path / "no.dayfile"
    with at(hub, HUB) as bench:
        with pytest.raises(Refused, match="No bench is known here as 'Barn'"):
            export_day_file(bench, out=out, units=["TB-002"], lend_to="Barn", by="AB")
        with pytest.raises(Refused, match="Say which units are lent"):
            export_day_file(bench, out=out, lend_to=HALL.uuid, by="AB")
        with pytest.raises(Lent):
            export_day_file(bench, out=out, units=["TB-001"], lend_to=YARD.uuid, by="AB")
        assert bench.unit("TB-002").lent_to == ""
    assert not out.exists()


def test_an_entry_of_another_bench_than_the_unit_was_lent_to_is_seen(lent):
    _, hall = lent
    note(hall, HALL, "TB-001")
    assert verified(hall) == ()
    forger = Forger(hall)
    forger.of("TB-001")[-1]["bench"] = YARD.uuid
    forger.write()
    said = [one.words for one in verified(hall)]
    assert any("made at another bench than the one that the unit was lent to" in words for words in said)
