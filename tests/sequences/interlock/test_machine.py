"""No sequence of answers, repairs, withdrawals, events or edited files opens a live step whose conditions do not hold,
and none leaves a live step for hands or ohms without the way back.

What is allowed is worked out by the oracle, from the text of the files and what people said, not by the engine.
"""

import json

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from benchapp.sequences.planning.contents import content_json, read_content
from tests.sequences.interlock.careless import (
    ADDRESSES,
    DESIGNS,
    EDITS,
    FACTS,
    HAPPENINGS,
    HOW,
    LIVE,
    OPENED,
    PARTS,
    READY,
    STARTS,
    EntryKind,
    Hands,
    beginnings,
)
from tests.sequences.interlock.watched import Entry, fold

HANDS = ("KT", "KT", "k.t.", "AB", "NH", "ZZ", "OR", "MH")
"""whose hands may be at work: of some who may do live work, of some who may not"""


class Bench(RuleBasedStateMachine):
    """One unit in careless hands, at random."""

    def __init__(self) -> None:
        super().__init__()
        self.hands = Hands()

    @initialize(
        start=st.sampled_from(STARTS),
        tester=st.sampled_from([True, True, True, False]),
        of=st.sampled_from([0, 0, *range(len(DESIGNS))]),
    )
    def begin(self, start: int, tester: bool, of: int) -> None:
        self.hands = Hands(start, tester=tester, of=of)

    @rule(name=st.sampled_from(sorted(EDITS)))
    def edit_files(self, name: str) -> None:
        self.hands.edit(name)

    @rule(steps=st.integers(1, 12))
    def go_on(self, steps: int) -> None:
        self.hands.go_on(steps)

    @rule(steps=st.integers(12, 30))
    def go_far(self, steps: int) -> None:
        self.hands.go_on(steps)

    @rule(address=st.sampled_from(ADDRESSES), how=st.sampled_from(HOW))
    def jump(self, address: str, how: str) -> None:
        self.hands.jump(address, how)

    @rule(address=st.sampled_from(LIVE))
    def jump_live(self, address: str) -> None:
        self.hands.jump(address)

    @precondition(lambda self: self.hands.unit.entries)
    @rule(data=st.data())
    def withdraw(self, data: st.DataObject) -> None:
        entry = data.draw(st.sampled_from(self.hands.unit.entries[-12:]))
        self.hands.do(lambda: self.hands.unit.withdraw(entry))
        self.hands.try_mains()

    @rule(part=st.sampled_from(PARTS), opened=st.sampled_from(OPENED))
    def mend(self, part: str, opened: tuple[str, ...]) -> None:
        self.hands.mend(part, opened)
        self.hands.try_mains()

    @rule(what=st.sampled_from(HAPPENINGS), by=st.sampled_from(["MH", "KT", " kt", "K.T.", "NH", "ZZ"]))
    def happen(self, what: tuple, by: str) -> None:
        self.hands.happen(what, by)
        self.hands.try_mains()

    @rule(looks=st.sampled_from([4, 4, 3]), back=st.booleans())
    def call_it_a_false_alarm(self, looks: int, back: bool) -> None:
        if back:
            self.hands.go_on(8)
        self.hands.call_it_a_false_alarm(looks)
        self.hands.try_mains()

    @rule(tester=st.booleans())
    def change_settings(self, tester: bool) -> None:
        self.hands.change_settings(tester=tester)
        self.hands.try_mains()

    @rule(facts=st.sampled_from(FACTS), by=st.sampled_from(["MH", "KT"]))
    def say(self, facts: dict, by: str) -> None:
        self.hands.happen((EntryKind.fact, "", {"facts": facts}), by)
        self.hands.try_mains()

    @rule(silent=st.booleans())
    def fall_silent(self, silent: bool) -> None:
        self.hands.fall_silent(silent=silent)

    @rule(who=st.sampled_from(HANDS))
    def hand_over(self, who: str) -> None:
        self.hands.hand_over(who)
        self.hands.try_mains()

    @rule()
    def sell(self) -> None:
        self.hands.happen((EntryKind.disposition, "", {"disposition": "for sale"}))

    @rule(meter=st.sampled_from(["tb-m1", "tb-m2", "tb-it1", "tb-pm1"]), proved=st.booleans(), accepted=st.booleans())
    def take_meter(self, meter: str, proved: bool, accepted: bool) -> None:
        self.hands.do(lambda: self.hands.unit.hold(meter, proved=proved, overdue_accepted=accepted))

    @rule(hours=st.sampled_from([1, 13, 15, 24, 24 * 29, 24 * 31, -1, -30]))
    def rest(self, hours: int) -> None:
        self.hands.unit.wait(hours=hours)

    @invariant()
    def fold_of_what_lies_on_disk_is_the_fold(self) -> None:
        unit = self.hands.unit
        again = [*unit.entries[:-1], *(as_read_back(entry) for entry in unit.entries[-1:])]
        assert fold(unit.plan, again, at=unit.at, by=unit.hand) == unit.state


def as_read_back(entry: Entry) -> Entry:
    """The entry as it comes from disk."""
    return Entry(
        number=entry.number,
        uuid=entry.uuid,
        kind=EntryKind(entry.kind.value),
        at=entry.at,
        by=entry.by,
        address=entry.address,
        content=read_content(entry.kind.value, json.loads(json.dumps(content_json(entry.content)))),
    )


TestBench = Bench.TestCase
TestBench.settings = settings(max_examples=settings().max_examples // 5, stateful_step_count=16, deadline=None)


# One slip each, from where mains may come: nothing is left to chance --------------------------------------------------


@pytest.mark.parametrize("start", [READY, READY + 1, READY + 2])
def test_whatever_happens_before_mains_the_conditions_hold(start):
    for what in HAPPENINGS:
        hands = Hands(start)
        hands.happen(what)
        hands.try_mains()


@pytest.mark.parametrize("facts", FACTS, ids=str)
def test_whatever_the_unit_turns_out_to_be_the_conditions_hold_after_the_retest(facts):
    for of in range(len(DESIGNS)):
        hands = Hands(READY, of=of)
        hands.happen((EntryKind.fact, "", {"facts": facts}))
        hands.go_on(50 if of == FACTS.index(facts) % 3 else 0)
        hands.try_mains()


@pytest.mark.parametrize("opened", OPENED)
def test_whatever_was_mended_before_mains_the_conditions_hold(opened):
    for part in PARTS:
        hands = Hands(READY)
        hands.mend(part, opened)
        hands.try_mains()


@pytest.mark.parametrize("start", STARTS)
def test_whatever_was_withdrawn_before_mains_the_conditions_hold(start):
    for of in range(len(DESIGNS)):
        for entry in beginnings(of)[start].entries:
            if entry.kind is EntryKind.answer:
                hands = Hands(start, of=of)
                hands.do(lambda entry=entry, hands=hands: hands.unit.withdraw(entry))
                hands.try_mains()


@pytest.mark.parametrize("name", sorted(EDITS))
def test_however_the_files_were_edited_the_conditions_hold(name):
    """By edited files from the beginning, and with files that were edited half way."""
    hands = Hands(0)
    hands.edit(name)
    hands.go_on(60)
    hands.try_mains()
    under_power = {"first-power", "live-voltage", "make-safe"} & {file for file, _, _ in EDITS[name]}
    for start in (READY, READY + 2) if under_power else (READY,):
        hands = Hands(start)
        hands.edit(name)
        hands.try_mains()
        hands.go_on(4)
        for address in (*LIVE, "continuity.primary", "visual-inspection.outside", "insulation.live-to-case"):
            hands.jump(address)
        hands.try_mains()


@pytest.mark.parametrize("how", HOW[2:])
def test_whichever_dead_step_is_taken_again_badly_the_conditions_hold(how):
    for address in ADDRESSES:
        hands = Hands(READY)
        hands.jump(address, how)
        hands.try_mains()


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("hours", [15, 24 * 31])
def test_however_long_it_lay_the_conditions_hold(start, hours):
    hands = Hands(start)
    hands.unit.wait(hours=hours)
    for address in (*LIVE, *ADDRESSES):
        hands.jump(address)


@pytest.mark.parametrize("start", STARTS)
def test_from_power_to_any_step_of_hands_leads_the_way_back(start):
    for address in ADDRESSES:
        hands = Hands(start)
        hands.jump(address)


def test_unproved_and_overdue_meters_take_no_live_reading():
    for address in ("first-power.current", "live-voltage.mains"):
        for said in ({"proved": False}, {"proved": True}):
            hands = Hands(READY + 1 if address.startswith("first") else READY + 2)
            hands.do(lambda hands=hands, said=said: hands.unit.hold("tb-pm1", **said))
            hands.do(lambda hands=hands, address=address: hands.unit.reads(address, "0.015 A"))
            hands.do(lambda hands=hands, address=address: hands.unit.reads(address, "240 V"))


def test_cautions_are_never_skipped():
    for start in (READY, READY + 1):
        hands = Hands(start)
        hands.unit.wait(hours=15)
        for address in LIVE:
            step = hands.unit.plan.step(address)
            hands.do(lambda hands=hands, step=step: hands.unit.answer(step.address, hands.unit.good(step)))


def test_live_steps_are_reached_by_the_machine():
    """From where every dead test is good careless hands do get to mains: there is something to find."""
    for of in range(len(DESIGNS)):
        for start in (READY, READY + 1):
            hands = Hands(start, of=of)
            hands.go_on(10)
            assert hands.unit.live_accepted
