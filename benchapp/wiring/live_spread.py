"""How far can tolerances move a live reading? Every part to both ends of its own, one at a time."""

from collections.abc import Iterator

from benchapp.judgement import Because
from benchapp.quantities import Kind, show
from benchapp.wiring.circuit import Branch, Circuit, Load, PartKind, Spread, State, Supply
from benchapp.wiring.live import nominal_value, solve_live
from benchapp.wiring.solve import FLOOR

NOTICEABLE = 0.002  # a part is named in the derivation when it moves the reading by this share of the largest mover
Moved = tuple[str, frozenset[str]]  # a part, and which of "emf" and "ohms" are moved to an end of their tolerance


class LiveQuestion:
    """One pair of terminals in one set-up, asked for its voltage with each tolerance moved in turn."""

    def __init__(self, circuit: Circuit, supply: Supply, a: str, b: str, state: State, loads: tuple[Load, ...]) -> None:
        self.circuit, self.supply, self.a, self.b, self.state, self.loads = circuit, supply, a, b, state, loads

    def at(self, mains: float, moved: Moved = ("", frozenset()), end: str = "nominal") -> float | None:
        """Magnitude (V) with values of one part at the low or high end; None when only a ghost is read."""
        part, which = moved

        def value(branch: Branch, what: str) -> float:
            if branch.part != part or what not in which:
                return nominal_value(branch, what)
            spread = branch.emf if what == "emf" else branch.working or branch.resistance
            at_end: float = getattr(spread, end) if spread is not None else 0.0
            return at_end if what == "emf" else max(at_end, FLOOR)

        solution = solve_live(self.circuit, self.supply, mains, state=self.state, loads=self.loads, value=value)
        volts = solution.between(self.a, self.b)
        return None if volts is None else abs(volts)

    def spread(self, mains: float) -> tuple[float, float, dict[str, float]]:
        """How far all tolerances together move the reading down and up (V), and how far each part alone."""
        middle = self.at(mains) or 0.0
        down = up = 0.0
        moved: dict[str, float] = {}
        for part, which in self._toleranced():
            ends = [(self.at(mains, (part, which), end) or 0.0) - middle for end in ("low", "high")]
            down += max(0.0, -min(ends))
            up += max(0.0, *ends)
            moved[part] = max(moved.get(part, 0.0), *(abs(end) for end in ends))
        return down, up, moved

    def _toleranced(self) -> Iterator[Moved]:
        """What moves on its own: voltage and resistance of a winding apart, unless one regulation gives both."""
        for part in dict.fromkeys(branch.part for branch in self.circuit.branches):
            branches = [branch for branch in self.circuit.branches if branch.part == part]
            emf = frozenset({"emf"} if any(_has_width(b.emf) for b in branches) else ())
            ohms = frozenset({"ohms"} if any(_has_width(b.working or b.resistance) for b in branches) else ())
            apart = (emf, ohms) if not any(b.tied for b in branches) else (emf | ohms,)
            yield from ((part, which) for which in apart if which)

    def reasons(self, moved: dict[str, float]) -> tuple[Because, ...]:
        """Why: the rating and regulation of every winding that counts, then the loads."""
        scale = max((abs(value) for value in moved.values()), default=0.0)
        lines: dict[Because, None] = {}
        for branch in self.circuit.branches:
            if moved.get(branch.part, 0.0) > NOTICEABLE * scale:
                lines.update(dict.fromkeys(branch.reasons))
        for load in self.loads:
            lines[Because(what="load", value=show(load.ohms, Kind.resistance), source="as set up")] = None
        return tuple(lines)

    def cautions(self) -> tuple[str, ...]:
        """What the linear model leaves out here."""
        kinds = {branch.kind for branch in self.circuit.branches if {branch.a, branch.b} & {self.a, self.b}}
        return ("A diode lies here: the linear model does not see it.",) if PartKind.diode in kinds else ()


def _has_width(spread: Spread | None) -> bool:
    return spread is not None and spread.low != spread.high
