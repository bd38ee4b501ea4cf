"""The one place that knows the program: a unit is taken in and walked by the calls that a person at the bench makes.

Handed out are pages as plain data (tests/hazards/page.py); handed in are the answers of a technician, as typed.
"""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.conditions import record_caution, record_meter, record_set_up
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.faults import record_event, record_fault, record_hazard
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import accept, set_disposition
from benchapp.actions.papers.printing import preview_tag
from benchapp.actions.workbench.bench import Bench
from benchapp.errors import BenchError
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.kinds.compute import ComputeAnswer
from benchapp.sequences.kinds.inspect import InspectAnswer, checkpoints_for
from benchapp.sequences.kinds.photo import PhotoAnswer
from benchapp.sequences.kinds.wait import WaitAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.sequences.planning.entries import Accepted, Hazard
from benchapp.sequences.planning.state import DueKind
from benchapp.workbook.record.photos import keep_photo
from tests.hazards.page import Checkpoint, Page
from tests.people import OPENED, staffed
from tests.photos import tiny_photo

METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
BY, SUPERVISOR = "AB", "CD"
LATEST_HOUR = 14
"""of the day: a unit that is begun later is begun the next morning, the bench opened anew"""
LOT = 1
"""units that are taken in at a time"""
READY = (DueKind.step, DueKind.way_back)


class Clock:
    """The time of the bench; it moves on when it is looked at, and when told."""

    def __init__(self) -> None:
        self.now = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)

    def __call__(self) -> str:
        self.now += timedelta(seconds=1)
        return self.now.isoformat(timespec="milliseconds").replace("+00:00", "Z")

    def pass_seconds(self, seconds: float) -> None:
        """Let that much time go by."""
        self.now += timedelta(seconds=seconds)

    def next_morning(self) -> None:
        """Go on to nine o'clock of the next day."""
        self.now = self.now.replace(hour=9, minute=0) + timedelta(days=1)


class Driver:
    """One unit of a design on one route, in a workbook of its own lot."""

    def __init__(self, bench: Bench, clock: Clock, mark: str) -> None:
        self._bench, self._clock, self._mark = bench, clock, mark
        self._held: dict[str, frozenset[str]] = {}

    def pass_seconds(self, seconds: float) -> None:
        """Let that much time go by on the bench's clock."""
        self._clock.pass_seconds(seconds)

    def page(self) -> Page:
        """What is due now."""
        state = self._bench.state(self._mark)
        due = state.due
        if due.kind in READY:
            return self._step_page(due.address, state)
        shut = tuple(one.words for one in due.missing)
        where = self._bench.plan(self._mark).by_address.get(due.address)
        supply = str(where.supply) if where else "none"
        meter = next((name for name, trouble in due.meters if not trouble), "")
        kind = due.kind.value if due.kind is not DueKind.meter or meter else "shut"
        return Page(
            kind=kind,
            address=due.address,
            words=due.words,
            do=due.items,
            answers=(meter,) if meter else (due.subject,),
            supply=supply,
            why_shut=shut,
        )

    def _step_page(self, address: str, state: Any) -> Page:
        plan = self._bench.plan(self._mark)
        step = plan.step(address)
        model = step.model
        says = [plan.stage(step.stage).title if step.stage in {one.id for one in plan.stages} else "", step.say]
        says.append(getattr(model, "why", "") or "")
        points = ()
        if step.kind == "inspect":
            points = tuple(
                Checkpoint(handle=one.check, words=one.say, may_not_apply=one.may_not_apply)
                for one in checkpoints_for(model, state.facts)
            )
        supply = str(step.supply)
        return Page(
            kind="reading" if step.function else step.kind,
            address=address,
            words=" ".join(says),
            checkpoints=points,
            do=tuple(model.do) if step.kind == "work" else (),
            answers=tuple(one.answer for one in model.answers) if step.kind == "ask" else (),
            number=(model.value or "") if step.kind == "ask" else "",
            function=str(step.function or ""),
            unit=step.unit,
            terminals=step.terminals,
            set_up=step.set_up,
            supply=supply,
            way_back=step.way_back,
            alarms=tuple(str(one) for one in Hazard) if supply != "none" else (),
            seconds=(step.lasts or 0.0) if step.kind == "wait" else 0.0,
            photos=model.at_least if step.kind == "photo" else 0,
        )

    # what a technician does; each returns the judgement or the sentence of a refusal, as shown

    def confirm(self, page: Page) -> str:
        """Agree to a caution, take a meter in hand, say that a set-up is made."""
        match page.kind:
            case "caution":
                return self._told(record_caution, page.answers[0])
            case "meter":
                self._hold(page.answers[0])
                return self._told(record_meter, page.answers[0])
        return self._told(record_set_up, page.address, page.do)

    def mark(self, page: Page, marks: Mapping[str, str]) -> str:
        """Answer the checkpoints: good, bad or not applicable, by their handles."""
        return self._answer(page, InspectAnswer(marks=dict(marks)))

    def tick(self, page: Page) -> str:
        """Do what the page asks, line by line."""
        return self._answer(page, WorkAnswer(done=page.do))

    def answer(self, page: Page, words: str) -> str:
        """Choose one of the answers offered, or type the number asked for."""
        return self._answer(page, AskAnswer(answer=words))

    def read(self, page: Page, typed: str) -> str:
        """Type what the meter shows."""
        return self._answer(page, ReadingAnswer(typed=typed, meter=self._meter_for(page)))

    def wait(self, page: Page) -> str:
        """Wait as long as the page says."""
        self._clock.pass_seconds(page.seconds)
        return self._answer(page, WaitAnswer(seconds=page.seconds))

    def photograph(self, page: Page) -> str:
        """Take the photos asked for."""
        kept = tuple(keep_photo(self._bench.workbook.store, tiny_photo(n), "image/png") for n in range(page.photos))
        return self._answer(page, PhotoAnswer(photos=kept))

    def compute(self, page: Page) -> str:
        """Let the program work it out."""
        return self._answer(page, ComputeAnswer())

    def alarm(self, what: str) -> str:
        """The large key: off at the wall, for smoke, smell, hum or heat."""
        return self._told(record_hazard, what)

    def tell_event(self, what: str) -> str:
        """A fall, damp or a wet cleaning."""
        return self._told(record_event, what)

    def record_fault(self, words: str) -> str:
        """Put down the fault that the page asks for, in the words that it offers or these."""
        due = self._bench.state(self._mark).due
        step = self._bench.plan(self._mark).by_address.get(due.address)
        offered = getattr(step.model, "fault", None) if step else None
        part, mode = (offered.part, offered.mode) if offered else ("works", "dead")
        told = offered.words if offered else words
        return self._told(record_fault, part=part, mode=mode, words=told, address=due.address)

    def accept(self, what: str, reason: str) -> None:
        """A supervisor accepts of this unit what is refused otherwise, in the words of what may be accepted."""
        accept(self._bench, self._mark, Accepted(what), supervisor=SUPERVISOR, reason=reason)

    def dispose(self, disposition: str) -> str:
        """Ask for that disposition; empty where it was recorded, else the sentence of the refusal."""
        try:
            set_disposition(self._bench, self._mark, disposition, by=BY, grade="A", price="£5")
        except BenchError as problem:
            return str(problem)
        return ""

    def not_tested(self) -> tuple[str, ...]:
        """What the tag says was not tested."""
        return tuple(preview_tag(self._bench, self._mark).not_tested)

    def cautions(self) -> tuple[str, ...]:
        """The cautions that the tag bears."""
        return tuple(preview_tag(self._bench, self._mark).cautions)

    def _hold(self, meter: str) -> None:
        self._held.pop(meter, None)
        known = self._bench.plan(self._mark).meters[meter].functions
        self._held[meter] = frozenset(str(one) for one in known)

    def _meter_for(self, page: Page) -> str:
        """The meter taken in hand last that has the function."""
        able = [meter for meter, functions in self._held.items() if page.function in functions]
        return able[-1] if able else ""

    def _answer(self, page: Page, given: Any) -> str:
        return self._told(record_answer, page.address, given)

    def _told(self, action: Any, *arguments: Any, **more: Any) -> str:
        try:
            return str(action(self._bench, self._mark, *arguments, by=BY, **more).words)
        except BenchError as problem:
            return f"refused: {problem}"


class Workplace:
    """A workbook at an opened bench, for any number of trials."""

    def __init__(self, folder: Path, *, region: str = "gb") -> None:
        self.clock = Clock()
        self._bench = Bench.create(folder / "trials.workbook", clock=self.clock, workshop=staffed(region=region))
        self._count = 1
        self._waiting: dict[tuple[Any, ...], list[str]] = {}
        self.open()

    def open(self) -> None:
        """The bench's check of the day: meters proved, leads nulled, RCD tried."""
        proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
        open_bench(self._bench, by=BY, meters=proofs, rcd_button_tested=True, **OPENED)

    def take_in(self, design: str, route: str, facts: Mapping[str, str | float | bool] | None = None) -> Driver:
        """A unit of that design on that route, with what is known of it at intake."""
        if self.clock.now.hour >= LATEST_HOUR:
            self.clock.next_morning()
            self.open()
        kind = (design, route, tuple(sorted((facts or {}).items())))
        if not self._waiting.get(kind):
            first = self._count
            self._count += LOT
            marks = [f"TB-{number:04d}" for number in range(first, first + LOT)]
            name = f"{design} {route} {marks[0]}"
            take_in_lot(self._bench, name=name, equipment=design, route=route, marks=marks, by=BY, facts=facts or None)
            self._waiting[kind] = marks
        return Driver(self._bench, self.clock, self._waiting[kind].pop(0))

    def close(self) -> None:
        """Close the workbook."""
        self._bench.close()
