"""The kind `wait`: wait, at least this long."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, inf

from benchapp.errors import BenchError
from benchapp.files.forms import Id
from benchapp.files.locations import Complaint, Key
from benchapp.judgement.statements.statements import Judgement
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.quantities.entry import seconds_of
from benchapp.sequences.answering.answers import asked_at, complain, settled
from benchapp.sequences.checks.checked_kind import CheckedKind
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.interlock.least_times import LEAST_TIMES
from benchapp.sequences.language.steps import StepBase
from benchapp.sequences.language.vocabulary import Facts, Role
from benchapp.sequences.language.worked_cases import CaseLine
from benchapp.sequences.planning.answer_content import AnswerContent
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.paths import FROM_WIRING
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import OnTag, SingleStep
from benchapp.sequences.planning.state import Evaluation
from benchapp.wiring.expected.stored_charge import longest_wait, reservoirs
from benchapp.wiring.model.circuit import Circuit
from benchapp.words import say

DISCHARGE_AT_LEAST = LEAST_TIMES["discharged"]
"""Seconds of a wait that lets stored charge go; the voltage is proved low after it."""


DISCHARGE_AT_MOST = 300.0
"""Seconds after which the reading tells more than a longer wait (common practice, no source)"""


class WaitStep(StepBase):
    """Wait, at least this long."""

    wait: Id
    """the step's own id"""
    time: str
    """how long: 30 s, 10 min; or from wiring: until the design's capacitors have let their charge go"""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitAnswer(StepAnswer):
    """How long was waited, in seconds, and whether the wait was cut short."""

    seconds: float
    stopped: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitContent(AnswerContent):
    """How long was waited, in seconds."""

    seconds: float

    @property
    def words(self) -> str:
        return f"{self.seconds:g} s"

    def at(self, name: str) -> str:
        return f"the wait of {self.words} at {name}"

    @property
    def waited(self) -> float:
        return float(self.seconds)


def _is_long(step: WaitStep) -> str:
    if step.time == FROM_WIRING:
        return ""
    try:
        long = seconds_of(step.time) >= DISCHARGE_AT_LEAST
    except BenchError:
        long = False  # the text itself is complained about beside this
    return "" if long else f"it has to wait {DISCHARGE_AT_LEAST:g} s at least"


def _charged(circuit: Circuit) -> str:
    """Which capacitors the wait is for, and those that nothing lets go."""
    found = reservoirs(circuit)
    kept = [circuit.part_names[one.part] for one in found if one.seconds > DISCHARGE_AT_MOST]
    let_go = [circuit.part_names[one.part] for one in found if one.seconds <= DISCHARGE_AT_MOST]
    says = [say("It lets go of the charge of {listed}.", listed=" and ".join(let_go))] if let_go else []
    says += [say("No wait empties {listed}: read before hands go in.", listed=" and ".join(kept))] if kept else []
    return " ".join(says)


class Wait(CheckedKind):
    """Done when the whole span has passed."""

    name = "wait"
    place = 6
    model = WaitStep
    answer = WaitAnswer
    content = WaitContent
    by_hand = False
    on_tag = OnTag.nothing
    digest_keys = ("time",)
    shows = {Role.discharged: _is_long}

    def plan(self, circuit: Circuit, step: WaitStep) -> Iterator[SingleStep]:
        if step.time != FROM_WIRING:
            yield SingleStep(circuit=circuit, lasts=seconds_of(step.time))
            return
        lasts = min(max(longest_wait(circuit), DISCHARGE_AT_LEAST), DISCHARGE_AT_MOST)
        yield SingleStep(circuit=circuit, lasts=ceil(lasts), say=_charged(circuit))

    def evaluate(self, plan: Plan, state: AnsweringState, step: PlannedStep, given: WaitAnswer, at: str) -> Evaluation:
        needed = step.lasts or 0.0
        if not 0.0 <= given.seconds < inf:
            return complain(say("“{seconds:g} s” is no time that can have been waited.", seconds=given.seconds))
        if given.seconds < needed:
            left = show(needed - given.seconds, Kind.time)
            return complain("The wait was cut short: start it again." if given.stopped else f"{left} to go.")
        return settled(
            WaitContent(
                **asked_at(step),
                judgement=Judgement.passed,
                sentence=f"Waited {show(given.seconds, Kind.time)}.",
                seconds=given.seconds,
                note=given.note,
            )
        )

    def answer_from(self, content: WaitContent) -> WaitAnswer:
        return WaitAnswer(seconds=content.waited, note=content.note)

    def check(self, walk: Walk, key: Key, step: WaitStep) -> Iterator[Complaint]:
        if step.time == FROM_WIRING:
            return
        try:
            seconds_of(step.time)
        except BenchError:
            expected = f"a time like 30 s or 10 min, or {FROM_WIRING}: until the design's capacitors are empty"
            yield walk.complain((*key, "time"), f"“{step.time}” is no time to wait", expected)

    def case_answer(self, step: WaitStep, line: CaseLine, facts: Facts) -> WaitAnswer:
        needed = DISCHARGE_AT_MOST if step.time == FROM_WIRING else seconds_of(step.time)
        waited = seconds_of(line.reads) if line.reads else needed
        return WaitAnswer(seconds=waited, stopped=waited < needed)
