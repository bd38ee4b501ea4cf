"""How far tolerances can move a live reading: to both ends of what all of them can do together.

A voltage rises or falls steadily with every single resistance, turn or regulation, so its extremes lie where each of
them stands at one of its ends. Which ends these are depends on the others (two windings against each other, a load that
circulates), so they are looked for by moving one after the other until none helps any more. Upwards counts the
magnitude; downwards the part in phase with the likely voltage, which is no more than the magnitude and passes through
zero where two windings nearly cancel.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from benchapp.judgement.statements.band import DerivationStep
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.assumptions import FILE
from benchapp.wiring.model.circuit import Branch, Circuit, Extreme, Load, State, Supply, Toleranced, ToleranceRange
from benchapp.wiring.network.diodes import diodes_between
from benchapp.wiring.network.live import Equations, Solution, nominal_value
from benchapp.wiring.network.solve import FLOOR, Corner, copper_factor_at

NOTICEABLE = 0.002  # a winding is named in the derivation when it moves the reading by this share of the largest mover
COUNTS = 0.02  # any other part, when by this share
UNMOVED = 1e-6  # V or share of the voltage: a joint that moves it less alone is left out of the search
ROUNDS = 6  # of moving one tolerance after the other; two or three settle it
AS_LIKELY = Extreme()


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """Something that moves on its own: of which part, in which branches (by identity), and its ends."""

    part: str
    branches: frozenset[int]
    ends: ToleranceRange
    wound: bool = False

    @property
    def ohmic(self) -> bool:
        """Whether a resistance alone moves, as the file states it."""
        return all(end.emf == 1.0 for end in self.ends)


class LiveQuestion:
    """One pair of terminals in one set-up, asked for its voltage with tolerances moved."""

    def __init__(self, circuit: Circuit, supply: Supply, a: str, b: str, state: State, loads: tuple[Load, ...]) -> None:
        self.circuit, self.supply, self.a, self.b, self.state, self.loads = circuit, supply, a, b, state, loads
        self._equations = Equations(circuit, supply, state, loads)
        self._tolerances = tuple(tolerances_of(self._equations))

    def at(self, mains: float) -> float | None:
        """Likely magnitude (V); None when only a ghost is read."""
        volts = self._phasor(mains, {})
        return None if volts is None else abs(volts)

    def tolerance_range(self, mains: float) -> tuple[float, float, dict[Tolerance, float]]:
        """How far all tolerances together move the reading down and up (V), and how far each of them alone."""
        likely = self._phasor(mains, {}) or 0.0j
        middle, direction = abs(likely), likely / abs(likely) if likely else 0.0j
        moving: list[Tolerance] = []
        moved: dict[Tolerance, float] = {}
        for one in self._tolerances:
            ends = [abs(abs(self._phasor(mains, {one: end}) or 0.0j) - middle) for end in one.ends]
            moved[one] = max(ends)
            if one.wound or moved[one] > UNMOVED * max(middle, 1.0):
                moving.append(one)
        highest = self._furthest(mains, moving, abs)
        lowest = -self._furthest(mains, moving, lambda volts: -(volts * direction.conjugate()).real)
        return middle - max(lowest, 0.0), highest - middle, moved

    def _furthest(self, mains: float, moving: list[Tolerance], goal: Callable[[complex], float]) -> float:
        """The most that the goal can be, each tolerance at its likely value or one of its ends."""
        chosen: dict[Tolerance, Extreme] = {}
        best = goal(self._phasor(mains, chosen) or 0.0j)
        for _ in range(ROUNDS):
            before = best
            for one in moving:
                for end in one.ends:
                    tried = {**chosen, one: end}
                    found = goal(self._phasor(mains, tried) or 0.0j)
                    if found > best:
                        best, chosen = found, tried
            if best <= before:
                break
        return best

    def _phasor(self, mains: float, chosen: dict[Tolerance, Extreme]) -> complex | None:
        """Voltage from b to a with some tolerances at an end; None when nothing joins the two."""
        return moved_solution(self._equations, mains, chosen).between(self.a, self.b)

    def reasons(self, moved: dict[Tolerance, float]) -> tuple[DerivationStep, ...]:
        """Why: rating and regulation of every winding that counts, other parts that do, warm copper, the loads."""
        most = max(moved.values(), default=0.0)
        lines: dict[DerivationStep, None] = {}
        warm = False
        for branch in self.circuit.branches:
            own = {one: volts for one, volts in moved.items() if id(branch) in one.branches}
            if max(own.values(), default=0.0) > NOTICEABLE * most:
                lines.update(dict.fromkeys(branch.reasons))
            ohms = max((volts for one, volts in own.items() if one.ohmic), default=0.0)
            if ohms > COUNTS * most and branch.resistance is not None:
                lines[self._stated(branch.part, branch.resistance)] = None
                warm = warm or branch.copper
        if warm:
            low, high = assumptions.ROOM
            words = f"assumed {low:g} °C to {high:g} °C; warmed by its load, it gives less"
            source = "copper 0.00393 per kelvin at 20 °C, IEC 60228 Annex B"
            lines[DerivationStep(what="winding temperature", value=words, source=source)] = None
        for load in self.loads:
            lines[DerivationStep(what="load", value=show(load.ohms, Kind.resistance), source="as set up")] = None
        return tuple(lines)

    def _stated(self, part: str, resistance: Toleranced) -> DerivationStep:
        source = assumptions.COMMON_PRACTICE if resistance.stated.startswith("a ") else FILE
        return DerivationStep(what=self.circuit.part_names.get(part, part), value=resistance.stated, source=source)

    def cautions(self) -> tuple[str, ...]:
        """What the linear model leaves out here."""
        seen = diodes_between(self.circuit, self.state, self.a, self.b, live=True)
        return ("A diode lies here: the linear model does not see it.",) if seen else ()


def moved_solution(equations: Equations, mains: float, chosen: Mapping[Tolerance, Extreme]) -> Solution:
    """The circuit solved with some tolerances at an end, all others as likely."""
    moved: dict[int, Extreme] = {}
    for one, end in chosen.items():
        for branch in one.branches:
            other = moved.get(branch, AS_LIKELY)
            moved[branch] = Extreme(emf=other.emf * end.emf, ohms=other.ohms * end.ohms)

    def value(branch: Branch, what: str) -> float:
        likely, end = nominal_value(branch, what), moved.get(id(branch))
        if end is None:
            return likely
        if what == "emf":
            return likely * end.emf
        return likely / end.ohms if what == "farads" else max(likely * end.ohms, FLOOR)

    return equations.solve(mains, value)


def tolerances_of(equations: Equations) -> Iterator[Tolerance]:
    """Turns, regulation and copper of each winding as a whole; every other branch by itself."""
    wound: dict[str, list[Branch]] = {}
    for branch in equations.windings:
        wound.setdefault(branch.part, []).append(branch)
    for part, sections in wound.items():
        ids = frozenset(id(branch) for branch in sections)
        copper = () if sections[0].working is not None else (_ends_of(sections[0]),)
        for ends in (*sections[0].tolerance_ranges, *copper):
            if ends:
                yield Tolerance(part=part, branches=ids, ends=ends, wound=True)
    for branch in equations.plain:
        for ends in branch.tolerance_ranges or (_ends_of(branch),):
            if ends:
                yield Tolerance(part=branch.part, branches=frozenset({id(branch)}), ends=ends)


def _ends_of(branch: Branch) -> ToleranceRange:
    """What a resistance may be besides its likely value, copper at both ends of room temperature; nothing if exact."""
    if branch.resistance is None:
        return ()
    likely = nominal_value(branch, "ohms")
    ends = []
    for corner in (Corner.low, Corner.high):
        ohms: float = getattr(branch.resistance, corner.value)
        warm = copper_factor_at(corner, None) if branch.copper else 1.0
        ends.append(Extreme(ohms=max(ohms * warm, FLOOR) / likely))
    return () if set(ends) == {AS_LIKELY} else tuple(ends)
