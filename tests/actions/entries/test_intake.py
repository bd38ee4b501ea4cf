"""A lot is taken in whole, or not at all."""

import pytest

from benchapp.actions.entries.days import change_workshop
from benchapp.actions.entries.intake import shelf_marks, take_in_lot
from benchapp.actions.entries.runs import start_run
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import IntakeProblem
from benchapp.workbook.model.problems import TakenName
from tests.people import staffed

MARKS = ("TB-001", "TB-002")


def take_in(bench, **changed):
    asked = {"name": "Tarnbeck hall", "equipment": "tb-ls1", "route": "small-check", "marks": MARKS, "by": "AB"}
    return take_in_lot(bench, **(asked | changed))


@pytest.mark.parametrize(
    ("first", "count", "marks"),
    [
        ("TB-001", 3, ("TB-001", "TB-002", "TB-003")),
        ("TB-099", 2, ("TB-099", "TB-100")),
        ("shelf 9", 2, ("shelf 9", "shelf 10")),
        ("7", 1, ("7",)),
    ],
)
def test_shelf_marks_count_up_from_the_first(first, count, marks):
    assert shelf_marks(first, count) == marks


def test_shelf_marks_leave_out_those_taken():
    assert shelf_marks("TB-001", 3, taken={"TB-002"}) == ("TB-001", "TB-003", "TB-004")


@pytest.mark.parametrize(("first", "count"), [("TB", 2), ("", 1), ("TB-001", 0), ("TB-001", 2001)])
def test_marks_that_cannot_be_counted_are_refused(first, count):
    with pytest.raises(IntakeProblem):
        shelf_marks(first, count)


def test_a_lot_is_taken_in_quarantined_and_on_the_board(bench):
    changes = take_in(bench)
    assert changes.words == (
        "2 units of Loudspeaker with two drivers are taken in, in quarantine. Tie on their tags: do not plug in."
    )
    assert [unit.disposition for unit in bench.units("Tarnbeck hall")] == ["quarantine"] * 2
    board = bench.board("Tarnbeck hall")
    assert board.columns == (("look-over", "Look it over"), ("coils", "Voice coils"))
    assert [cell.word for cell in board.rows[0].cells] == ["not started", "not started"]
    assert bench.lot("Tarnbeck hall").units == 2


@pytest.mark.parametrize(
    ("changed", "problem", "sentence"),
    [
        ({"name": " "}, IntakeProblem, "The lot has no name"),
        ({"by": ""}, IntakeProblem, "Nobody's initials"),
        ({"marks": ()}, IntakeProblem, "needs a shelf mark for each"),
        ({"marks": ("TB-001", " ")}, IntakeProblem, "needs a shelf mark for each"),
        ({"marks": ("TB-001", "TB-001")}, TakenName, "There is a unit called 'TB-001' already"),
        ({"equipment": "tb-ls2"}, IntakeProblem, "There is no equipment 'tb-ls2'. Did you mean tb-"),
        ({"route": "small-chck"}, IntakeProblem, "There is no route 'small-chck'. Did you mean small-check?"),
        ({"facts": {}, "marks": ("TB-001",), "name": ""}, IntakeProblem, "The lot has no name"),
    ],
)
def test_a_lot_that_cannot_be_taken_in_leaves_nothing_behind(bench, changed, problem, sentence):
    with pytest.raises(problem) as caught:
        take_in(bench, **changed)
    assert sentence in caught.value.sentence
    assert bench.lots() == ()
    assert bench.units() == ()


def test_a_name_in_use_is_refused(bench):
    take_in(bench)
    with pytest.raises(TakenName, match="There is a lot called 'Tarnbeck hall' already"):
        take_in(bench, marks=("TB-003",))
    with pytest.raises(TakenName, match="There is a unit called 'TB-002' already"):
        take_in(bench, name="Another", marks=("TB-002",))


def test_facts_of_a_lot_are_recorded_for_each_unit(bench):
    take_in(bench, facts={"terminal colour": "other"})
    assert [bench.state(mark).facts["terminal colour"] for mark in MARKS] == ["other", "other"]


def test_a_run_pins_the_texts_as_they_stood(bench, path, clock, tmp_path):
    folder = tmp_path / "own"
    (folder / "sequences").mkdir(parents=True)
    small = bench._folders[0] / "sequences"
    for file in small.glob("*.yaml"):
        (folder / "sequences" / file.name).write_text(file.read_text())
    bench.close()
    own = Bench.open(path, folders=(folder,), clock=clock)
    take_in(own)
    changed = folder / "sequences" / "look-over.yaml"
    changed.write_text(changed.read_text().replace("Look it over", "Look at it well"))
    own.reread_files()
    assert own.plan("TB-001").stages[0].title == "Look it over"
    start_run(own, "TB-001", by="AB")
    assert own.plan("TB-001").stages[0].title == "Look at it well"
    assert own.plan("TB-002").stages[0].title == "Look it over"
    assert len(own.workbook.runs("TB-001")) == 2
    own.close()


def test_a_run_on_an_unknown_route_is_refused(bench):
    take_in(bench)
    with pytest.raises(IntakeProblem, match="There is no route 'other'"):
        start_run(bench, "TB-001", by="AB", route="other")


def test_units_of_a_lot_share_their_plan(bench):
    take_in(bench)
    assert bench.plan("TB-001") is bench.plan("TB-002")


def test_what_judges_stays_as_the_run_pinned_it_and_the_rest_follows_the_workshop(bench):
    take_in(bench)
    change_workshop(bench, staffed(region="us", dead_tests_last_days=7, guard_factor=0.5), by="SV", reason="anew")
    plan = bench.plan("TB-001")
    assert (plan.workshop.region, plan.workshop.guard_factor) == ("gb", 1.0)
    assert plan.workshop.dead_tests_last_days == 7
    assert bench.workshop.region == "us"


def test_a_design_for_other_mains_is_said_to_be_at_intake(path, clock):
    us = Bench.create(path, clock=clock, workshop=staffed(region="us"))
    changes = take_in(us, equipment="tb-mu1", route="mains-unit")
    us.close()
    assert "It is made for 240 V, and mains here is 120 V, by law up to 126 V." in changes.words
