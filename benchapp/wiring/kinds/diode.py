"""A diode: it conducts one way, and how well depends on the meter."""

from collections.abc import Mapping

from benchapp.files.locations import Key
from benchapp.wiring.model.circuit import Branch, Circuit, PartKind, Problem
from benchapp.wiring.model.equipment import Equipment, TwoEnded
from benchapp.wiring.model.modes import Mode


class DiodePart(TwoEnded):
    """A diode, anode first."""

    kind = PartKind(name="diode", place=6, fault_modes=(Mode.open, Mode.shorted), one_way=True)
    diode: str
    """the part's own id"""

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """One, without a resistance that could be stated."""
        return (self.branch(),)

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> tuple[Problem, ...]:
        """Nothing of its own: which way round it is shows at the outputs that somebody states."""
        return ()
