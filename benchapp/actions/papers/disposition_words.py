"""What a unit's label says of it in words, and by which sign: never better than its record.

A tag says what was tested and on which date; it promises nothing and invents no expiry.
"""

from typing import TYPE_CHECKING

from benchapp.actions.papers.dates import day
from benchapp.paper.content import Tone
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.planning.entries import Disposition
from benchapp.sequences.planning.planned_kind import OnTag, on_tag
from benchapp.sequences.planning.state import FaultStatus, StageStatus, StepStatus
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.sequences.planning.planned import Plan

NOT_TESTED = "Not tested, do not plug in"
NOT_TESTED_NO_MAINS = "Not tested, do not connect"
DO_NOT_USE = "Do not use"
MAINS_CAUTION = "Before use look at plug, cord and case. Repairs to mains parts are for competent people."
PARTS_CAUTION = "For parts only. The mains plug is cut off and destroyed; never fit another one as it is."
SHUT_CAUTION = "Do not connect to the mains."


def disposition_words(plan: "Plan", state: UnitState, *, grade: str = "") -> tuple[str, Tone]:
    """The words in large type on the tag, and the shape of its sign."""
    match state.disposition:
        case Disposition.for_sale:
            return (say("For sale, grade {grade}", grade=grade) if grade else "For sale"), Tone.READY
        case Disposition.spares:
            return "Spares or repair", Tone.PARTS
        case Disposition.scrap:
            return "Scrap, do not use", Tone.PARTS
    if is_unsafe(state) or _is_unknown(state):
        return DO_NOT_USE, Tone.FORBIDDEN
    if not state.complete or plan.looser:
        return (NOT_TESTED if plan.mains_fed else NOT_TESTED_NO_MAINS), Tone.FORBIDDEN
    if state.disposition == Disposition.keep:
        return "Kept in the collection", Tone.KEPT
    if state.disposition == Disposition.hold:
        return "On hold", Tone.WAITING
    return "Tested, not yet for sale", Tone.WAITING


def is_unsafe(state: UnitState) -> bool:
    """Whether something about it failed and is not shown to be mended: a fault, a hazard, a step."""
    fault = any(one.status is not FaultStatus.closed for one in state.faults if one.severity != "note")
    return fault or any(step.status is StepStatus.failed for step in state.steps.values())


def _is_unknown(state: UnitState) -> bool:
    """Whether nobody knows its design: it never comes to mains."""
    return not state.facts.get("design known", True)


def tag_cautions(plan: "Plan", state: UnitState) -> tuple[str, ...]:
    """What the holder of the unit must know; a hazard of old equipment that is in it comes first, in its own words."""
    mended = (f"{words} ({day(at)}, {by})." for words, at, by in state.put_right)
    accepted = (
        f"{one.by} accepted {one.content.what} ({day(one.at)}): {one.content.reason.rstrip('.')}."
        for one in state.acceptances
    )
    return (*hazard_cautions(plan, state), *_mains_cautions(plan, state), *accepted, *mended)


def hazard_cautions(plan: "Plan", state: UnitState) -> tuple[str, ...]:
    """The words for a tag of each hazard that was found and is not shown to be gone."""
    open_ones = [one.old_hazard for one in state.faults if one.status is not FaultStatus.closed]
    return tuple(plan.hazards[name].tag for name in dict.fromkeys(open_ones) if name in plan.hazards)


def _mains_cautions(plan: "Plan", state: UnitState) -> tuple[str, ...]:
    if not plan.mains_fed:
        return ()
    if state.disposition in (Disposition.spares, Disposition.scrap):
        return (PARTS_CAUTION if state.destroyed else SHUT_CAUTION,)
    if state.disposition == Disposition.for_sale:
        return (MAINS_CAUTION,)
    held = state.disposition == Disposition.hold or _is_unknown(state)
    shut = held or not state.complete or is_unsafe(state) or plan.looser
    return (SHUT_CAUTION,) if shut else (MAINS_CAUTION,)


def tested_stages(plan: "Plan", state: UnitState) -> tuple[str, ...]:
    """Titles of the stages that tested something, were done and hold."""
    tests = {step.stage for step in plan.steps if step.function or on_tag(step.kind) is OnTag.test}
    return tuple(stage.title for stage in state.stages if stage.status is StageStatus.done and stage.id in tests)
