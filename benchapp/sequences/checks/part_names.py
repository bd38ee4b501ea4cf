"""Parts that can be at fault: those of the circuits, and those of an item that no circuit shows."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.sequences.language.models import SequenceFile
    from benchapp.sequences.planning.catalogue import Catalogue
    from benchapp.wiring.model.equipment import Equipment

IN_NO_CIRCUIT = frozenset(
    {
        "battery",
        "belt",
        "case",
        "connectors",
        "control",
        "cord",
        "cover",
        "enclosure",
        "fan",
        "feet",
        "finish",
        "fuse holder",
        "handle",
        "heating element",
        "knob",
        "lamp",
        "mechanism",
        "meter movement",
        "motor",
        "plug",
        "rating plate",
        "selector",
        "switch",
        "terminals",
    }
)
"""What every item may have beside its circuit; common practice, no source."""


def parts_of(equipment: "Equipment") -> frozenset[str]:
    """The parts of one circuit by their ids."""
    return frozenset(part.id for part in equipment.circuit)


def parts_known(catalogue: "Catalogue", sequence: "SequenceFile") -> frozenset[str]:
    """Parts that a fault of this sequence may name: of every design that it can meet, and those in no circuit."""
    designs = [str(one) for one in sequence.fits.get("design", ())]
    met: Mapping[str, Equipment] = {name: one for name, one in catalogue.equipment.items() if name in designs}
    return IN_NO_CIRCUIT.union(*(parts_of(one) for one in (met or catalogue.equipment).values()))
