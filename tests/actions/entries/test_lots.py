"""Lots grow, are split, and their units prove to be of another design: new entries that say why, and all verifies."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.intake import take_in_lot, take_in_units
from benchapp.actions.entries.lots import move_units
from benchapp.actions.entries.runs import retype_units
from benchapp.actions.papers.record_content import record_content
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import IntakeProblem, Refused
from benchapp.errors import BenchError
from benchapp.lots.listed_units import ListedUnit
from benchapp.workbook.model.problems import NotInWorkbook, TakenName
from tests.actions.exchange.benches import HALL, HUB, at, bring, copy, export, make, verified

UNKNOWN = "unknown-mains-item"


@pytest.fixture
def van(bench):
    """Three loudspeakers of the Tarnbeck hall."""
    marks = ("TB-001", "TB-002", "TB-003")
    take_in_lot(bench, name="Van", equipment="tb-ls1", route="small-check", marks=marks, by="AB")
    return bench


def one(mark, equipment="tb-ls1", route="small-check", **said):
    return ListedUnit(mark=mark, equipment=equipment, route=route, **said)


def moved(bench, mark):
    return [entry.content for entry in bench.entries(mark) if entry.kind == "moved"]


def test_units_come_into_a_lot_later_and_its_title_follows(van, path):
    changes = take_in_units(van, name="Van", units=[one("TB-004")], by="AB", more=True)
    assert changes.words.startswith("1 unit of Loudspeaker with two drivers has come into Van, in quarantine.")
    assert van.lot("Van").title == "Loudspeaker with two drivers"
    take_in_units(van, name="Van", units=[one("X-1", UNKNOWN, UNKNOWN)], by="KT", more=True)
    lot = van.lot("Van")
    assert (lot.units, lot.title, lot.equipment, lot.by) == (5, "several designs", "", "AB")
    assert len(van.lots()) == 1
    van.close()
    assert verify_workbook(path) == ()


def test_a_lot_that_is_not_there_and_a_mark_that_is_taken_take_nothing_in(van):
    with pytest.raises(NotInWorkbook):
        take_in_units(van, name="Attic", units=[one("TB-004")], by="AB", more=True)
    with pytest.raises(TakenName):
        take_in_units(van, name="Van", units=[one("TB-009"), one("TB-003")], by="AB", more=True)
    assert (len(van.units()), len(van.lots())) == (3, 1)


def test_units_are_put_into_a_new_lot_and_back_and_each_says_why(van, path):
    changes = move_units(van, ["TB-002", "TB-003"], to="Shelf nine", by="KT", why="they are the church's")
    assert changes.lots == {"Van", "Shelf nine"}
    assert [unit.mark for unit in van.units("Van")] == ["TB-001"]
    assert [unit.mark for unit in van.units("Shelf nine")] == ["TB-002", "TB-003"]
    assert {lot.name: lot.units for lot in van.lots()} == {"Van": 1, "Shelf nine": 2}
    assert [row.mark for row in van.board("Shelf nine").rows] == ["TB-002", "TB-003"]
    assert van.history("TB-002").lot == "Shelf nine"
    record_note(van, "TB-003", "a foot is missing", by="AB")
    move_units(van, ["TB-003"], to="Van", by="AB", why="a slip of the finger")
    assert [content.why for content in moved(van, "TB-003")] == ["they are the church's", "a slip of the finger"]
    facts = {fact.name: fact.value for fact in record_content(van, "TB-002").facts}
    assert facts["Put into another lot"].endswith("KT: they are the church's")
    van.close()
    assert verify_workbook(path) == ()


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"marks": ()}, "No unit is chosen"),
        ({"to": " "}, "Say which lot"),
        ({"why": " "}, "Say why"),
        ({"by": ""}, "initials"),
        ({"to": "Van"}, "TB-001: in Van already"),
        ({"marks": ("TB-001", "TB-009")}, "There is no unit called"),
        ({"to": "x" * 100_000}, "Shorten it"),
    ],
)
def test_a_move_that_cannot_be_moves_nothing_and_makes_no_lot(van, said, words):
    given = {"marks": ("TB-001",), "to": "Attic", "by": "AB", "why": "split"} | said
    with pytest.raises(BenchError, match=words):
        move_units(van, given.pop("marks"), **given)
    assert len(van.lots()) == 1
    assert van.lot("Van").units == 3


def test_units_prove_to_be_of_another_design_each_by_a_new_run_that_says_why(van, path):
    marks = ["TB-001", "TB-003"]
    changes = retype_units(van, marks, equipment=UNKNOWN, route=UNKNOWN, by="KT", why="a mains lead comes out")
    assert changes.units == set(marks)
    assert [unit.equipment for unit in van.units("Van")] == [UNKNOWN, "tb-ls1", UNKNOWN]
    run = van.entries("TB-001")[-1]
    assert (run.kind, run.content.why, run.by) == ("run", "a mains lead comes out", "KT")
    with pytest.raises(IntakeProblem, match="Say why"):
        retype_units(van, ["TB-002"], equipment=UNKNOWN, route=UNKNOWN, by="KT", why="")
    with pytest.raises(IntakeProblem, match="No unit is chosen"):
        retype_units(van, [], equipment=UNKNOWN, route=UNKNOWN, by="KT", why="x")
    van.close()
    assert verify_workbook(path) == ()


def test_of_a_unit_that_nobody_knows_the_class_is_a_fact_where_it_is_told(van):
    units = [
        one("X-1", UNKNOWN, UNKNOWN, known={"class": "Class I", "plug": "moulded", "serial number": "77"}),
        one("X-2", UNKNOWN, UNKNOWN, known={"class": "no idea"}, hazards=("perished-cord",)),
        one("TB-009", known={"class": "II"}),
    ]
    take_in_units(van, name="Odds", units=units, by="AB")
    assert van.state("X-1").facts["class"] == "I"
    assert van.state("X-2").facts["class"] == "unknown"
    assert [fault.old_hazard for fault in van.state("X-2").faults] == ["perished-cord"]
    assert van.state("TB-009").facts["class"] == "none"


def test_a_day_file_carries_what_moved_and_what_came_later(tmp_path):
    hub = make(tmp_path / "hub.workbook", at=HUB)
    hall = copy(hub, tmp_path / "hall.workbook")
    with at(hall, HALL) as bench:
        move_units(bench, ["TB-002"], to="Shelf nine", by="AB", why="sold as a pair")
        take_in_units(bench, name="Tarnbeck hall", units=[one("TB-050")], by="AB", more=True)
    bring(hub, export(hall, HALL, tmp_path / "hall.dayfile"))
    with at(hub, HUB) as bench:
        assert bench.unit("TB-002").lot == "Shelf nine"
        assert bench.unit("TB-050").lot == "Tarnbeck hall"
    assert verified(hub) == ()


def test_a_workbook_that_was_opened_again_shows_the_lots_as_they_are(van, path, clock):
    move_units(van, ["TB-002"], to="Shelf nine", by="KT", why="split")
    folders = van._folders
    van.close()
    with Bench.open(path, folders=folders, clock=clock) as again:
        assert again.unit("TB-002").lot == "Shelf nine"
        with pytest.raises(Refused, match="in Shelf nine already"):
            move_units(again, ["TB-002"], to="Shelf nine", by="KT", why="split")
