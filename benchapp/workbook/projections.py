"""The tables that are made from the record, made again from it and compared: lots, units, runs, benches, tags printed.

What only the engine can say of a unit (disposition, due, grade, price, stages) is compared in `actions.audit`.
"""

import json
import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.workbook.chains import BENCH, UNIT, WORKSHOP
from benchapp.workbook.marks import what_units_are_called
from benchapp.workbook.problems import as_sentences
from benchapp.workbook.sealing import canonical, read_sealed
from benchapp.workbook.store import Store
from benchapp.workbook.values import Difference

_ENTRIES = """
SELECT entries.sealed, entries.sha256 FROM entries JOIN chains ON chains.id = entries.chain_id
WHERE entries.kind IN ('beginning', 'run', 'shelf-mark', 'settings', 'lot', 'named', 'opening', 'closing',
                       'tags-printed')
  AND (chains.forked_at IS NULL OR entries.number < chains.forked_at)
ORDER BY entries.chain_id, entries.number
"""
_TABLES = {
    "workbook": "SELECT 'the workbook', uuid, made, settings, settings_entry, settings_sha256 FROM workbook",
    "chains": "SELECT uuid, kind FROM chains",
    "benches": """
        SELECT chains.uuid, benches.name, benches.day, benches.day_sha256
        FROM benches JOIN chains ON chains.id = benches.chain_id""",
    "lots": 'SELECT uuid, name, equipment, title, taken_in, "by", note FROM lots',
    "units": """
        SELECT chains.uuid, lots.uuid, units.mark, units.shelf_mark, units.held, units.route, runs.uuid
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
_COLUMNS = {
    "workbook": ("uuid", "made", "settings", "settings_entry", "settings_sha256"),
    "chains": ("kind",),
    "benches": ("name", "day", "day_sha256"),
    "lots": ("name", "equipment", "title", "taken_in", "by", "note"),
    "units": ("lot", "mark", "shelf_mark", "held", "route", "run"),
    "runs": ("unit", "number", "started", "by", "route", "equipment", "settings", "pins"),
    "tags_printed": ("at", "by", "disposition", "record_hash"),
}
_Rows = dict[str, tuple[Any, ...]]


def check_projections(store: Store) -> Iterator[Difference]:
    """Every row that is not what the record makes it, in the order of the tables."""
    try:
        with as_sentences(store.name), store.looking() as connection:
            made = Made()
            for text, link in connection.execute(_ENTRIES):
                made.take(read_sealed(text, link))
            forked = dict(connection.execute("SELECT uuid, forked_at FROM chains WHERE forked_at IS NOT NULL"))
            expected = made.tables(forked)
            marks = {uuid: row[1] for uuid, row in expected["units"].items()}
            for table, statement in _TABLES.items():
                there = {row[0]: tuple(row[1:]) for row in connection.execute(statement)}
                yield from _differences(table, there, expected[table], marks)
            yield from _missing_pins(connection, made)
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        words = f"The record cannot be read as one of this program's ({type(error).__name__}: {error})."
        yield Difference(unit="", entry=None, words=words)


@dataclass
class Made:
    """The rows made from the entries, as these come: chain after chain, each from its beginning on."""

    rows: dict[str, _Rows] = field(default_factory=lambda: {table: {} for table in _TABLES})
    settings: dict[tuple[str, int], str] = field(default_factory=dict)
    """settings by chain and number, for the runs that cite them"""
    lots: dict[str, str] = field(default_factory=dict)
    units: dict[str, "MadeUnit"] = field(default_factory=dict)
    runs: list[tuple[str, int, Entry]] = field(default_factory=list)

    def take(self, entry: Entry) -> None:
        """Follow one entry."""
        _TAKE[entry.kind](self, entry)

    def tables(self, forked_at: Mapping[str, int]) -> dict[str, _Rows]:
        """All rows, once every entry was taken."""
        called = what_units_are_called({uuid: unit.shelf_mark for uuid, unit in self.units.items()}, forked_at)
        for uuid, unit in self.units.items():
            mark, held = called[uuid]
            self.rows["units"][uuid] = (unit.lot, mark, unit.shelf_mark, held, unit.route, unit.run)
        for uuid, number, entry in self.runs:
            settings = next((self.settings.get((one.chain, one.number), "") for one in entry.cites), "")
            content = entry.content
            pinned = (content["route"], content["equipment"], settings, content["pins"])
            self.rows["runs"][entry.run] = (uuid, number, entry.at, entry.by, *pinned)
        return self.rows

    def begin(self, entry: Entry) -> None:
        """A chain's beginning: a unit's says its lot, a bench's its name, the workshop's when it was made."""
        if "lot" in entry.content:
            self.rows["chains"][entry.chain] = (UNIT,)
            content = entry.content
            unit = MadeUnit(content["lot"], content["shelf_mark"])
            self.units[entry.chain] = unit
            self._run(entry)
        elif "name" in entry.content:
            self.rows["chains"][entry.chain] = (BENCH,)
            self.rows["benches"][entry.chain] = (entry.content["name"], None, "")
        else:
            self.rows["chains"][entry.chain] = (WORKSHOP,)
            self.rows["workbook"].setdefault("the workbook", (entry.chain, entry.content["made"], "", 0, ""))

    def _run(self, entry: Entry) -> None:
        unit = self.units[entry.chain]
        unit.runs += 1
        unit.route, unit.run = entry.content["route"], entry.run
        self.runs.append((entry.chain, unit.runs, entry))

    def _mark(self, entry: Entry) -> None:
        self.units[entry.chain].shelf_mark = entry.content["shelf_mark"]

    def _settle(self, entry: Entry) -> None:
        text = canonical(entry.content["settings"])
        self.settings[entry.chain, entry.number] = text
        uuid, made = self.rows["workbook"]["the workbook"][:2]
        if uuid == entry.chain:
            self.rows["workbook"]["the workbook"] = (uuid, made, text, entry.number, entry.sha256)

    def _lot(self, entry: Entry) -> None:
        content = entry.content
        said = tuple(content[name] for name in ("name", "equipment", "title"))
        self.rows["lots"][content["lot"]] = (*said, entry.at, entry.by, content["note"])

    def _name(self, entry: Entry) -> None:
        _, day, day_sha256 = self.rows["benches"][entry.chain]
        self.rows["benches"][entry.chain] = (entry.content["name"], day, day_sha256)

    def _day(self, entry: Entry) -> None:
        name = self.rows["benches"][entry.chain][0]
        self.rows["benches"][entry.chain] = (name, entry.number, entry.sha256)

    def _tags(self, entry: Entry) -> None:
        for tag in entry.content["tags"]:
            row = (entry.at, entry.by, tag["disposition"], tag["record"])
            self.rows["tags_printed"][f"{entry.uuid} {tag['unit']}"] = row


@dataclass
class MadeUnit:
    """What a unit's own chain says of it, so far."""

    lot: str
    shelf_mark: str
    route: str = ""
    run: str = ""
    runs: int = 0


_TAKE = {
    EntryKind.beginning: Made.begin,
    EntryKind.run: Made._run,
    EntryKind.shelf_mark: Made._mark,
    EntryKind.settings: Made._settle,
    EntryKind.lot: Made._lot,
    EntryKind.named: Made._name,
    EntryKind.opening: Made._day,
    EntryKind.closing: Made._day,
    EntryKind.tags_printed: Made._tags,
}


def _differences(table: str, there: _Rows, expected: _Rows, marks: Mapping[str, str]) -> Iterator[Difference]:
    for key in sorted({*there, *expected}):
        unit = marks.get(key, "") if table in ("units", "chains") else ""
        name = unit or key
        if key not in expected:
            yield Difference(unit="", entry=None, words=f"{name} stands among the {_words(table)}, in no record.")
        elif key not in there:
            yield Difference(unit=unit, entry=None, words=f"{name} is missing among the {_words(table)}.")
        else:
            for column, found, said in zip(_COLUMNS[table], there[key], expected[key], strict=True):
                if found != said:
                    words = f"{name}: its {column} among the {_words(table)} is {found!r}, the record says {said!r}."
                    yield Difference(unit=unit, entry=None, words=words)


def _words(table: str) -> str:
    return {"workbook": "workbook's own words", "tags_printed": "tags printed"}.get(table, table)


def _missing_pins(connection: sqlite3.Connection, made: Made) -> Iterator[Difference]:
    """Lists of texts, and texts of the lists, that are not there."""
    texts = dict(connection.execute("SELECT sha256, text FROM revisions"))
    for listed in sorted({entry.content["pins"] for _, _, entry in made.runs}):
        if listed not in texts:
            yield Difference(unit="", entry=None, words=f"A list of pinned texts ({listed[:8]}) is missing.")
            continue
        for name, link in json.loads(texts[listed]).items():
            if link not in texts:
                yield Difference(unit="", entry=None, words=f"The pinned text {name} ({link[:8]}) is missing.")
