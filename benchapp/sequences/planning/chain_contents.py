"""What the entries carry that a workbook keeps for itself: beginnings of chains, runs, marks, a bench's days, settings.

The engine passes over them. UUIDs are those of chains; `pins` is the hash of a list of pinned texts.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from benchapp.sequences.language.vocabulary import ReadingSource
from benchapp.sequences.planning.content import Content


@dataclass(frozen=True, slots=True, kw_only=True)
class RunContent(Content):
    """A run of a unit's route; the run's UUID is the entry's, its settings are those that the entry cites."""

    route: str
    equipment: str
    pins: str
    why: str = ""
    """why another run was begun, where somebody said so"""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitBeginning(RunContent):
    """A unit was taken in with a lot (UUID), under the mark on its shelf; its first run begins."""

    lot: str
    shelf_mark: str
    known: Mapping[str, str] = field(default_factory=dict)
    """what was known of this unit when it came, by what it is: serial number, where from, who gave it ..."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchBeginning(Content):
    """A bench of that name is met for the first time."""

    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkshopBeginning(Content):
    """The workbook was made at that time."""

    made: str


BEGINNINGS: Mapping[str, type[Content]] = {"lot": UnitBeginning, "name": BenchBeginning, "made": WorkshopBeginning}
"""by the key that only that chain's beginning has"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfMarkContent(Content):
    """The mark that a unit bears from here on."""

    shelf_mark: str
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LentContent(Content):
    """The bench (UUID) that alone may record on the unit from here on; empty: given back."""

    to: str
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedContent(Content):
    """The lot (UUID) that the unit is in from here on, and why it is no longer in the one before."""

    lot: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedContent(Content):
    """The name of the bench from here on."""

    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterProof:
    """A meter looked at when the bench was opened: proved on a known source, leads measured (ohm) or nulled."""

    meter: str
    proved: bool
    lead_resistance: float | None = None
    nulled: bool = False
    leads_source: ReadingSource = ReadingSource.keys
    """where the digits of the lead resistance come from"""
    leads_sent: str = ""
    """what the meter sent of it; empty where somebody typed it"""
    known_reading: float | None = None
    """V that it sent of the known source; None where its display alone was looked at"""
    known_sent: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningContent(Content):
    """The bench was opened: its meters and what proved them, the RCD, who else was there."""

    meters: tuple[MeterProof, ...]
    rcd_button_tested: bool
    source: str = ""
    room: str = ""
    note: str = ""
    rcd_rating: float | None = None
    """the residual current in A that is printed on the RCD; None: nobody read it"""
    rcd_reset: bool = False
    """whether it was switched on again after its button had tripped it"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingContent(Content):
    """The opening of that number is closed, with what was found of the meters then."""

    opening: int
    meters: tuple[MeterProof, ...]
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedTag:
    """A tag of one unit, with the hash of the record that it was printed from."""

    unit: str
    shelf_mark: str
    disposition: str
    record: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TagsPrintedContent(Content):
    """Tags that were put on paper in one go."""

    tags: tuple[PrintedTag, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorContent(Content):
    """The newest entry (number, hash) of every chain that moved since the anchor before, by the chain's UUID."""

    heads: Mapping[str, tuple[int, str]]
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportedContent(Content):
    """A day file (its SHA-256) was taken in; by UUID of a bench or workshop the first and last number that it added."""

    file: str
    chains: Mapping[str, tuple[int, int]]


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsContent(Content):
    """The workshop's settings from here on, whole; `reason` is why, where they ask for less than those before."""

    settings: Mapping[str, Any]
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LotContent(Content):
    """A lot was taken in; `lot` is its UUID, `units` are the marks on the shelf by the unit's UUID.

    A further entry for the same lot says which units came into it later, and what it is called as a whole since.
    """

    lot: str
    name: str
    equipment: str
    route: str
    title: str
    note: str = ""
    units: Mapping[str, str]
