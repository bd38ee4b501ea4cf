"""The worked cases at the end of a sequence, worked through: what comes out, and where its author says otherwise.

A case gives answers in order on one unit of an equipment and the judgement of each. Only judging is asked: the
interlock has no say, so that a live sequence can be worked through at a desk.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from benchapp.errors import BenchError
from benchapp.files.locations import Key
from benchapp.files.models import made_of
from benchapp.files.spelling import nearest
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.checks.checked_kind import CheckedKind
from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.language.models import RouteFile
from benchapp.sequences.language.worked_cases import CaseLine, WorkedCase
from benchapp.sequences.planning.catalogue import Catalogue
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.sequences.planning.entry_contents import FactContent, MeterContent
from benchapp.sequences.planning.fact_rules import refuse_facts
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Plan, Workshop
from benchapp.words import say

NOT_MEASURED = "not measured"
REFUSED = "not taken"
AT = "2000-01-01T09:00:00+00:00"
"""The time of every worked case; a case that must not depend on the day has one day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseResult:
    """One line of a worked case: what was expected and what came out; `complaint` is empty when they agree."""

    sequence: str
    case: str
    step: str
    expected: str
    found: str
    complaint: str = ""
    key: Key = ()
    """where the line stands in the sequence's file"""


def run_cases(catalogue: Catalogue, sequence: str, workshop: Workshop | None = None) -> tuple[CaseResult, ...]:
    """Every line of every worked case of that sequence, in order."""
    results: list[CaseResult] = []
    plans: dict[str, Plan] = {}  # a case starts from the plan of its equipment, whatever others did there
    for number, case in enumerate(catalogue.sequences[sequence].worked_cases):
        key: Key = ("worked cases", number)
        try:
            if case.equipment not in plans:
                plans[case.equipment] = _plan_for(catalogue, sequence, case, workshop or Workshop())
            plan = plans[case.equipment]
            refused = refuse_facts(plan, plan.facts, case.facts)
            if refused:
                results.append(_broken(sequence, case, (*key, "facts"), refused))
                continue
            results.extend(_run(plan, sequence, case, key))
        except BenchError as problem:
            results.append(_broken(sequence, case, key, problem.sentence))
    return tuple(results)


def _broken(sequence: str, case: WorkedCase, key: Key, sentence: str) -> CaseResult:
    """A case that could not be worked through at all."""
    return CaseResult(sequence=sequence, case=case.case, step="", expected="", found="", complaint=sentence, key=key)


def _plan_for(catalogue: Catalogue, sequence: str, case: WorkedCase, workshop: Workshop) -> Plan:
    """A route of this one sequence over the case's equipment."""
    alone = made_of(RouteFile, route="worked-case", title="Worked case", sequences=(sequence,))
    routes = {**catalogue.routes, alone.route: alone}
    along = Catalogue(
        equipment=catalogue.equipment,
        connectors=catalogue.connectors,
        meters=catalogue.meters,
        limits=catalogue.limits,
        cautions=catalogue.cautions,
        repairs=catalogue.repairs,
        sequences=catalogue.sequences,
        routes=routes,
    )
    return make_plan(along, alone.route, case.equipment, workshop)


def _run(plan: Plan, sequence: str, case: WorkedCase, key: Key) -> Iterator[CaseResult]:
    entries = list(_beginning(case))
    for number, line in enumerate(case.answers):
        at: Key = (*key, "answers", number)
        state = fold(plan, entries, at=AT)
        address = f"{sequence}.{line.step}"
        if address not in plan.by_address:
            yield _no_step(plan, sequence, case, line, (*at, "step"))
            return
        step = plan.step(address)
        read = line if line.meter else line.model_copy(update={"meter": case.meter})
        given = CheckedKind.named(step.kind).case_answer(step.model, read, state.facts)
        tried = evaluate(plan, state, address, given, at=AT)
        found = tried.judgement or REFUSED
        agrees = found == line.judgement
        complaint = "" if agrees else f"{line.judgement} expected, {found} found: {tried.complaint or tried.sentence}"
        yield CaseResult(
            sequence=sequence,
            case=case.case,
            step=line.step,
            expected=line.judgement,
            found=found,
            complaint=complaint,
            key=(*at, "judgement"),
        )
        if tried.content is not None:
            entries.append(_entry(len(entries) + 1, EntryKind.answer, tried.content, address))


def _no_step(plan: Plan, sequence: str, case: WorkedCase, line: CaseLine, key: Key) -> CaseResult:
    """A step, or one probe of a step, that this design does not have."""
    known = [address.removeprefix(f"{sequence}.") for address in plan.by_address]
    same = [name for name in known if name.partition("/")[0] == line.step.partition("/")[0]] or known
    near = nearest(line.step, same)
    hint = f"Did you mean {near}?" if near else f"There are {', '.join(same)}."
    sentence = say("“{step}” is no step on {equipment}. {hint}", step=line.step, equipment=case.equipment, hint=hint)
    return CaseResult(
        sequence=sequence,
        case=case.case,
        step=line.step,
        expected=line.judgement,
        found="",
        complaint=sentence,
        key=key,
    )


def _beginning(case: WorkedCase) -> Iterator[Entry]:
    """The unit's own facts, and the meters with their leads."""
    number = 0
    if case.facts:
        number += 1
        yield _entry(number, EntryKind.fact, FactContent(facts=dict(case.facts)))
    leads = None if case.leads == NOT_MEASURED else read_quantity(case.leads, kind=Kind.resistance).si
    for meter in dict.fromkeys((case.meter, *(line.meter for line in case.answers))):
        number += 1
        yield _entry(number, EntryKind.meter, MeterContent(meter=meter, lead_resistance=leads))


def _entry(number: int, kind: EntryKind, content: Content, address: str = "") -> Entry:
    return Entry(number=number, uuid=f"case-{number}", kind=kind, at=AT, by="case", address=address, content=content)
