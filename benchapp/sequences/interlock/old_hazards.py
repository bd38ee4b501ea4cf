"""What a hazard of old equipment that was found shuts on its unit, as its file says, and who may open that again.

Work and opening are shut to everybody, mains by the interlock, the sale by the region's word. A repair at this bench
lifts only what the file lets be mended; anything else is cleared by a supervisor who says how it left, or that it never
was there. Whatever shuts mains or work has to be looked for before mains comes on.
"""

from collections.abc import Collection, Iterator

from benchapp.sequences.history.faults import fault_status, may_be_mended
from benchapp.sequences.history.ledger import Fault
from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.hazards import OldHazard, Shut
from benchapp.sequences.language.vocabulary import Opening
from benchapp.sequences.planning.entry_contents import FaultContent, HazardClearedContent
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import Condition, FaultStatus
from benchapp.words import say

ALWAYS_SHUT = (Shut.work, Shut.opening, Shut.mains)
"""What a hazard shuts of which this run has no file."""


def hazards_found(evaluation: StepEvaluation) -> Iterator[Fault]:
    """The hazards of old equipment that were found in the unit and not shown to be gone."""
    for fault in evaluation.ledger.faults:
        if fault.old_hazard and fault_status(evaluation, fault) is not FaultStatus.closed:
            yield fault


def shuts(plan: Plan, fault: Fault) -> tuple[Shut, ...]:
    """What the hazard's file says that it shuts."""
    hazard = plan.hazards.get(fault.old_hazard)
    return ALWAYS_SHUT if hazard is None else hazard.shuts


def _found_shutting(evaluation: StepEvaluation, *what: Shut) -> Fault | None:
    found = hazards_found(evaluation)
    return next((one for one in found if {Shut.work, *what} & {*shuts(evaluation.plan, one)}), None)


def stops_here(evaluation: StepEvaluation) -> Fault | None:
    """A hazard in the unit that nobody mends at this bench: it waits for a supervisor."""
    return next((one for one in hazards_found(evaluation) if not may_be_mended(evaluation.plan, one)), None)


def what_to_do(plan: Plan, fault: Fault) -> str:
    """The hazard's own words: what was seen, what to do, what never."""
    hazard = plan.hazards.get(fault.old_hazard)
    if hazard is None:
        return say("{words} Stop, leave it shut, and tell the supervisor.", words=fault.words)
    return f"{fault.words} {hazard.advice}"


def refuse_work(evaluation: StepEvaluation) -> str | None:
    """Why nobody lays a hand on the unit; None when work may go on."""
    fault = _found_shutting(evaluation)
    if fault is None:
        return None
    return say(
        "Nobody works on this unit: {sentence} {clearing}",
        sentence=_sentence(fault),
        clearing=_clearing(evaluation.plan, fault),
    )


def refuse_opening(evaluation: StepEvaluation, opened: Collection[str]) -> str | None:
    """Why this is not opened on the unit; None when it may be. Plug and cord end outside of its case."""
    fault = _found_shutting(evaluation, Shut.opening) if Opening.enclosure in opened else _found_shutting(evaluation)
    if fault is None:
        return None
    return say(
        "It is not opened: {sentence} {clearing}", sentence=_sentence(fault), clearing=_clearing(evaluation.plan, fault)
    )


def _sentence(fault: Fault) -> str:
    return f"{fault.words.rstrip('.')}."


def _clearing(plan: Plan, fault: Fault) -> str:
    hazard = plan.hazards.get(fault.old_hazard)
    do = hazard.do[0].say if hazard is not None else say("Leave it shut.")
    return say("{do} A supervisor clears it once it is gone or proved never to have been there.", do=do)


def old_hazards(evaluation: StepEvaluation) -> Iterator[Condition]:
    """The interlock's rows: what shuts mains was looked for, and none of it is in the unit."""
    unseen = next(_not_looked_for(evaluation), None)
    words = "hazards of old equipment were looked for"
    if unseen is None:
        yield Condition(id="hazards asked", words=words, holds=True)
    else:
        step = _where_asked(evaluation.plan, unseen)
        why = say("nobody has looked for this yet: {title}", title=unseen.title)
        yield Condition(id="hazards asked", words=words, holds=False, go_to=step.address if step else None, why=why)
    fault = _found_shutting(evaluation, Shut.mains)
    yield Condition(
        id="old hazard",
        words="no hazard of old equipment that shuts mains is in it",
        holds=fault is None,
        go_to=(fault.address or None) if fault else None,
        why=fault.words.rstrip(".") if fault else "",
    )


def _not_looked_for(evaluation: StepEvaluation) -> Iterator[OldHazard]:
    plan, looking = evaluation.plan, evaluation.plan.index.looking
    if not looking:
        looking.update((step.address, found) for step in plan.steps if (found := hazards_of(step)))
    looked = {name for address, found in looking.items() if evaluation.holding(plan.step(address)) for name in found}
    for hazard in evaluation.plan.hazards_asked:
        if {Shut.work, Shut.mains} & {*hazard.shuts} and hazard.hazard not in looked:
            yield hazard


def _where_asked(plan: Plan, hazard: OldHazard) -> PlannedStep | None:
    return next((step for step in plan.steps if hazard.hazard in hazards_of(step)), None)


def hazards_of(step: PlannedStep) -> frozenset[str]:
    """Ids of the hazards that the step looks for."""
    points = getattr(step.model, "checkpoints", ())
    return frozenset(point.hazard for point in points if point.hazard)


def why_not_sold(evaluation: StepEvaluation) -> str:
    """Why the law or custom of the region keeps it from sale with what is in it; empty when nothing does."""
    fault = next(hazards_found(evaluation), None)
    if fault is None:
        return ""
    hazard = evaluation.plan.hazards.get(fault.old_hazard)
    law = hazard.sale_in(evaluation.plan.profile.limits).say.rstrip(".") if hazard else "nobody knows the rule for it"
    return f"{fault.words.rstrip('.')} - {law}"


def refuse_finding(plan: Plan, said: FaultContent) -> str | None:
    """The sentence with which a finding is refused; None where it may be recorded."""
    hazard = plan.hazards.get(said.old_hazard)
    if hazard is None:
        return say(
            "There is no hazard “{old_hazard}”; there are {listed}.",
            old_hazard=said.old_hazard,
            listed=", ".join(plan.hazards) or "none in this run",
        )
    if hazard.presumed:
        presumed = say("{title} is taken to be in every such unit", title=hazard.title)
        return say("{presumed}, so it is no finding: what is wrong beyond that is a fault.", presumed=presumed)
    if said.severity != "do not use":
        return say("{title} is a fault of the gravity “do not use”, and no less.", title=hazard.title)
    return None if said.words.strip() else say("Say what was seen.")


def refuse_clearing(evaluation: StepEvaluation, said: HazardClearedContent) -> str | None:
    """The sentence with which a clearing is refused, whoever makes it; None where a supervisor may record it."""
    found = hazards_found(evaluation)
    fault = next((one for one in found if (one.entry, one.old_hazard) == (said.fault, said.hazard)), None)
    if fault is None:
        return say("This hazard is not open on the unit: look at its record.")
    if not said.reason.strip():
        return say("Say how it left the unit and who took it out, or who saw that it never was there.")
    return None
