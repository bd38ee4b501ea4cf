"""What a role needs beside steps that say they show it: each thing that has to be looked at or read, and by what.

An author may write any step; these rules ask the circuit and the unit what the role stands for.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from benchapp.sequences.history.step_evaluation import StepEvaluation
from benchapp.sequences.language.vocabulary import Opening, Role
from benchapp.sequences.planning.fact_rules import MOULDED
from benchapp.sequences.planning.paths import earth_pin
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.sequences.planning.state import StepStatus
from benchapp.wiring.assembly.unit import FUSED
from benchapp.wiring.model.touchable import touchable, without_earth_test, without_insulation_test
from benchapp.wiring.probing.probes import ProbeKind
from benchapp.words import say

LOOK = "inspect"
"""The kind of step at which something is looked at point by point."""
PLUG, FUSE_LINK = "plug", "plug-fuse"
"""The parts that faults of a mains plug and of the link in it name."""
TRANSCRIBED = "its reading was kept in a tester: read it here, or a supervisor accepts such readings of this unit"
METAL_UNKNOWN = "it has bare metal that its file does not name: describe it as its own equipment, with its points"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lacking:
    """Why a role is not shown, and the step that would show it, where there is one."""

    why: str
    go_to: str | None = None


def lacking(evaluation: StepEvaluation, role: Role) -> Lacking | None:
    """What is missing of what the role stands for; None where its steps alone decide."""
    return next((found for rule in _RULES.get(role, ()) if (found := rule(evaluation)) is not None), None)


def why_not_holding(evaluation: StepEvaluation, step: PlannedStep) -> str:
    """Why a step does not show what it could."""
    state = evaluation.steps[step.address]
    if state.holds and evaluation.is_transcribed(step):
        return TRANSCRIBED
    usual = {
        StepStatus.open: "not done yet",
        StepStatus.failed: "failed",
        StepStatus.done: say("{judgement} is not enough for mains", judgement=state.judgement),
    }
    return state.why or usual.get(state.status, str(state.status))


def _unseen(evaluation: StepEvaluation) -> Lacking | None:
    """Something of every unit is looked at that keeps mains away where it is bad, beside the hazards of its age."""
    looks = evaluation.showing(Role.visual)
    if not looks or any(_is_firm(point) for step in looks for point in getattr(step.model, "checkpoints", ())):
        return None
    return Lacking(why="no step of this route looks at something that every unit has and that is graver than a note")


def _is_firm(point: Any) -> bool:  # noqa: ANN401  a checkpoint, whose model belongs to its kind
    return point.hazard is None and point.grave != "note" and not point.may_not_apply and not point.when


def _uninspected_plug(evaluation: StepEvaluation) -> Lacking | None:
    """A plug is looked at from outside, and inside too unless it is moulded; no word and no work stands for that."""
    looks = [step for step in evaluation.showing(Role.plug) if step.kind == LOOK]
    if not any(_is_of_the_outside(step) for step in looks):
        return Lacking(why="no step of this route inspects the plug from outside")
    moulded = str(evaluation.facts.get("plug", "")).casefold() == MOULDED
    if not moulded and not any(Opening.plug in step.opens for step in looks):
        return Lacking(why="no step of this route inspects the plug inside")
    return None


def _is_of_the_outside(step: PlannedStep) -> bool:
    """Whether the look is at the plug's body and pins: one at its fuse sees a clip and a link, and no pin."""
    points = getattr(step.model, "checkpoints", ())
    parts = [point.fault.part if point.fault is not None else PLUG for point in points if _is_firm(point)]
    of_the_fuse = FUSED in step.when or any(point.fault and point.fault.part == FUSE_LINK for point in points)
    return Opening.plug not in step.opens and PLUG in parts and not of_the_fuse


def _unread_lead(evaluation: StepEvaluation) -> Lacking | None:
    """A lead that comes off may be crossed where no reading through a transformer shows it, whatever part is blamed."""
    for step in evaluation.plan.steps:
        if step.probe is None or step.probe.kind is not ProbeKind.lead:
            continue
        state = evaluation.steps[step.address]
        if not state.holds and state.status not in (StepStatus.skipped, StepStatus.shut):
            why = say("its lead, read by itself: {what}", what=why_not_holding(evaluation, step).rstrip("."))
            return Lacking(why=why, go_to=step.address)
    return None


def _unread_pins(evaluation: StepEvaluation) -> Lacking | None:
    """Polarity is shown between every two pins of the supply that this unit has."""
    circuit = evaluation.plan.circuit
    read = {frozenset(step.terminals) for step in evaluation.showing(Role.polarity)}
    if not read:
        return None
    for a, b in _supply_pairs(evaluation):
        if {a, b} not in read:
            return Lacking(
                why=say("no step of this route reads {say} against {b}", say=circuit.say(a), b=circuit.say(b))
            )
    return None


def _supply_pairs(evaluation: StepEvaluation) -> Iterator[tuple[str, str]]:
    supply = evaluation.plan.circuit.supply
    if supply is None:
        return
    yield supply.live, supply.neutral
    earth = earth_pin(evaluation.plan.circuit)
    if evaluation.facts.get("class") == "I" and earth:
        yield supply.live, earth
        yield supply.neutral, earth


def _unmeasured_metal(evaluation: StepEvaluation) -> Lacking | None:
    """An earth path is shown when each point that a protective conductor ends at was measured."""
    ends = {terminal for step in evaluation.showing(Role.earth) for terminal in step.terminals}
    circuit = evaluation.plan.circuit
    left = without_earth_test(circuit, ends)
    if not left or not evaluation.showing(Role.earth):
        return None
    return Lacking(why=say("no step of this route measures the earth path to {say}", say=circuit.say(left[0])))


def _untested_touch(evaluation: StepEvaluation) -> Lacking | None:
    """What can be touched and no step of this route tests against the mains: each point of metal, then each output."""
    circuit, facts = evaluation.plan.circuit, evaluation.facts
    ends = {terminal for step in evaluation.showing(Role.insulation) for terminal in step.terminals}
    left = without_insulation_test(circuit, ends)
    if left:
        return Lacking(
            why=say("no step of this route tests the insulation between mains and {say}", say=circuit.say(left[0]))
        )
    if facts.get("class") == "II" and facts.get("bare metal", False) and not touchable(circuit).points:
        return Lacking(why=METAL_UNKNOWN)
    return None


_RULES: Mapping[Role, tuple[Callable[[StepEvaluation], Lacking | None], ...]] = {
    Role.visual: (_unseen,),
    Role.plug: (_uninspected_plug,),
    Role.polarity: (_unread_lead, _unread_pins),
    Role.earth: (_unmeasured_metal,),
    Role.insulation: (_untested_touch,),
}
