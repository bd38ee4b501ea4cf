"""Nobody looks and does faster than the entries let him: held keys and stray scans record nothing."""

from datetime import datetime, timedelta

import pytest

from benchapp.sequences.interlock.gate import refuse_in
from benchapp.sequences.interlock.least_times import LEAST_TIMES, seconds_left
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.entry_contents import CautionContent, NoteContent, SetUpContent
from tests.sequences.bench import TICK, Refused, Unit, plan_of


def go_on_after(unit, seconds):
    """Only so much passes between the last entry and the next."""
    unit.now = datetime.fromisoformat(unit.entries[-1].at) + timedelta(seconds=seconds) - TICK


def answer_well(unit, address):
    return unit.answer(address, unit.good(unit.plan.step(address)))


@pytest.mark.parametrize(
    ("address", "lines"),
    [
        ("visual-inspection.outside", None),
        ("plug-rewire.close", 2),
        ("make-safe.unplug", 2),
        ("first-power.plug-in", 3),
    ],
)
def test_every_line_takes_its_second(address, lines):
    unit = Unit(plan_of())
    unit.go_to("first-power.current" if address.startswith("make-safe") else address)
    if lines is None:
        lines = len(unit.good(unit.plan.step(address)).marks)
    go_on_after(unit, lines - 0.5)
    with pytest.raises(Refused, match="Take the time to look and do it: this can be recorded in 1 s"):
        answer_well(unit, address)
    go_on_after(unit, lines)
    answer_well(unit, address)


def test_a_live_question_is_answered_two_seconds_after_the_reading_at_the_earliest(unit):
    unit.go_to("first-power.signs")
    go_on_after(unit, 0.3)
    with pytest.raises(Refused, match="can be recorded in 2 s"):
        unit.answer("first-power.signs", AskAnswer(answer="none"))
    go_on_after(unit, LEAST_TIMES["live"])
    unit.answer("first-power.signs", AskAnswer(answer="none"))


def test_the_way_back_by_a_held_key_is_refused_at_each_step(unit):
    unit.go_to("first-power.signs")
    for address, least in (("make-safe.unplug", 2), ("make-safe.discharge", LEAST_TIMES["discharged"])):
        go_on_after(unit, 0.1)
        with pytest.raises(Refused, match=r"can be recorded in|cannot have been waited since"):
            answer_well(unit, address)
        go_on_after(unit, least)
        answer_well(unit, address)


def test_a_caution_a_set_up_and_a_live_probe_take_their_time(unit):
    unit.go_to("live-voltage.mains")
    unit.now = datetime.fromisoformat(unit.entries[-1].at)
    live = next(step for step in unit.plan.steps if step.address == "live-voltage.plug-in")
    for kind, content, address, least in (
        (EntryKind.caution, CautionContent(caution="mains-live"), "", LEAST_TIMES["caution"]),
        (EntryKind.set_up, SetUpContent(items=("a", "b", "c")), live.address, 3.0),
        (EntryKind.note, NoteContent(words="said"), "", 0.0),
    ):
        entry = unit.draft(kind, address, "KT", content)
        assert seconds_left(unit.state.evaluation, entry) == pytest.approx(least)


@pytest.mark.parametrize(
    ("kind", "said"), [(EntryKind.hazard, {"hazard": "smoke"}), (EntryKind.event, {"event": "fall"})]
)
def test_what_has_happened_is_recorded_at_once(unit, kind, said):
    unit.go_to("first-power.signs")
    go_on_after(unit, 0.0)
    unit.record(kind, **said)


def test_a_clock_set_back_shuts_nobody_out(unit):
    unit.go_to("visual-inspection.outside")
    unit.now -= timedelta(hours=1)
    assert seconds_left(unit.state.evaluation, unit.draft(EntryKind.set_up, "", "KT", SetUpContent(items=("a",)))) == 0


def test_the_first_entry_of_a_unit_waits_for_nothing():
    unit = Unit(plan_of())
    entry = unit.draft(EntryKind.caution, "", "KT", CautionContent(caution="mains-live"))
    assert refuse_in(unit.state, entry) is None
