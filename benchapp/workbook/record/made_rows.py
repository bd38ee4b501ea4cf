"""The rows that are made from the record: lots, units, runs, benches, tags printed, the workbook's own words.

What is made depends on which entries there are alone, never on the order in which they came. Where two entries claim
the same place of a chain, only what stands counts (`standing.py`); lots and tags printed count from both sides, since
what they say has happened in any case.
"""

import sqlite3
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from benchapp.sequences.planning.chain_contents import (
    BenchBeginning,
    LentContent,
    LotContent,
    MovedContent,
    NamedContent,
    RunContent,
    SettingsContent,
    ShelfMarkContent,
    TagsPrintedContent,
    UnitBeginning,
    WorkshopBeginning,
)
from benchapp.sequences.planning.entries import Entry, EntryKind, is_of
from benchapp.words import say
from benchapp.workbook.record.chains import BENCH, UNIT, WORKSHOP
from benchapp.workbook.record.marks import tell_apart, what_units_are_called
from benchapp.workbook.record.sealing import canonical, read_sealed
from benchapp.workbook.record.standing import Standing

TABLES = {
    "workbook": "SELECT 'the workbook', uuid, made, settings, settings_entry, settings_sha256, id FROM workbook",
    "chains": "SELECT uuid, kind FROM chains",
    "benches": """
        SELECT chains.uuid, benches.name, benches.day, benches.day_sha256
        FROM benches JOIN chains ON chains.id = benches.chain_id""",
    "lots": 'SELECT uuid, name, given_name, equipment, route, title, taken_in, "by", note, units FROM lots',
    "units": """
        SELECT chains.uuid, lots.uuid, units.mark, units.shelf_mark, units.held, units.lent_to, units.route,
               runs.uuid
        FROM units JOIN chains ON chains.id = units.chain_id JOIN lots ON lots.id = units.lot_id
        LEFT JOIN runs ON runs.id = units.run_id""",
    "runs": """
        SELECT runs.uuid, chains.uuid, runs.number, runs.started, runs."by", runs.route, runs.equipment, runs.settings,
               runs.pins
        FROM runs JOIN chains ON chains.id = runs.unit_id""",
    "tags_printed": """
        SELECT entries.uuid || ' ' || chains.uuid, tags_printed.at, tags_printed."by", tags_printed.disposition,
               tags_printed.record_hash
        FROM tags_printed JOIN entries ON entries.id = tags_printed.entry_id
        JOIN chains ON chains.id = tags_printed.unit_id""",
}
"""each table as it says itself: a key, then what is compared, in the order in which it is made again"""
COLUMNS = {
    "workbook": ("uuid", "made", "settings", "settings_entry", "settings_sha256", "id"),
    "chains": ("kind",),
    "benches": ("name", "day", "day_sha256"),
    "lots": ("name", "given_name", "equipment", "route", "title", "taken_in", "by", "note", "units"),
    "units": ("lot", "mark", "shelf_mark", "held", "lent_to", "route", "run"),
    "runs": ("unit", "number", "started", "by", "route", "equipment", "settings", "pins"),
    "tags_printed": ("at", "by", "disposition", "record_hash"),
}
Rows = dict[str, tuple[Any, ...]]
MADE_FROM = """
SELECT entries.sealed, entries.sha256 FROM entries JOIN chains ON chains.id = entries.chain_id
WHERE entries.kind IN ('beginning', 'run', 'shelf-mark', 'lent', 'moved', 'settings', 'lot', 'named', 'opening',
                       'closing', 'tags-printed')
ORDER BY chains.uuid, entries.number, entries.sha256
"""
_OWN = "SELECT uuid FROM chains ORDER BY id LIMIT 1"
"""the chain of the workshop that made the file: it was the first in it"""


class TwoAlike(ValueError):
    """What is there once is said to be there twice, as a sentence."""


def made_rows(connection: sqlite3.Connection) -> "Made":
    """What the record in the file makes of the tables; `tables()` gives them. Raises TwoAlike."""
    forked = dict(connection.execute("SELECT uuid, forked_at FROM chains WHERE forked_at IS NOT NULL"))
    (own,) = connection.execute(_OWN).fetchone()
    made = Made(own=own, forked_at=forked, standing=Standing(connection))
    for text, link in connection.execute(MADE_FROM):
        made.take(read_sealed(text, link))
    return made


@dataclass
class Made:
    """The rows made from the entries, as these come: chain after chain, each from its beginning on."""

    own: str
    """UUID of the chain of this workbook's own workshop"""
    forked_at: Mapping[str, int] = field(default_factory=dict)
    standing: Standing = field(default_factory=Standing)
    rows: dict[str, Rows] = field(default_factory=lambda: {table: {} for table in TABLES})
    settings: dict[str, str] = field(default_factory=dict)
    """settings by the hash of their entry, for the runs that cite them"""
    lots: dict[str, "MadeLot"] = field(default_factory=dict)
    units: dict[str, "MadeUnit"] = field(default_factory=dict)
    runs: dict[str, tuple[str, int, Entry[RunContent]]] = field(default_factory=dict)
    tags: list[tuple[str, str, tuple[Any, ...]]] = field(default_factory=list)

    def take(self, entry: Entry) -> None:
        """Follow one entry."""
        counts_from_both_sides = entry.kind in (EntryKind.settings, EntryKind.lot, EntryKind.tags_printed)
        if counts_from_both_sides or self.standing.stands(entry.chain, entry.number, entry.sha256):
            _TAKE[entry.kind](self, entry)

    def tables(self) -> dict[str, Rows]:
        """All rows, once every entry was taken."""
        called = what_units_are_called({uuid: unit.shelf_mark for uuid, unit in self.units.items()}, self.forked_at)
        for uuid, unit in self.units.items():
            mark, held = called[uuid]
            self.rows["units"][uuid] = (unit.lot, mark, unit.shelf_mark, held, unit.lent_to, unit.route, unit.run)
        self._make_lots()
        for uuid, number, entry in self.runs.values():
            settings = next((self.settings[one.sha256] for one in entry.cites if one.sha256 in self.settings), "")
            content = entry.content
            pinned = (content.route, content.equipment, settings, content.pins)
            self.rows["runs"][entry.run] = (uuid, number, entry.at, entry.by, *pinned)
        for printed, unit_uuid, row in self.tags:
            if unit_uuid in self.units:  # a bench from elsewhere has printed tags of units that were never here
                self.rows["tags_printed"][f"{printed} {unit_uuid}"] = row
        return self.rows

    def _make_lots(self) -> None:
        """The lots of the own workshop, and those of others of which a unit is here."""
        met = Counter(unit.lot for unit in self.units.values())
        here = {uuid: lot for uuid, lot in self.lots.items() if lot.workshop == self.own or uuid in met}
        names = tell_apart({uuid: lot.given_name for uuid, lot in here.items()})
        for uuid, lot in here.items():
            self.rows["lots"][uuid] = (names[uuid], lot.given_name, *lot.said, met[uuid])

    def begin(self, entry: Entry) -> None:
        """A chain's beginning: a unit's says its lot, a bench's its name, the workshop's when it was made."""
        self.rows["chains"][entry.chain] = (kind_of_chain(entry),)
        if is_of(entry, UnitBeginning):
            self.units[entry.chain] = MadeUnit(entry.content.lot, entry.content.shelf_mark)
            self._run(entry)
        elif is_of(entry, BenchBeginning):
            self.rows["benches"][entry.chain] = (entry.content.name, None, "")
        elif is_of(entry, WorkshopBeginning) and entry.chain == self.own:
            self.rows["workbook"]["the workbook"] = (entry.chain, entry.content.made, "", 0, "", 1)

    def _run(self, entry: Entry[RunContent]) -> None:
        if entry.run in self.runs:
            raise TwoAlike(say("Two runs bear the same UUID {run}.", run=entry.run))
        unit = self.units[entry.chain]
        unit.runs += 1
        unit.route, unit.run = entry.content.route, entry.run
        self.runs[entry.run] = (entry.chain, unit.runs, entry)

    def _mark(self, entry: Entry[ShelfMarkContent]) -> None:
        self.units[entry.chain].shelf_mark = entry.content.shelf_mark

    def _lend(self, entry: Entry[LentContent]) -> None:
        self.units[entry.chain].lent_to = entry.content.to

    def _move(self, entry: Entry[MovedContent]) -> None:
        self.units[entry.chain].lot = entry.content.lot

    def _settle(self, entry: Entry[SettingsContent]) -> None:
        text = canonical(entry.content.settings)
        self.settings[entry.sha256] = text
        if entry.chain == self.own and self.standing.stands(entry.chain, entry.number, entry.sha256):
            made = self.rows["workbook"]["the workbook"][1]
            self.rows["workbook"]["the workbook"] = (entry.chain, made, text, entry.number, entry.sha256, 1)

    def _lot(self, entry: Entry[LotContent]) -> None:
        content = entry.content
        said = (content.equipment, content.route, content.title)
        first = self.lots.get(content.lot)
        if first is None:
            self.lots[content.lot] = MadeLot(entry.chain, content.name, (*said, entry.at, entry.by, content.note))
        elif first.workshop == entry.chain:
            self.lots[content.lot] = first._replace(said=(*said, *first.said[len(said) :]))

    def _name(self, entry: Entry[NamedContent]) -> None:
        _, day, day_sha256 = self.rows["benches"][entry.chain]
        self.rows["benches"][entry.chain] = (entry.content.name, day, day_sha256)

    def _day(self, entry: Entry) -> None:
        name = self.rows["benches"][entry.chain][0]
        self.rows["benches"][entry.chain] = (name, entry.number, entry.sha256)

    def _tags(self, entry: Entry[TagsPrintedContent]) -> None:
        for tag in entry.content.tags:
            row = (entry.at, entry.by, tag.disposition, tag.record)
            self.tags.append((entry.uuid, tag.unit, row))


def kind_of_chain(beginning: Entry) -> str:
    """Whose chain it is, by its beginning."""
    if is_of(beginning, UnitBeginning):
        return UNIT
    return BENCH if is_of(beginning, BenchBeginning) else WORKSHOP


class MadeLot(NamedTuple):
    """What a lot's entry says of it, and whose workshop's it is."""

    workshop: str
    given_name: str
    said: tuple[Any, ...]


@dataclass
class MadeUnit:
    """What a unit's own chain says of it, so far."""

    lot: str
    shelf_mark: str
    route: str = ""
    run: str = ""
    runs: int = 0
    lent_to: str = ""


_TAKE: dict[EntryKind, Callable[[Made, Any], None]] = {
    EntryKind.beginning: Made.begin,
    EntryKind.run: Made._run,
    EntryKind.shelf_mark: Made._mark,
    EntryKind.lent: Made._lend,
    EntryKind.moved: Made._move,
    EntryKind.settings: Made._settle,
    EntryKind.lot: Made._lot,
    EntryKind.named: Made._name,
    EntryKind.opening: Made._day,
    EntryKind.closing: Made._day,
    EntryKind.tags_printed: Made._tags,
}
