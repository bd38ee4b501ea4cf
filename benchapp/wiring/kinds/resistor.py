"""A resistor."""

from collections.abc import Iterator, Mapping

from benchapp.files.locations import Key
from benchapp.wiring.model.circuit import Branch, Circuit, PartKind, Problem
from benchapp.wiring.model.equipment import Equipment, TwoEnded, no_ohms
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.written import TolerancedResistance


class ResistorPart(TwoEnded):
    """A resistor."""

    kind = PartKind(name="resistor", place=2, fault_modes=(Mode.open, Mode.drifted, Mode.shorted))
    resistor: str
    """the part's own id"""
    resistance: TolerancedResistance
    """its value with its tolerance: 4.7 kohm ± 10 %"""

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """One, of its resistance."""
        return (self.branch(self.resistance),)

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
        """A resistance of nothing."""
        yield from no_ohms(self, self.resistance, key)
