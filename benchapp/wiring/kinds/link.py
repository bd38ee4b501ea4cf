"""A wire, joint or track."""

from collections.abc import Mapping

from benchapp.files.locations import Key
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Branch, Circuit, PartKind, Problem
from benchapp.wiring.model.equipment import Equipment, TwoEnded
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.written import TolerancedResistance


class LinkPart(TwoEnded):
    """A wire, joint or track; `cord core` takes its resistance from the cord's length and area."""

    kind = PartKind(name="link", place=1, fault_modes=(Mode.open, Mode.high_resistance), carries_voltage_on=True)
    link: str
    """the part's own id"""
    resistance: TolerancedResistance | None = None
    """where it is more than a joint's: 0.2 ohm ± 20 %"""
    cord_core: bool = False
    """a core of the cord, with its resistance"""

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """One, with what the file says, the cord gives, or a joint has."""
        ohms = self.resistance or (equipment.core_of_cord() if self.cord_core else None) or assumptions.LINK
        return (self.branch(ohms, cord_core=self.cord_core),)

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> tuple[Problem, ...]:
        """Nothing of its own."""
        return ()
