"""Insulation between two groups of nodes."""

from collections.abc import Iterator, Mapping

from benchapp.files.locations import Key
from benchapp.files.spelling import nearest
from benchapp.wiring.model.assumptions import COMMON_PRACTICE, FILE, OPEN_AT_LEAST
from benchapp.wiring.model.circuit import Barrier, Branch, Circuit, PartKind, Problem
from benchapp.wiring.model.equipment import Equipment, TwoEnded
from benchapp.wiring.model.groups import conducts, groups_of, members
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.written import Resistance


class BarrierPart(TwoEnded):
    """Insulation between two groups of nodes (a connector, a prefix such as `mains`, or one node)."""

    kind = PartKind(name="barrier", place=9, fault_modes=(Mode.leaking, Mode.shorted), conducts=False)
    barrier: str
    """the part's own id"""
    at_least: Resistance | None = None
    """its insulation resistance: 2 Mohm"""

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """None: sound insulation is no path."""
        return ()

    def nodes(self) -> Iterator[tuple[Key, str]]:
        """None of its own: it names groups of nodes that other parts touch."""
        return iter(())

    def misnamed(self, key: Key, nodes: tuple[str, ...]) -> Iterator[Problem]:
        """A side that nothing has the name of, or one node on both sides."""
        sides = [members(group, nodes) for group in self.between]
        for end, (group, side) in enumerate(zip(self.between, sides, strict=True)):
            if not side:
                prefixes = sorted({node.partition(".")[0] for node in nodes})
                yield Problem(
                    key=(*key, "between", end),
                    what=f"the barrier '{self.id}' names '{group}', and nothing has that name",
                    expected="a connector, the first part of a node's name, or one node",
                    nearest=nearest(group, prefixes) or "",
                )
        if set(sides[0]) & set(sides[1]):
            yield Problem(key=(*key, "between"), what=f"the barrier '{self.id}' has the same node on both sides")

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
        """A way round it through the circuit itself."""
        group = groups_of(circuit, conducts)
        barrier = self.as_barrier(circuit.nodes)
        sides = barrier.side_a, barrier.side_b
        shared = {group[node] for node in sides[0]} & {group[node] for node in sides[1]}
        if shared:
            ends = [min(node for node in side if group[node] in shared) for side in sides]
            what = f"the circuit itself bridges the barrier '{self.id}', from {ends[0]} to {ends[1]}"
            yield Problem(key=(*key, "between"), what=what)

    def as_barrier(self, nodes: tuple[str, ...]) -> Barrier:
        """The nodes on its two sides, and the insulation resistance that proves it."""
        at_least, source = (OPEN_AT_LEAST, COMMON_PRACTICE) if self.at_least is None else (self.at_least, FILE)
        sides = [frozenset(members(group, nodes)) for group in self.between]
        return Barrier(part=self.id, side_a=sides[0], side_b=sides[1], at_least=at_least, stated=source)
