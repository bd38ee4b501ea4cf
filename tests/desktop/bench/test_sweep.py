"""One stage across a lot in the window: chosen by key, unit after unit, held ones left out, a shared fault told."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.workbench.sweeping import shared_in_sweep, stage_works
from benchapp.desktop.bench.pause_dialog import PauseDialog
from benchapp.desktop.bench.sweep import Sweep, ended_words
from benchapp.desktop.lots.stage_dialog import StageDialog
from benchapp.lots.sweeping import StageWork
from benchapp.sequences.kinds.ask import AskAnswer
from demo.playing import Player
from demo.scenario import LotOfTheDay, read_day
from demo.simulated_bench import SimulatedUnit
from tests.actions.driving import do_what_is_due
from tests.desktop.windows import prove_meters, take_in, window_on

FUSE = "plug-rewire.fuse-rating"


@pytest.fixture
def sweeping(look, bench):
    take_in(bench, count=3)
    prove_meters(bench)
    with window_on(look, bench) as technician:
        yield technician


@pytest.fixture
def third_of_three(look, bench):
    """At the fuse of TB-003 in a sweep of the plug; TB-001 and TB-002 had a wrong one, TB-004 waits."""
    take_in(bench, count=4)
    prove_meters(bench)
    ends = {"TB-001": "", "TB-002": "", "TB-003": FUSE, "TB-004": "plug-rewire.plug-outside"}
    for mark, last in ends.items():
        do_what_is_due(bench, mark, until=last, answers={FUSE: AskAnswer(answer="13 A")})
    with window_on(look, bench) as technician:
        sweep(technician, "2")
        assert technician.address == FUSE
        yield technician


def sweep(technician, key):
    """Take a stage by its digit."""
    technician.strike("Ctrl+J")
    technician.strike(key)


def answer_all(technician):
    """Answer what is due until the sweep ends; returns the units in the order in which they came."""
    window, marks, player = technician.window, [], Player(technician, lambda _page: None)
    lot = LotOfTheDay(lot="Shelf nine", equipment="tb-mu1", first="TB-001", count=3)
    while window.stack.currentWidget() is window.bench:
        if window.bench.mark not in marks:
            marks.append(window.bench.mark)
            unit = SimulatedUnit(read_day(), lot, window.bench.mark)
        player.do_what_is_due(unit)
    return marks


def test_each_unit_that_waits_at_the_stage_comes_to_the_bench_but_for_a_held_one(sweeping):
    bench = sweeping.window.context.bench
    set_disposition(bench, "TB-002", disposition="hold", note="its papers are asked for", by="AB")
    sweep(sweeping, "1")
    assert answer_all(sweeping) == ["TB-001", "TB-003"]
    assert sweeping.said.startswith("Visual inspection is done as far as it goes in Shelf nine.")
    assert sweeping.said.endswith("Left out: TB-002 (on hold).")


def test_a_stage_whose_units_have_another_to_come_first_says_so(sweeping):
    sweep(sweeping, "2")
    dialog = sweeping.window.findChild(StageDialog)
    assert dialog.complaint.text() == "No unit of Shelf nine is ready for Mains plug: Visual inspection comes first."
    assert dialog.stages.rows()[1].words == "Mains plug: none ready; Visual inspection first: 3"
    sweeping.strike("Esc")
    assert not sweeping.window.bench.mark


def test_the_same_fault_in_three_of_five_pauses_the_sweep_once(third_of_three):
    third_of_three.retype("13 A")
    third_of_three.strike("Enter")
    words = third_of_three.reads("pause-words")
    assert words.startswith("The fuse in the plug, wrong rating: found in TB-001, TB-002 and TB-003 of the last")
    third_of_three.strike("Alt+G")
    assert third_of_three.window.bench.mark == "TB-004"
    third_of_three.window.bench.navigation.follow("next")
    third_of_three.settle()
    assert third_of_three.window.findChild(PauseDialog) is None


def test_enter_at_the_pause_leads_to_the_lots(third_of_three):
    third_of_three.retype("13 A")
    third_of_three.strike("Enter")
    third_of_three.strike("Enter")
    assert third_of_three.window.stack.currentWidget() is third_of_three.window.lots
    assert third_of_three.window.bench.navigation.sweep_title == ""
    bench = third_of_three.window.context.bench
    assert shared_in_sweep(bench, "Shelf nine", "plug-rewire").units == ("TB-001", "TB-002", "TB-003")
    assert shared_in_sweep(bench, "Shelf nine", "visual-inspection") is None


def test_a_sweep_that_takes_no_ready_unit_says_why():
    sweep = Sweep(lot="Shelf nine", stage="plug", title="Mains plug")
    work = StageWork(stage="plug", title="Mains plug", ready=("TB-001",))
    words = ended_words(sweep, work, "TB-001: Mains stays away from it.")
    assert words == "No unit of Shelf nine is taken for Mains plug now. TB-001: Mains stays away from it."
    assert ended_words(sweep, work) == "Mains plug is done as far as it goes in Shelf nine."


def test_a_stage_is_taken_by_mouse(sweeping):
    sweeping.window.lots.sweep.click()
    sweeping.settle()
    dialog = sweeping.window.findChild(StageDialog)
    room = dialog.stages.visualRect(dialog.stages.model().index(0, 0))
    row = QPoint(room.right() - 30, room.center().y())
    for _click in ("takes the row in hand", "takes the stage"):
        QTest.mouseClick(dialog.stages.viewport(), Qt.MouseButton.LeftButton, pos=row)
        sweeping.settle()
    assert sweeping.window.bench.mark == "TB-001"


def test_what_is_ready_follows_from_what_each_stage_needs(bench):
    take_in(bench, count=2)
    works = {work.stage: work for work in stage_works(bench, "Shelf nine")}
    assert works["visual-inspection"].ready == ("TB-001", "TB-002")
    assert works["continuity"].first == "Visual inspection"
    assert works["live-voltage"].ready == ()
