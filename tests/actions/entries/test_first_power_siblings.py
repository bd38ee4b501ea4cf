"""What sound units of the lot drew through the same lamp narrows the band of the next one, and is kept with it."""

from datetime import timedelta

import pytest

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.conditions import record_caution, record_set_up
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot, take_in_units
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.sound_currents import sound_currents
from benchapp.lots.listed_units import ListedUnit
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.interlock.set_up import items_due
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.driving import do_what_is_due, good_answer
from tests.people import OPENED, staffed

CURRENT, LAMP = "first-power.current", "first-power.lamp-watts"
METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
MARKS = ("TB-001", "TB-002", "TB-003", "TB-004")


@pytest.fixture
def shipped(path, clock):
    """A bench on what is shipped, opened with all meters proved and nulled."""
    bench = Bench.create(path, clock=clock, workshop=staffed())
    proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    yield bench
    bench.close()


def go_to_current(bench, unit: str) -> None:
    do_what_is_due(bench, unit, until=CURRENT, answers={LAMP: AskAnswer(answer="100 W")})


def read(bench, unit: str, typed: str):
    go_to_current(bench, unit)
    given = ReadingAnswer(typed=typed, meter="tb-pm1")
    record_answer(bench, unit, CURRENT, given, by="AB")
    content = bench.state(unit).readings[CURRENT].content
    for caution in bench.plan(unit).cautions:
        record_caution(bench, unit, caution, by="AB")
    for step in bench.plan(unit).way_back:  # one unit at a time is under power
        bench.clock.now += timedelta(seconds=step.lasts or 0)
        if items := items_due(bench.state(unit).evaluation, step):
            record_set_up(bench, unit, step.address, items, by="AB")
        record_answer(bench, unit, step.address, good_answer(bench, unit, step.address), by="AB")
    return content


def test_three_sound_siblings_narrow_the_band_of_the_fourth(shipped):
    take_in_lot(shipped, name="Loft", equipment="tb-mu1", route="mains-unit", marks=MARKS, by="AB")
    wide = read(shipped, "TB-001", "9 mA").upper
    for unit in MARKS[1:3]:
        assert read(shipped, unit, "9 mA").upper == wide
    go_to_current(shipped, "TB-004")
    assert sound_currents(shipped, "TB-004", CURRENT) == (0.009, 0.009, 0.009)
    content = read(shipped, "TB-004", "20 mA")
    assert content.siblings == (0.009, 0.009, 0.009)
    assert content.upper is not None
    assert content.upper < 0.02 < wide
    assert str(content.judgement) == "fail"


def test_units_of_another_design_in_a_mixed_lot_are_no_siblings(shipped):
    """A recorder that came in one van with small mains units would be called faulty for drawing more than they do."""
    take_in_lot(shipped, name="Van", equipment="tb-mu1", route="mains-unit", marks=MARKS[:3], by="AB")
    other = ListedUnit(line=1, mark="TB-301", equipment="tb-mu2", route="mains-unit", known={})
    take_in_units(shipped, name="Van", units=[other], by="AB", more=True)
    for unit in MARKS[:3]:
        read(shipped, unit, "9 mA")
    go_to_current(shipped, "TB-301")
    assert shipped.siblings("TB-301", CURRENT) == ()
    assert sound_currents(shipped, "TB-301", CURRENT) == ()
    assert len(shipped.siblings(MARKS[0], CURRENT)) == 2
