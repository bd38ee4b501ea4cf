"""A unit at the bench for the tests of the engine: real files, real plans, a clock that only moves when told.

Entries pass the same gate as in the program; `answer` raises Refused with the gate's sentence.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any

from benchapp.judgement.statements.statements import opens_fault_search
from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.interlock.gate import refuse
from benchapp.sequences.interlock.live_conditions import acknowledged
from benchapp.sequences.interlock.set_up import is_set_up, items_due
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.kinds.inspect import InspectAnswer, checkpoints_for
from benchapp.sequences.kinds.photo import PhotoAnswer
from benchapp.sequences.kinds.wait import WaitAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.planning.catalogue import Catalogue
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.contents import read_content
from benchapp.sequences.planning.entries import Entry, EntryKind, StepAnswer
from benchapp.sequences.planning.entry_contents import FactContent, MeterContent
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Plan, PlannedStep, Workshop
from benchapp.sequences.planning.state import Due, DueKind, Evaluation
from tests.people import staffed
from tests.sequences.loaded import load_catalogue

START = datetime(2026, 6, 1, 9, 0, tzinfo=UTC)
TICK = timedelta(seconds=30)
"""what passes with each entry: no step asks for more, waits apart"""
METERS = {
    "resistance": "tb-m1",
    "continuity": "tb-it1",
    "earth continuity": "tb-it1",
    "insulation": "tb-it1",
    "AC voltage": "tb-m1",
    "DC voltage": "tb-m1",
    "mains voltage": "tb-pm1",
    "AC current": "tb-pm1",
    "protective conductor current": "tb-pm1",
    "touch current": "tb-pm1",
}
READS = {
    "continuity.leads-before": "0.1 ohm",
    "continuity.leads-after": "0.1 ohm",
    "continuity.earth": "0.05 ohm",
    "insulation.leads-before": "0.1 ohm",
    "unknown-tests.leads-before": "0.1 ohm",
    "unknown-tests.leads-after": "0.1 ohm",
    "unknown-tests.earth": "0.05 ohm",
    "insulation.leads-after": "0.1 ohm",
    "live-voltage.mains": "240.0 V",
    "first-power-by-resistance.mains": "240.0 V",
}
ASKS = {
    "visual-inspection.charge": "no, it has lain unplugged for a week or more",
    "visual-inspection.plug": "rewirable",
    "visual-inspection.selector": "240 V",
    "visual-inspection.inside-fuse": "yes",
    "visual-inspection.recall": "no list names it",
    "plug-rewire.inside": "it stays",
    "plug-rewire.fuse-found": "13 A",
    "plug-rewire.fuse-rating": "3 A",
    "insulation.dry": "dry",
    "first-power.limiter": "lamp",
    "first-power.lamp-watts": "100 W",
    "first-power.transformer-volts": "40 V",
    "first-power.lamp": "dark or dull red",
    "first-power.volts-across": "the same, within a tenth",
    "first-power.signs": "none",
    "first-power-by-resistance.signs": "none",
    "first-power-by-resistance.thermostat": "yes, it falls to nothing",
    "visual-inspection.unused-earth-core": "two cores, no earth core",
    "live-voltage.signs": "none",
    "function.works": "yes",
    "make-safe.discharge": "gone",
    "make-safe.prove-again": "yes",
    "clean.how": "all dry",
    "unknown-item.class": "no mark, so tested as class I",
    "unknown-item.cord-length": "2 m",
    "unknown-item.cord-area": "0.75 mm²",
    "unknown-tests.what-becomes": "no, spares or scrap",
    "listening.sound": "clean, both drivers",
}


SLIP = "the probe had slipped"
BACK = (
    "make-safe.unplug",
    "make-safe.discharge",
    "make-safe.low-to-touched/case",
    "make-safe.low-to-touched/outlet.1",
    "make-safe.low-outputs",
    "make-safe.low",
    "make-safe.prove-again",
)
"""the way back of the first shipped design, in its order"""


class Refused(Exception):
    """The gate's sentence."""


@cache
def catalogue() -> Catalogue:
    return load_catalogue()


@cache
def plan_of(route: str = "mains-unit", equipment: str = "tb-mu1", workshop: Workshop | None = None) -> Plan:
    return make_plan(catalogue(), route, equipment, workshop or staffed())


@dataclass
class Unit:
    plan: Plan
    entries: list[Entry] = field(default_factory=list)
    now: datetime = START
    proved: bool = True
    hand: str = "KT"
    """whose hands work on it"""
    _seen: tuple[Any, ...] = ()

    @property
    def at(self) -> str:
        return self.now.isoformat()

    def wait(self, **span: float) -> None:
        self.now += timedelta(**span)

    @property
    def state(self) -> UnitState:
        """Folded once for each moment."""
        key = (id(self.plan), len(self.entries), id(self.entries[-1]) if self.entries else 0, self.now, self.hand)
        if self._seen[:1] != (key,):
            self._seen = (key, fold(self.plan, self.entries, at=self.at, by=self.hand))
        return self._seen[1]

    @property
    def due(self) -> Due:
        return self.state.due

    def draft(self, kind: EntryKind, address: str, by: str, content: Content) -> Entry:
        number = len(self.entries) + 1
        return Entry(number=number, uuid=f"u{number}", kind=kind, at=self.at, by=by, address=address, content=content)

    def record(self, kind: EntryKind, address: str = "", by: str = "", /, **said: Any) -> Entry:
        # a fact comes as it was given, a number that JSON has not among them: the gate is asked all the same
        content = FactContent(**said) if kind is EntryKind.fact else read_content(kind, said)
        return self.record_content(kind, content, address, by)

    def record_content(self, kind: EntryKind, content: Content, address: str = "", by: str = "") -> Entry:
        self.now += TICK
        entry = self.draft(kind, address, by or self.hand, content)
        complaint = refuse(self.plan, self.entries, entry)
        if complaint:
            raise Refused(complaint)
        self.entries.append(entry)
        return entry

    def answer(self, address: str, given: StepAnswer) -> Entry:
        given = self.explained(address, given)
        tried = evaluate(self.plan, self.state, address, given, at=self.at)
        if tried.complaint:
            raise Refused(tried.complaint)
        return self.record_content(EntryKind.answer, tried.content, address)

    def explained(self, address: str, given: StepAnswer) -> StepAnswer:
        """The same answer, with why it is read again where the one before failed."""
        before = [one for one in self.entries if one.address == address and one.kind is EntryKind.answer]
        failed = bool(before) and opens_fault_search(before[-1].content.judgement)
        return replace(given, why=SLIP) if failed and isinstance(given, ReadingAnswer) else given

    def reads(self, address: str, text: str, meter: str = "") -> Entry:
        step = self.plan.step(address)
        return self.answer(address, ReadingAnswer(typed=text, meter=meter or METERS[step.function]))

    def hold(self, meter: str, *, proved: bool | None = None, **more: Any) -> Entry:
        proved = self.proved if proved is None else proved
        said = {"proved": self.at if proved else "", "lead_resistance": 0.0, **more}
        return self.record_content(EntryKind.meter, MeterContent(meter=meter, **said))

    def do(self, address: str) -> Entry:
        """Answer that step of the way back well, after its caution, meter, set-up and wait."""
        step = self.plan.step(address)
        self.prepare(step)
        return self.answer(address, self.good(step))

    def prepare(self, step: PlannedStep) -> None:
        state, stage = self.state, self.plan.stage(step.stage)
        for caution in stage.cautions if step.address != BACK[0] else ():
            if not acknowledged(replace(state.evaluation, by="KT"), caution):
                self.record(EntryKind.caution, caution=caution)
        if step.function and METERS[step.function] not in state.meters:
            self.hold(METERS[step.function])
        if not is_set_up(self.state.evaluation, step):
            self.record(EntryKind.set_up, step.address, items=list(items_due(self.state.evaluation, step)))
        self.wait(seconds=step.lasts or 0.0)

    def withdraw(self, entry: Entry) -> Entry:
        return self.record(EntryKind.withdrawal, number=entry.number, why="slip")

    def good(self, step: PlannedStep) -> StepAnswer:
        """What a sound unit gives at the step."""
        if step.kind == "inspect":
            return InspectAnswer(marks={one.check: "good" for one in checkpoints_for(step.model, self.state.facts)})
        if step.kind == "work":
            return WorkAnswer(done=step.model.do)
        if step.kind == "ask":
            return AskAnswer(answer=ASKS[step.address])
        if step.kind == "wait":
            return WaitAnswer(seconds=step.lasts)
        if step.kind == "photo":
            return PhotoAnswer(photos=tuple(f"{number:064x}" for number in range(step.model.at_least)))
        return ReadingAnswer(typed=self.good_reading(step), meter=self._meter_for(step))

    def _meter_for(self, step: PlannedStep) -> str:
        """The usual meter; on the way back any that is in hand and reads volts."""
        held = self.state.meters
        if not step.way_back or METERS[step.function] in held:
            return METERS[step.function]
        able = (name for name in held if step.function in self.plan.meters[name].functions)
        return next(able, METERS[step.function])

    def good_reading(self, step: PlannedStep) -> str:
        if step.address in READS:
            return READS[step.address]
        if step.way_back:
            return "0.0 V"
        band = step.band
        if step.function == "insulation":
            return ">200 Mohm"
        if step.function == "earth continuity":
            return "0.05 ohm"
        if step.function in ("protective conductor current", "touch current"):
            return "0.10 mA"
        if step.function == "AC current":
            tried = self.try_current(step)
            assert tried.band is not None, tried
            return f"{((tried.band.lower or 0.0) + (tried.band.upper or 0.0)) / 2:.3f} A"
        if step.function in ("AC voltage", "DC voltage"):
            tried = evaluate(self.plan, self.state, step.address, ReadingAnswer(typed="1 V", meter="tb-m1"), at=self.at)
            assert tried.band is not None, tried
            return f"{tried.band.expected:.2f} V"
        assert band is not None, step.address
        if band.upper is None:
            return "OL"
        low = band.lower or 0.0
        return f"{band.expected if band.expected is not None else (low + band.upper) / 2:.4g} ohm"

    def try_current(self, step: PlannedStep) -> Evaluation:
        """What the program would make of a current at that step; its band follows from what limits the current."""
        answer = ReadingAnswer(typed="1 A", meter="tb-pm1")
        return evaluate(self.plan, self.state, step.address, answer, at=self.at)

    def settle(self, due: Due) -> None:
        """Do what is due, as a careful technician with a sound unit does."""
        if due.kind is DueKind.caution:
            self.record(EntryKind.caution, caution=due.subject)
        elif due.kind is DueKind.meter:
            self.hold(METERS[due.subject])
        elif due.kind is DueKind.set_up:
            self.record(EntryKind.set_up, due.address, items=list(due.items))
        elif due.kind in (DueKind.step, DueKind.way_back):
            step = self.plan.step(due.address)
            if step.kind == "wait":
                self.wait(seconds=step.lasts)
            self.answer(due.address, self.good(step))
        else:
            raise AssertionError(due)

    def go(self, until: Callable[[Due], bool], *, limit: int = 300) -> Due:
        """Do what is due until something special is."""
        for _ in range(limit):
            due = self.due
            if until(due):
                return due
            self.settle(due)
        raise AssertionError(f"never came to it; due is {self.due}")

    def go_to(self, address: str) -> Due:
        """Do everything that is due before that step."""
        return self.go(lambda due: due.kind in (DueKind.step, DueKind.way_back) and due.address == address)

    def finish(self) -> Due:
        """Do everything there is to do."""
        return self.go(lambda due: due.kind not in SETTLED)


SETTLED = (DueKind.caution, DueKind.meter, DueKind.set_up, DueKind.step, DueKind.way_back)
