"""No sequence of answers, repairs, withdrawals, events or edited files opens a live step whose conditions do not hold,
and none leaves a live step for hands or ohms without the way back.

The conditions are worked out by the oracle beside this file, not by the engine.
"""

import json
from functools import cache

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from benchapp.sequences import (
    AskGiven,
    Entry,
    EntryKind,
    InspectGiven,
    Plan,
    ReadingGiven,
    StepKind,
    Workshop,
    catalogue_from_texts,
    fold,
    make_plan,
)
from tests.sequences.bench import METERS, SETTLED, START, Refused, Unit, catalogue, plan_of
from tests.sequences.oracle import OUTPUT_SIDE, SUPPLY_SIDE, Oracle

EDITS = {
    "as shipped": (),
    "no visual role": (("visual-inspection", "    shows: [visual]\n", ""),),
    "no plug role": (("plug-rewire", "    shows: [plug]\n", ""),),
    "no polarity role": (("continuity", "[polarity]", "[]"), ("continuity", ", polarity]", "]")),
    "no earth role": (("continuity", "    shows: [earth continuity]\n", ""),),
    "no insulation role": (("insulation", "    shows: [insulation]\n", ""),),
    "no limited power role": (("first-power", "    shows: [limited power]\n", ""),),
    "no leads role": (
        ("continuity", "    shows: [leads proved]\n", ""),
        ("insulation", "    shows: [leads proved]\n", ""),
    ),
    "no order": tuple(
        (name, "needs before", "# needs before") for name in ("insulation", "first-power", "live-voltage")
    ),
    "no cautions": tuple((name, "cautions", "# cautions") for name in ("first-power", "live-voltage", "insulation")),
    "any earth will do": (("continuity", "accept: limit earth-continuity", "accept: at most 5 kohm"),),
    "any set-up will do": (("insulation", "    set up: [switch on, fuse in, L and N joined]\n", ""),),
    "full mains at once": (("first-power", "supply: limited", "supply: full"),),
    "limited for ever": (("live-voltage", "supply: full", "supply: limited"),),
    "live called dead": (("live-voltage", "supply: full", "supply: none"),),
    "no proof that it is low": (("make-safe", "    shows: [voltage low]\n", ""),),
    "no unplugging": (("make-safe", "    shows: [plug out]\n", ""),),
    "no way back": (("routes/mains-unit", "way back: make-safe\n", ""),),
}


@cache
def edited(name: str, *, tester: bool = True) -> Plan:
    """The plan of the shipped files after an edit, made without asking whether they still fit each other."""
    texts = dict(catalogue().texts)
    for file, old, new in EDITS[name]:
        path = f"sequences/{file}.yaml"
        assert old in texts[path], (name, old)
        texts[path] = texts[path].replace(old, new)
    return make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", Workshop(insulation_tester=tester))


@cache
def beginnings() -> tuple[tuple[Entry, ...], ...]:
    """Histories to begin from, so that the deep states are reached often."""
    found = [()]
    for address in ("continuity.leads-after", "first-power.plug-in", "first-power.current", "live-voltage.mains"):
        unit = Unit(plan_of())
        unit.go_to(address)
        found.append(tuple(unit.entries))
    unit = Unit(plan_of())
    unit.finish()
    return (*found, tuple(unit.entries))


ADDRESSES = tuple(plan_of().by_address)
LIVE = tuple(step.address for step in plan_of().steps if step.supply.value != "none")
PARTS = st.sampled_from(sorted(SUPPLY_SIDE | OUTPUT_SIDE) + ["cord", "plug", "case", "thingummy"])
OPENED = st.lists(st.sampled_from(["cord", "plug", "enclosure"]), max_size=2, unique=True)
FACTS = st.sampled_from([
    {"class": "I"},
    {"class": "II"},
    {"class": "unknown"},
    {"live chassis": "yes"},
    {"live chassis": "no"},
    {"cord cores": "2"},
    {"cord cores": "3"},
    {"plug": "moulded"},
    {"plug": "rewirable"},
])  # fmt: skip


HAPPENINGS = st.one_of(
    st.builds(lambda opened: (EntryKind.opened, {"opened": opened, "why": "to look"}), OPENED),
    st.builds(lambda event: (EntryKind.event, {"event": event}), st.sampled_from(["fall", "damp", "wet cleaning"])),
    st.builds(lambda hazard: (EntryKind.hazard, {"hazard": hazard}), st.sampled_from(["smoke", "smell", "hum", "heat"])),
    st.builds(
        lambda part, grave, address: (
            EntryKind.fault,
            {"part": part, "mode": "", "words": "bad", "grave": grave, "address": address},
        ),
        PARTS,
        st.sampled_from(["mend", "do not use"]),
        st.sampled_from(["", *ADDRESSES]),
    ),
    st.builds(lambda facts: (EntryKind.fact, {"facts": facts}), FACTS),
    st.builds(
        lambda word: (EntryKind.disposition, {"disposition": word}),
        st.sampled_from(["quarantine", "hold", "for sale", "scrap", "keep", "spares or repair"]),
    ),
    st.just((EntryKind.supervisor_opening, {"reason": "known design"})),
    st.just((EntryKind.plug_destroyed, {})),
)


class Bench(RuleBasedStateMachine):
    """One unit in careless hands."""

    def __init__(self) -> None:
        super().__init__()
        self.unit = Unit(plan_of())
        self.lives: set[int] = set()
        self.accepted = 0

    @initialize(
        start=st.integers(0, 5), tester=st.sampled_from([True, True, True, False]), name=st.sampled_from(sorted(EDITS))
    )
    def begin(self, start: int, tester: bool, name: str) -> None:
        plan = plan_of() if tester else edited("as shipped", tester=False)
        self.unit = Unit(plan, list(beginnings()[start]))
        if self.unit.entries:
            self.unit.now = START.fromisoformat(self.unit.entries[-1].at)
        self.lives = {e.number for e in self.unit.entries if e.content.get("supply", "none") != "none"}
        if start % 2:
            self.edit(name)

    def edit(self, name: str) -> None:
        self.unit.plan = edited(name, tester=self.unit.plan.workshop.insulation_tester)

    @rule(name=st.sampled_from(sorted(EDITS)))
    def edit_files(self, name: str) -> None:
        self.edit(name)

    def do(self, act) -> None:  # noqa: ANN001
        before = len(self.unit.entries)
        try:
            act()
        except Refused:
            assert len(self.unit.entries) == before
        for entry in self.unit.entries[before:]:
            self.judge(entry)

    def judge(self, entry: Entry) -> None:
        step = self.unit.plan.by_address.get(entry.address)
        live = step is not None and step.supply.value != "none"
        if entry.kind is EntryKind.answer:
            oracle = Oracle(self.unit.plan, self.unit.entries, entry, frozenset(self.lives))
            complaints = [*oracle.live_complaints()] if live else [*oracle.hand_complaints()]
            assert complaints == [], (entry.address, complaints)
            self.accepted += live
        if entry.kind is EntryKind.hazard or (live and entry.kind in (EntryKind.answer, EntryKind.set_up)):
            self.lives.add(entry.number)

    @rule(steps=st.integers(1, 12))
    def go_a_little(self, steps: int) -> None:
        """Do some of what is due, well."""
        self.go_on(steps)

    def go_on(self, steps: int) -> None:
        for _ in range(steps):
            due = self.unit.due
            if due.kind not in SETTLED or (due.kind.value == "way-back" and not due.address):
                return
            self.do(lambda due=due: self.unit.settle(due))

    @rule(steps=st.integers(12, 30))
    def go_far(self, steps: int) -> None:
        """Do much of what is due, well."""
        self.go_on(steps)

    @rule(address=st.sampled_from(ADDRESSES), how=st.sampled_from(["good", "bad", "OL", "zero"]))
    def jump(self, address: str, how: str) -> None:
        """Answer any step, whatever is due."""
        step = self.unit.plan.by_address.get(address)
        if step is None:
            return
        if step.set_up:
            self.do(lambda: self.unit.record(EntryKind.set_up, address, items=list(step.set_up)))
        self.do(lambda: self.unit.answer(address, self.answer_to(step, how)))

    @rule(address=st.sampled_from(LIVE))
    def jump_live(self, address: str) -> None:
        """Try a live step, with the meter in hand and the caution read, so that only what matters can refuse it."""
        step = self.unit.plan.by_address.get(address)
        if step is None:
            return
        self.do(lambda: self.unit.record(EntryKind.caution, caution="mains-live"))
        if step.function:
            self.do(lambda: self.unit.hold(METERS[step.function]))
        self.do(lambda: self.unit.answer(address, self.answer_to(step, "good")))

    def answer_to(self, step, how: str):  # noqa: ANN001, ANN202
        reading = step.kind in (StepKind.measure, StepKind.probe)
        if how == "good" or not (reading or step.kind in (StepKind.inspect, StepKind.ask)):
            return self.unit.good(step)
        if step.kind is StepKind.inspect:
            marks = dict(self.unit.good(step).marks)
            return InspectGiven(marks={**marks, next(iter(marks)): "bad"})
        if step.kind is StepKind.ask:
            return AskGiven(answer="13 A" if step.model.value else step.model.answers[-1].answer)
        unit = {"resistance": "ohm", "continuity": "ohm", "earth continuity": "ohm", "insulation": "Mohm"}
        bad = {"OL": "OL", "zero": f"0 {unit.get(step.function, 'V')}", "bad": f"17 {unit.get(step.function, 'V')}"}
        typed = bad[how].replace("V", "A") if "current" in step.function else bad[how]
        return ReadingGiven(typed=typed, meter=METERS[step.function])

    @precondition(lambda self: self.unit.entries)
    @rule(data=st.data())
    def withdraw(self, data) -> None:  # noqa: ANN001
        entry = data.draw(st.sampled_from(self.unit.entries[-12:]))
        self.do(lambda: self.unit.withdraw(entry))

    @rule(part=PARTS, opened=OPENED)
    def repair(self, part: str, opened: list[str]) -> None:
        faults = [one for one in self.unit.state.faults if one.status.value == "open"]
        number = faults[0].entry if faults else None
        part = (faults[0].part or part) if faults else part
        self.do(lambda: self.unit.record(EntryKind.repair, part=part, done="mended", opened=opened, fault=number))

    @rule(what=HAPPENINGS)
    def happen(self, what: tuple[EntryKind, dict[str, object]]) -> None:
        """One rule for all that is rare, so that it stays rarer than work."""
        kind, content = what
        address = str(content.get("address", ""))
        said = {name: value for name, value in content.items() if name != "address"}
        self.do(lambda: self.unit.record(kind, address, "MH", **said))

    @rule(meter=st.sampled_from(["tb-m1", "tb-m2", "tb-it1", "tb-pm1"]), proved=st.booleans(), accepted=st.booleans())
    def take_meter(self, meter: str, proved: bool, accepted: bool) -> None:
        self.do(lambda: self.unit.hold(meter, proved=proved, overdue_accepted=accepted))

    @rule(hours=st.sampled_from([1, 13, 15, 24, 24 * 29, 24 * 31]))
    def rest(self, hours: int) -> None:
        self.unit.wait(hours=hours)

    @invariant()
    def fold_of_what_lies_on_disk_is_the_fold(self) -> None:
        unit = self.unit
        kept = [
            Entry(
                number=e.number,
                uuid=e.uuid,
                kind=EntryKind(e.kind.value),
                at=e.at,
                by=e.by,
                address=e.address,
                content=json.loads(json.dumps(e.content)),
            )
            for e in unit.entries[-1:]
        ]
        again = [*unit.entries[:-1], *kept]
        assert fold(unit.plan, again, at=unit.at) == unit.state


TestBench = Bench.TestCase
TestBench.settings = settings(max_examples=60, stateful_step_count=25, deadline=None)


def complaints_of(plan: Plan, entries: list[Entry]) -> list[str]:
    lives: set[int] = set()
    found: list[str] = []
    for entry in entries:
        step = plan.by_address.get(entry.address)
        live = step is not None and step.supply.value != "none"
        if entry.kind is EntryKind.answer:
            oracle = Oracle(plan, entries, entry, frozenset(lives))
            found += oracle.live_complaints() if live else oracle.hand_complaints()
        if live and entry.kind is EntryKind.answer:
            lives.add(entry.number)
    return found


def test_oracle_has_nothing_against_a_careful_history(checked):
    assert complaints_of(checked.plan, checked.entries) == []


def test_oracle_misses_every_single_answer_that_was_needed(checked):
    """The check can fail: without any one of these entries it does."""
    needed = (
        "visual-inspection.outside",
        "plug-rewire.fuse-rating",
        "continuity.earth",
        "continuity.live-earth",
        "continuity.primary",
        "continuity.leads-after",
        "insulation.live-to-case",
        "insulation.leads-after",
        "first-power.current",
        "make-safe.low",
    )
    for address in needed:
        assert complaints_of(checked.plan, [e for e in checked.entries if e.address != address]), address
    without_caution = [e for e in checked.entries if e.content.get("caution") != "mains-live"]
    assert complaints_of(checked.plan, without_caution)


def test_live_steps_are_reached_by_the_machine():
    """From its beginnings the machine stands before open live steps, so that it has something to find."""
    opened = 0
    for entries in beginnings():
        unit = Unit(plan_of(), list(entries))
        unit.now = START.fromisoformat(entries[-1].at) if entries else START
        opened += any(unit.state.steps[address].status.value == "open" for address in LIVE)
    assert opened >= 2
