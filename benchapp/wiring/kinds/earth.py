"""A protective conductor or bond."""

from collections.abc import Iterator, Mapping

from benchapp.files.locations import Key
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Branch, Circuit, PartKind, Problem
from benchapp.wiring.model.equipment import Equipment, TwoEnded
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.written import TolerancedResistance


class EarthPart(TwoEnded):
    """A protective conductor or bond: the path that carries a fault current to earth."""

    kind = PartKind(
        name="earth", place=8, fault_modes=(Mode.open, Mode.high_resistance), carries_voltage_on=True, protects=True
    )
    earth: str
    """the part's own id"""
    resistance: TolerancedResistance | None = None
    """where it is more than a joint's"""
    cord_core: bool = False
    """the earth core of the cord, with its resistance"""

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """One, with what the file says, the cord gives, or a bond has."""
        ohms = self.resistance or (equipment.core_of_cord() if self.cord_core else None) or assumptions.EARTH
        return (self.branch(ohms, cord_core=self.cord_core),)

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
        """Equipment of class II has none; the first of several stands for all."""
        first = next(part.id for part in equipment.circuit if part.kind.protects)
        if equipment.equipment_class == "II" and self.id == first:
            what = f"equipment of class II needs no protective earth, but '{self.id}' is one"
            yield Problem(key=("class",), what=what, expected="class I, or no earth part")
