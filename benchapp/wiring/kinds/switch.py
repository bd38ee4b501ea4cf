"""A switch or voltage selector."""

from collections.abc import Iterator, Mapping

from benchapp.files.locations import Key
from benchapp.files.spelling import nearest
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Branch, Circuit, PartKind, Problem, Switch
from benchapp.wiring.model.equipment import Between, Equipment, Part
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.written import TolerancedResistance


class SwitchPart(Part):
    """A switch or voltage selector: the pairs of nodes that each position joins."""

    kind = PartKind(
        name="switch", place=5, fault_modes=(Mode.open, Mode.high_resistance, Mode.shorted), carries_voltage_on=True
    )
    switch: str
    """the part's own id"""
    positions: Mapping[str, tuple[Between, ...]]
    """for each position the pairs of nodes that it joins: on: [[a, b]], off: []"""
    usual: str = ""
    """the position it is tested in: on, or the first, where none is named"""
    selector: bool = False
    """whether it is the voltage selector"""
    resistance: TolerancedResistance | None = None
    """of a closed contact, where it is known"""
    say: str = ""
    """what a technician calls it: the power switch"""

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """One for each pair of nodes that some position joins, closed in every position that lists it."""
        closed: dict[tuple[str, str], set[str]] = {}
        for position, pairs in self.positions.items():
            for pair in pairs:
                closed.setdefault(pair, set()).add(position)
        ohms = self.resistance or assumptions.SWITCH
        return tuple(
            Branch(
                part=self.id, kind=self.kind, a=a, b=b, resistance=ohms, switch=self.id, closed_in=frozenset(positions)
            )
            for (a, b), positions in closed.items()
        )

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> tuple[Problem, ...]:
        """Nothing beyond its names."""
        return ()

    def nodes(self) -> Iterator[tuple[Key, str]]:
        """The nodes of every pair in every position."""
        for position, pairs in self.positions.items():
            for row, pair in enumerate(pairs):
                yield from ((("positions", position, row, end), node) for end, node in enumerate(pair))

    def misnamed(self, key: Key, nodes: tuple[str, ...]) -> Iterator[Problem]:
        """A usual position that it does not have."""
        if self.usual and self.usual not in self.positions:
            near = nearest(self.usual, self.positions) or ""
            yield Problem(
                key=(*key, "usual"),
                what=f"the switch '{self.id}' has no position '{self.usual}'",
                expected="" if near else "one of " + ", ".join(self.positions),
                nearest=near,
            )

    def as_switch(self) -> Switch:
        """Its positions in the order of the file, and the one it is tested in."""
        positions = tuple(self.positions)
        usual = self.usual or ("on" if "on" in positions else positions[0])
        return Switch(part=self.id, positions=positions, usual=usual, selector=self.selector)

    def facts(self) -> dict[str, bool]:
        """Whether it is a voltage selector."""
        return {"voltage selector": True} if self.selector else {}
