"""What has to be taken again after a repair: shown before the technician agrees, and enforced by the fold.

The steps whose judgement the part can move are stale, and every live step behind them; opening cord, plug or
enclosure always stales visual, polarity, earth and insulation. The rest stands.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence

from benchapp.sequences.language.vocabulary import Opening, Role, Supply
from benchapp.sequences.planning.facts import TEMPERATURES
from benchapp.sequences.planning.limiters import LIMITER_FACTS
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.state import StepState, StepStatus
from benchapp.wiring.assembly.unit import SELECTOR, parts_set_by

OPENING_STALES = frozenset({Role.visual, Role.polarity, Role.earth, Role.insulation})
PLUG_STALES = OPENING_STALES | {Role.plug, Role.internal_fuse}
SAFETY = PLUG_STALES | {Role.primary, Role.selector}
FACT_STALES: dict[str, frozenset[Role]] = {
    "class": SAFETY,
    "mains fed": SAFETY,
    "plug": frozenset({Role.plug, Role.polarity}),
    "cord length": frozenset({Role.earth, Role.plug}),
    "cord area": frozenset({Role.earth, Role.plug}),
    "cord cores": frozenset({Role.earth, Role.plug, Role.polarity}),
    "detachable lead": frozenset({Role.visual, Role.earth, Role.polarity}),
    "live chassis": frozenset({Role.visual}),
    "bare metal": frozenset({Role.visual, Role.earth}),
    "voltage selector": frozenset({Role.selector}),
    SELECTOR: frozenset({Role.selector, Role.primary}),
    "internal fuse": frozenset({Role.internal_fuse}),
    "surge suppressor": frozenset({Role.insulation}),
    "power": frozenset({Role.plug, Role.insulation}),
    "plug fuse": frozenset({Role.plug, Role.polarity}),
    "plug fuse rating": frozenset({Role.plug}),
    "heating": frozenset({Role.insulation}),
    "hand-held": frozenset({Role.visual, Role.insulation}),
}
"""What rests on a fact of the unit, beside every live step, what waits for it, and readings through its parts."""

_OUTSIDE = {
    "cord": Opening.cord,
    "plug": Opening.plug,
    "case": Opening.enclosure,
    "cover": Opening.enclosure,
    "enclosure": Opening.enclosure,
}
"""parts that are in no circuit, and what is opened by any work on them"""


def retest_scope(plan: Plan, steps: Mapping[str, StepState], part: str, opened: Sequence[str]) -> tuple[str, ...]:
    """Addresses, in order, of the steps taken so far that a repair of `part` with these things opened makes stale."""
    scope = scope_of(plan, part, opened)
    taken = {StepStatus.done, StepStatus.failed, StepStatus.stale}
    return tuple(a for a in scope if a in steps and steps[a].status in taken)


def scope_of(plan: Plan, part: str, opened: Iterable[str]) -> tuple[str, ...]:
    """Addresses, in order, of all steps that such a repair makes stale, taken or not."""
    roles = _roles_of(opened_by(plan, part, opened))
    pins = pins_named(plan, part)
    known = bool(pins) or part in plan.circuit.parts or part.casefold() in _OUTSIDE
    near = _hanging_with(plan, pins)
    return tuple(
        step.address for step in plan.steps if near & {*step.terminals} or _is_moved(step, part, roles, known=known)
    )


def opened_by(plan: Plan, part: str, opened: Iterable[str]) -> frozenset[str]:
    """What was opened: as stated, and what work on that part cannot do without."""
    implied = _OUTSIDE.get(part.casefold()) or _home_of(plan, part)
    return frozenset(opened) | ({implied.value} if implied else frozenset())


def pins_named(plan: Plan, part: str) -> tuple[str, ...]:
    """The two pins that a crossed or bridged pair is named by ("outlet.2, outlet.3"); nothing for any other part."""
    ends = tuple(end.strip() for end in part.split(","))
    two = len(ends) == 2 and ends[0] != ends[1] and all(end in plan.circuit.terminals for end in ends)
    return ends if two else ()


def _hanging_with(plan: Plan, pins: Collection[str]) -> frozenset[str]:
    """Every node that hangs together with one of these pins, switches closed: wires put right there may move it."""
    reached = set(pins)
    while more := {
        end
        for branch in plan.circuit.branches
        if reached & {branch.a, branch.b}
        for end in (branch.a, branch.b)
        if end not in reached
    }:
        reached |= more
    return frozenset(reached)


def _home_of(plan: Plan, part: str) -> Opening | None:
    """Where a part of the circuit sits: a fuse at a pin of the mains plug in it, a core in the cord, else inside.

    A pair of pins sits behind its connector.
    """
    circuit = plan.circuit
    plug = circuit.connectors.get(circuit.supply.live.partition(".")[0]) if circuit.supply is not None else None
    pins = set(plug.terminals) if plug is not None else set()
    named = pins_named(plan, part)
    if named:
        return Opening.plug if pins & set(named) else Opening.enclosure
    if part not in circuit.parts:
        return None
    branches = [branch for branch in circuit.branches if branch.part == part]
    if circuit.parts[part].removable and any({branch.a, branch.b} & pins for branch in branches):
        return Opening.plug
    if any(branch.cord_core for branch in branches):
        return Opening.cord
    return Opening.enclosure


def planned_opening_scope(plan: Plan, opening: PlannedStep) -> tuple[str, ...]:
    """Addresses of what a step of the route makes stale by opening something: the dead tests taken before it.

    So does what closes it again, where that was done already, and every live step.
    """
    tests = frozenset({Role.polarity, Role.earth, Role.primary, Role.insulation})
    closes = {s.address for s in plan.steps if Role.plug in s.shows and s.position > opening.position}
    return tuple(s.address for s in plan.steps if _is_live(s) or s.shows & tests or s.address in closes)


def fact_scope(plan: Plan, fact: str) -> tuple[str, ...]:
    """Addresses of the steps that rest on a fact of the unit which has changed.

    A fact that changes the unit's circuit moves every reading through the parts it speaks of; one of an author's own
    moves what waits for it, and any of them every live step. How warm it is moves no step taken before, and what limits
    first power moves what was read through it.
    """
    if fact in TEMPERATURES:
        return ()
    if fact in LIMITER_FACTS:
        return tuple(
            s.address for s in plan.steps if (s.supply is Supply.limited and s.function) or fact in s.waits_for
        )
    roles, parts = FACT_STALES.get(fact, frozenset()), parts_set_by(plan.circuit, fact)
    return tuple(
        step.address
        for step in plan.steps
        if _is_live(step) or roles & step.shows or parts & step.moved_by or fact in step.waits_for
    )


def event_scope(plan: Plan) -> tuple[str, ...]:
    """Addresses of the steps that a fall, damp or wet cleaning makes old: those that safety rests on, and live ones."""
    return tuple(step.address for step in plan.steps if _is_live(step) or step.shows & (SAFETY | {Role.dry}))


def _is_live(step: PlannedStep) -> bool:
    return step.supply is not Supply.none


def _roles_of(opened: Collection[str]) -> frozenset[Role]:
    if not opened:
        return frozenset()
    return PLUG_STALES if {Opening.plug, Opening.cord} & set(opened) else OPENING_STALES


def _is_moved(step: PlannedStep, part: str, roles: frozenset[Role], *, known: bool) -> bool:
    if _is_live(step) or roles & step.shows or part in step.moved_by:
        return True
    # Nobody can tell what a part that the circuit does not know moves: everything that was measured is taken again.
    return not known and (bool(step.function) or bool(step.shows & SAFETY))
