"""The kind `ask`: put a question; an answer is chosen, or a value is typed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING, Any, Literal

from benchapp.errors import BenchError
from benchapp.files.forms import Id
from benchapp.files.locations import Complaint, Key
from benchapp.files.models import FileModel, made_of
from benchapp.judgement.limits.mains_fit import VoltageFit
from benchapp.judgement.statements.statements import Judgement
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading
from benchapp.quantities.quantity import Bound
from benchapp.quantities.units import unit_named
from benchapp.sequences.answering.answers import asked_at, complain, fault_content, settled, with_sentence
from benchapp.sequences.answering.judged import Measurement, judge
from benchapp.sequences.checks.checked_kind import CheckedKind
from benchapp.sequences.checks.sequence_context import Walk
from benchapp.sequences.checks.written_values import check_accept, check_fault, names_accepted
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.field_types import Severity, Words
from benchapp.sequences.language.steps import NamedFault, StepBase
from benchapp.sequences.language.vocabulary import Facts, FactValue, Role
from benchapp.sequences.language.worked_cases import CaseLine
from benchapp.sequences.planning.answer_content import AnswerContent, ReadingContent
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.entry_contents import FaultContent
from benchapp.sequences.planning.fact_rules import doubts_about
from benchapp.sequences.planning.limiters import (
    FROM_LIMITER_RULES,
    LAMP_WATTS,
    LIMITER_VOLTS,
    refuse_lamp,
    refuse_volts,
)
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import OnTag, one_step
from benchapp.sequences.planning.role_eligibility import BY_HAND
from benchapp.sequences.planning.state import Evaluation
from benchapp.wiring.assembly.selecting import supply_fit
from benchapp.wiring.assembly.unit import SELECTOR, positions_of
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.limits.profiles import LimitProfile


class AnswerOption(FileModel):
    """One answer of an `ask` step: its words, what it is worth, the fact or fault it settles."""

    answer: Words
    """the answer in the words of whoever gives it"""
    judgement: Literal["pass", "fail"] = "pass"
    """what the answer is worth"""
    value: str | float | bool | None = None
    """what the step's fact becomes; the answer's own words when not given"""
    event: Literal["fall", "damp", "wet cleaning", "under power lately"] | None = None
    """what has befallen the unit where this is the answer, as if it were recorded: its dead tests are old then; after
    power lately the way back is gone first"""
    fault: NamedFault | None = None
    """what this answer says is broken"""
    grave: Severity = "mend"
    """what the fault asks for"""


class AskStep(StepBase):
    """Put a question; answers are given, or a value is typed where `value` says of what kind."""

    ask: Id
    """the step's own id"""
    answers: tuple[AnswerOption, ...] = ()
    """what can be answered"""
    answers_from: Literal["", "selector"] = ""
    """where more answers come from: selector, the positions of the design's voltage selector, held against the mains"""
    fact: str = ""
    """the fact of the unit that the answer settles"""
    value: str = ""
    """unit of the value to type: "A", "m", "mm²"; with `accept` it is judged"""
    accept: str = ""
    """what a typed value is held against, from fuse rules, or from limiter rules (fact: limiter lamp, limiter volts)"""
    fault: NamedFault | None = None
    """what a failed answer says is broken, where the answer itself does not say it"""
    grave: Severity = "mend"
    """what the fault asks for"""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskAnswer(StepAnswer):
    """One of the step's answers, in its own words, or what was typed where the step asks for a value."""

    answer: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenContent(AnswerContent):
    """One of the step's answers, in its own words."""

    answer: str

    @property
    def words(self) -> str:
        return self.answer

    @property
    def compared(self) -> str:
        return self.answer


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldContent(ReadingContent):
    """A value that was read off and typed, and the same with its unit."""

    answer: str

    @property
    def compared(self) -> str:
        return self.answer


def _selector(step: AskStep) -> str:
    """A setting is shown by the position that was seen, which is held against this place's mains."""
    if step.answers_from != "selector" or step.fact != SELECTOR:
        return f"its answers are the selector's positions: answers from: selector, fact: {SELECTOR}"
    if "note" in (step.grave, *(one.grave for one in step.answers)):
        return "an answer that fails is more than a note"
    return "" if all(one.judgement == "fail" for one in step.answers) else "an answer beside the positions passes"


def _asked(step: AskStep) -> str:
    """A question shows something only when one of its answers keeps mains away."""
    if step.value:
        loose = "" if step.accept else "what is typed there is held against something: accept"
        return "what is wrong there is more than a note" if step.grave == "note" else loose
    bad = [answer for answer in step.answers if answer.judgement == "fail"]
    if not bad:
        return "none of its answers fails"
    return "an answer that fails is more than a note" if any(answer.grave == "note" for answer in bad) else ""


class Ask(CheckedKind):
    """One of the step's answers, or a value that is held against what its author accepts."""

    name = "ask"
    place = 5
    model = AskStep
    answer = AskAnswer
    content = ChosenContent
    by_hand = True
    on_tag = OnTag.question
    digest_keys = ("answers", "fact", "value", "grave")
    shows = {**dict.fromkeys(BY_HAND, _asked), Role.selector: _selector}
    gives_answer = True
    plan = one_step

    def at_place(self, step: AskStep, circuit: Circuit, profile: "LimitProfile") -> AskStep:
        if not step.answers_from:
            return step
        return step.model_copy(update={"answers": (*_positions(step, circuit, profile), *step.answers)})

    def settles(self, step: AskStep) -> str:
        return step.fact

    def evaluate(self, plan: Plan, state: AnsweringState, step: PlannedStep, given: AskAnswer, at: str) -> Evaluation:
        assert isinstance(step.model, AskStep)
        typed = bool(step.model.value)
        tried = _try_value(plan, state, step, step.model, given, at) if typed else _try_answer(step, step.model, given)
        facts = tried.content.facts if tried.content is not None else {}
        return replace(tried, questions=(*tried.questions, *doubts_about(plan, facts), *_setting_doubts(plan, facts)))

    def content_of(self, said: Mapping[str, Any]) -> type[AnswerContent]:
        return ToldContent if "value" in said else ChosenContent

    def answer_from(self, content: ChosenContent | ToldContent) -> AskAnswer:
        typed = content.typed if isinstance(content, ToldContent) else content.answer
        return AskAnswer(answer=typed, note=content.note)

    def check(self, walk: Walk, key: Key, step: AskStep) -> Iterator[Complaint]:
        if bool(step.answers or step.answers_from) is bool(step.value):
            yield walk.complain(
                key, "an ask step has either answers or the unit of a value to type", "answers or value"
            )
        for number, answer in enumerate(step.answers):
            yield from check_fault(walk, (*key, "answers", number), answer.fault)
        if not step.value:
            return
        try:
            kind = unit_named(step.value).kind
        except BenchError as problem:
            yield walk.complain((*key, "value"), problem.sentence)
            return
        if step.accept == FROM_LIMITER_RULES:
            yield from _check_limiter(walk, key, step, kind)
        else:
            yield from check_accept(walk, (*key, "accept"), step.accept, kind, step.value)

    def case_answer(self, step: AskStep, line: CaseLine, facts: Facts) -> AskAnswer:
        return AskAnswer(answer=line.answer)

    def reading_kind(self, step: AskStep) -> Kind | None:
        return unit_named(step.value).kind if step.value else None

    def names_used(self, step: AskStep) -> Mapping[str, frozenset[str]]:
        return {"accept": names_accepted(step.accept)}

    def answers(self, step: AskStep) -> frozenset[str] | None:
        return None if step.value or step.answers_from else frozenset(one.answer for one in step.answers)

    def fact_values(self, step: AskStep) -> frozenset[FactValue] | None:
        return None if step.value else frozenset(one.answer if one.value is None else one.value for one in step.answers)


def _check_limiter(walk: Walk, key: Key, step: AskStep, kind: Kind) -> Iterator[Complaint]:
    """A limiter is a lamp's watts or a transformer's volts, and settles the fact of that name."""
    wanted = {LAMP_WATTS: Kind.power, LIMITER_VOLTS: Kind.voltage}
    if wanted.get(step.fact) is not kind:
        what = f"“{FROM_LIMITER_RULES}” holds a lamp's watts or a variable transformer's volts"
        yield walk.complain((*key, "fact"), what, f"fact: {LAMP_WATTS} in W, or fact: {LIMITER_VOLTS} in V")


def _positions(step: AskStep, circuit: Circuit, profile: "LimitProfile") -> Iterator[AnswerOption]:
    """An answer for each position of the design's selector: one that this place's mains would burn or starve fails."""
    for position in positions_of(circuit):
        fit = supply_fit(circuit, State(selector=position), profile).fit
        bad = fit in (VoltageFit.burns, VoltageFit.starved)
        judgement = "fail" if bad else "pass"
        fault = step.fault if bad else None
        yield made_of(AnswerOption, answer=position, value=position, judgement=judgement, fault=fault, grave=step.grave)


def _setting_doubts(plan: Plan, facts: Facts) -> tuple[str, ...]:
    """What to say of a selector's setting that fits this place's mains, and not all of its legal range."""
    position = facts.get(SELECTOR)
    if position is None:
        return ()
    said = supply_fit(plan.circuit, State(selector=str(position)), plan.profile).sentence
    return (said,) if said else ()


def _try_value(
    plan: Plan, state: AnsweringState, step: PlannedStep, model: AskStep, given: AskAnswer, at: str
) -> Evaluation:
    """Judge a value that the technician reads off and types: a fuse's rating, a cord's length."""
    kind = unit_named(model.value).kind
    try:
        reading = read_reading(given.answer, kind=kind, unit=model.value)
    except BenchError as problem:
        return complain(problem.sentence)
    if reading.quantity is None or reading.bound is not Bound.exact:
        return complain(
            say(
                "“{answer}” is no value that can be kept: type {with_article} in {value}.",
                answer=given.answer,
                with_article=kind.with_article,
                value=model.value,
            )
        )
    measurement = Measurement(
        reading=reading, value=reading.si, kind=kind, uncertainty=None, metered=False, taken={"note": given.note}
    )
    evaluation = judge(plan, state, step, measurement, at)
    if evaluation.content is None:
        return evaluation
    if step.accept == FROM_LIMITER_RULES and (reason := _not_a_limiter(plan, model.fact, reading.si)):
        return replace(complain(reason), band=evaluation.band)
    facts = {model.fact: reading.quantity.si} if model.fact else {}
    judged = {one.name: getattr(evaluation.content, one.name) for one in fields(ReadingContent)}
    told = ToldContent(**{**judged, "facts": facts}, answer=str(reading.quantity))
    evaluation = replace(evaluation, content=told)
    if told.judgement is Judgement.not_judged and not step.accept:
        # A fact is settled by being told: there is nothing to judge.
        return with_sentence(evaluation, told.answer, judgement=Judgement.passed)
    return evaluation


def _not_a_limiter(plan: Plan, fact: str, value: float | None) -> str | None:
    """Why what was typed cannot limit first power of this design; it says nothing of the unit, so nothing is kept."""
    refused = {LAMP_WATTS: refuse_lamp, LIMITER_VOLTS: refuse_volts}[fact]
    try:
        return refused(plan, value or 0.0)
    except BenchError as problem:
        return problem.sentence


def _try_answer(step: PlannedStep, model: AskStep, given: AskAnswer) -> Evaluation:
    """One of the answers that the step offers."""
    chosen = next((one for one in model.answers if one.answer.casefold() == given.answer.strip().casefold()), None)
    if chosen is None:
        known = ", ".join(one.answer for one in model.answers)
        return complain(say("“{answer}” is none of the answers: {known}.", answer=given.answer, known=known))
    failed = chosen.judgement == "fail" and chosen.grave != "note"
    fact: FactValue = chosen.answer if chosen.value is None else chosen.value
    settles = model.fact and (chosen.value is not None or not model.answers_from)  # beside the positions: none of them
    return settled(
        ChosenContent(
            **asked_at(step),
            judgement=Judgement.failed if failed else Judgement.passed,
            sentence=chosen.answer,
            answer=chosen.answer,
            faults=_answer_faults(model, chosen) if failed else (),
            facts={model.fact: fact} if settles else {},
            event=chosen.event or "",
            note=given.note,
        )
    )


def _answer_faults(model: AskStep, chosen: AnswerOption) -> tuple[FaultContent, ...]:
    return (fault_content(chosen.fault or model.fault, chosen.grave, f"{model.say} {chosen.answer}"),)
