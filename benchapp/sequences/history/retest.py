"""What has to be taken again after a repair, as the fold enforces it.

The steps whose judgement the part can move are stale, and every live step behind them; opening cord, plug or
enclosure always stales visual, polarity, earth and insulation. The rest stands.
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from typing import Protocol, TypeVar

from benchapp.judgement.statements.band import Band
from benchapp.sequences.language.vocabulary import FactValue, Opening, Role, Supply
from benchapp.sequences.planning.facts import TEMPERATURES
from benchapp.sequences.planning.limiters import LIMITER_FACTS
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.terminals import circuit_now
from benchapp.wiring.assembly.unit import CORD_AREA, CORD_LENGTH, PLUG_FUSE, SELECTOR, parts_set_by
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.model.circuit import WiringProblem

Facts = Mapping[str, FactValue]
OPENING_STALES = frozenset({Role.visual, Role.polarity, Role.earth, Role.insulation})
PLUG_STALES = OPENING_STALES | {Role.plug, Role.internal_fuse}
SAFETY = PLUG_STALES | {Role.primary, Role.selector}
FACT_STALES: dict[str, frozenset[Role]] = {
    "class": SAFETY,
    "mains fed": SAFETY,
    "plug": frozenset({Role.plug, Role.polarity}),
    "cord length": frozenset({Role.earth}),
    "cord area": frozenset({Role.earth, Role.plug}),
    "cord cores": frozenset({Role.earth, Role.plug, Role.polarity}),
    "detachable lead": frozenset({Role.visual, Role.earth, Role.polarity}),
    "live chassis": frozenset({Role.visual}),
    "bare metal": frozenset({Role.visual, Role.earth, Role.insulation}),
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
FIGURES = frozenset({CORD_LENGTH, CORD_AREA, PLUG_FUSE})
"""Facts that only put a resistance right: no part was touched, so what they cannot shift stands, live steps too."""
SHIFT = 0.01
"""share of its band by which a reading must be shifted to be taken again (common practice, no source)"""

_OUTSIDE = {
    "cord": Opening.cord,
    "plug": Opening.plug,
    "case": Opening.enclosure,
    "cover": Opening.enclosure,
    "enclosure": Opening.enclosure,
}
"""parts that are in no circuit, and what is opened by any work on them"""
_CASE_CLOSED = frozenset({"feet", "finish", "handle", "knob", "rating plate"})
"""parts that are mended with the case closed (common practice, no source)"""


class FoundFault(Protocol):
    """What a retest follows from in a fault, as the ledger keeps it or as a unit's state shows it."""

    @property
    def entry(self) -> int:
        """The number of the entry that recorded it."""

    @property
    def part(self) -> str:
        """The part that is wrong; empty where nobody knows."""

    @property
    def address(self) -> str:
        """The step that showed it."""

    @property
    def repair(self) -> int | None:
        """The entry of its repair."""

    @property
    def hazard(self) -> bool:
        """Whether every dead step is taken again after it."""


OneFault = TypeVar("OneFault", bound=FoundFault)


def mended_by(faults: Iterable[OneFault], fault: int | None, part: str) -> list[OneFault]:
    """The faults that a repair answers: by the number of their entry, or by the part when no number is given."""
    left = [one for one in faults if one.repair is None]
    if fault is None:
        return [one for one in left if part and one.part == part]
    same = [one for one in left if one.entry == fault]
    return [one for one in same if one.part == part] or (same if len(same) == 1 else [])


def repair_scope(plan: Plan, part: str, opened: Iterable[str], mended: Iterable[FoundFault]) -> frozenset[str]:
    """Addresses of all steps that a repair of that part makes stale which mends these faults, taken or not."""
    scope = {*scope_of(plan, part, opened)}
    for fault in mended:
        # What was found there counts as touched too, whatever part the repair names.
        scope.update(scope_of(plan, fault.part, ()) if fault.part and fault.part != part else ())
        scope.update({fault.address} if fault.address else ())
        scope.update(step.address for step in plan.steps if fault.hazard)
    return frozenset(scope)


def scope_of(plan: Plan, part: str, opened: Iterable[str]) -> tuple[str, ...]:
    """Addresses, in order, of all steps that work on such a part makes stale, taken or not."""
    roles = _roles_of(opened_by(plan, part, opened))
    pins = pins_named(plan, part)
    known = bool(pins) or part in plan.circuit.parts or part.casefold() in _OUTSIDE
    near, parts = _hanging_with(plan, pins), _changed_with(plan, part)
    return tuple(
        step.address for step in plan.steps if near & {*step.terminals} or _is_moved(step, parts, roles, known=known)
    )


def _changed_with(plan: Plan, part: str) -> frozenset[str]:
    """The part; of a winding every one of its transformer, and what is joined to their ends.

    A winding is mended by fitting another transformer, and every wire at its tags is taken off for it.
    """
    branches = plan.circuit.branches
    cores = {branch.core for branch in branches if branch.part == part and branch.core}
    windings = [branch for branch in branches if branch.core in cores]
    tags = {end for branch in windings for end in (branch.a, branch.b)}
    return frozenset({part, *(branch.part for branch in branches if tags & {branch.a, branch.b})})


def opened_by(plan: Plan, part: str, opened: Iterable[str]) -> frozenset[str]:
    """What was opened: as stated, and what work on that part cannot do without."""
    implied = _OUTSIDE.get(part.casefold()) or _home_of(plan, part)
    return frozenset(opened) | ({implied.value} if implied else frozenset())


def may_reach_inside(plan: Plan, part: str, opened: Iterable[str]) -> bool:
    """Whether work on that part may take hands into the case: it is opened for it, or nobody knows where it sits."""
    found = opened_by(plan, part, opened)
    return Opening.enclosure in found or not (found or part.strip().casefold() in _CASE_CLOSED)


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
    pins = set(circuit.inlet.terminals) if circuit.inlet is not None else set()
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


def fact_scope(plan: Plan, fact: str, now: Facts, were: Callable[[str], Iterable[Facts]]) -> tuple[str, ...]:
    """Addresses of the steps that rest on a fact of the unit which has changed.

    `now` are all its facts, `were` says by address which the answer there may have rested on.
    A fact that changes the unit's circuit moves every reading through the parts it speaks of; one of an author's own
    moves what waits for it, and any of them every live step. A figure moves what it shifts alone; what limits first
    power, what was read through it. How warm it is moves no step taken before.
    """
    if fact in TEMPERATURES:
        return ()
    if fact in LIMITER_FACTS:
        return tuple(
            s.address for s in plan.steps if (s.supply is Supply.limited and s.function) or fact in s.waits_for
        )
    roles, parts = FACT_STALES.get(fact, frozenset()), parts_set_by(plan.circuit, fact)

    def is_moved(step: PlannedStep) -> bool:
        through = bool(parts & step.moved_by)
        if fact in FIGURES:
            return through and any(_is_shifted(plan, step, before, now) for before in were(step.address))
        return through or _is_live(step)

    return tuple(step.address for step in plan.steps if roles & step.shows or fact in step.waits_for or is_moved(step))


def _is_shifted(plan: Plan, step: PlannedStep, before: Facts, now: Facts) -> bool:
    """Whether a resistance in the unit's own circuit is expected elsewhere than it was; no voltage is, by a cord."""
    if step.band is None:
        return False
    try:
        was, is_now = (_expected(plan, step, facts) for facts in (before, now))
    except WiringProblem:  # a unit with such a lead has these terminals, this one has not
        return True
    return any(_is_apart(*edges, was) for edges in ((was.lower, is_now.lower), (was.upper, is_now.upper)))


def _is_apart(was: float | None, now: float | None, band: Band) -> bool:
    if was is None or now is None:
        return was is not now
    lower = band.lower or 0.0
    width = band.upper - lower if band.upper is not None else lower
    return abs(now - was) > SHIFT * width


def _expected(plan: Plan, step: PlannedStep, facts: Facts) -> Band:
    a, b = step.terminals
    circuit = circuit_now(plan, facts)
    return expected_resistance(circuit, a, b, state=step.circuit_state, red_on_b=step.probe is not None)


def event_scope(plan: Plan) -> tuple[str, ...]:
    """Addresses of the steps that a fall, damp or wet cleaning makes old: those that safety rests on, and live ones."""
    return tuple(step.address for step in plan.steps if _is_live(step) or step.shows & (SAFETY | {Role.dry}))


def _is_live(step: PlannedStep) -> bool:
    return step.supply is not Supply.none


def _roles_of(opened: Collection[str]) -> frozenset[Role]:
    if not opened:
        return frozenset()
    return PLUG_STALES if {Opening.plug, Opening.cord} & set(opened) else OPENING_STALES


def _is_moved(step: PlannedStep, parts: frozenset[str], roles: frozenset[Role], *, known: bool) -> bool:
    if _is_live(step) or roles & step.shows or parts & step.moved_by:
        return True
    # Nobody can tell what a part that the circuit does not know moves: everything that was measured is taken again.
    return not known and (bool(step.function) or bool(step.shows & SAFETY))
