"""All files of a workshop, read and checked: equipment, connectors, meters, limits, cautions, sequences, routes."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement import LimitProfile, MeterRecord
    from benchapp.sequences.language import Caution, RouteFile, SequenceFile
    from benchapp.wiring import Connector, Equipment


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """Everything by its id, and the text of every file by its name ("sequences/continuity.yaml")."""

    equipment: Mapping[str, "Equipment"] = field(default_factory=dict)
    connectors: Mapping[str, "Connector"] = field(default_factory=dict)
    meters: Mapping[str, "MeterRecord"] = field(default_factory=dict)
    limits: Mapping[str, "LimitProfile"] = field(default_factory=dict)
    cautions: Mapping[str, "Caution"] = field(default_factory=dict)
    sequences: Mapping[str, "SequenceFile"] = field(default_factory=dict)
    routes: Mapping[str, "RouteFile"] = field(default_factory=dict)
    texts: Mapping[str, str] = field(default_factory=dict)

    def texts_for(self, route: str, equipment: str, meters: tuple[str, ...] = ()) -> Mapping[str, str]:
        """The texts that a run of that route over that equipment with those meters pins."""
        ...


def load_catalogue(*folders: Path) -> Catalogue:
    """The shipped files and those of the given folders (which win by id); raises FileProblems with all complaints."""
    ...


def catalogue_from_texts(texts: Mapping[str, str]) -> Catalogue:
    """The catalogue of pinned texts, by the names that `texts_for` gave them."""
    ...
