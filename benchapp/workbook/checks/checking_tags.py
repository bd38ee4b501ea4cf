"""Whether the tags that a bench says it printed can have been printed: from an entry of that unit, with a mark it bore.

A tag names the unit by its chain's UUID and quotes the first digits of the record's hash. What it says of the
disposition are words of the time of printing, and are left as they are.
"""

import sqlite3
from collections.abc import Container, Iterator
from typing import NamedTuple

from benchapp.sequences.planning.chain_contents import PrintedTag, ShelfMarkContent, TagsPrintedContent, UnitBeginning
from benchapp.sequences.planning.entries import is_of
from benchapp.workbook.model.values import Difference
from benchapp.workbook.record.imports import Imports
from benchapp.workbook.record.sealing import read_sealed

FEWEST_DIGITS = 12
"""of the record's hash, as they are printed on a tag"""
_PRINTED = """
SELECT entries.sealed, entries.sha256, coalesce(benches.name, 'a bench') FROM chains
JOIN entries ON entries.chain_id = chains.id LEFT JOIN benches ON benches.chain_id = chains.id
WHERE chains.kind = 'bench' AND entries.kind = 'tags-printed' ORDER BY chains.id, entries.number, entries.sha256
"""
_OF_UNIT = """
SELECT entries.kind, entries.sealed, entries.sha256, units.mark FROM chains
JOIN entries ON entries.chain_id = chains.id JOIN units ON units.chain_id = chains.id WHERE chains.uuid = ?
"""
_MARKS = ("beginning", "shelf-mark")


class _Unit(NamedTuple):
    """What a tag of a unit is held against: its entries' hashes, both sides of a fork, and marks it ever bore."""

    mark: str
    hashes: tuple[str, ...]
    shelf_marks: frozenset[str]


def tags_differ(connection: sqlite3.Connection, broken: Container[str], imports: Imports) -> Iterator[Difference]:
    """Tags printed from no entry of their unit, or with a mark that it never bore; `broken` are UUIDs of chains.

    A unit that is not here says nothing of its tags. An entry that came by a day file may quote what was never brought.
    """
    units: dict[str, _Unit | None] = {}
    for sealed, link, bench in connection.execute(_PRINTED).fetchall():
        entry = read_sealed(sealed, link)
        if entry.chain in broken or not is_of(entry, TagsPrintedContent):
            continue
        for tag in entry.content.tags:
            if tag.unit not in units:
                units[tag.unit] = None if tag.unit in broken else _unit(connection, tag.unit)
            unit = units[tag.unit]
            wrong = _fault(tag, unit) if unit else ""
            if wrong and not imports.came(entry.chain, entry.number):
                yield Difference(unit="", entry=entry.number, words=f"Entry {entry.number} of {bench} {wrong}.")


def _unit(connection: sqlite3.Connection, uuid: str) -> _Unit | None:
    rows = connection.execute(_OF_UNIT, (uuid,)).fetchall()
    if not rows:
        return None
    contents = [read_sealed(sealed, link).content for kind, sealed, link, _ in rows if kind in _MARKS]
    marks = frozenset(one.shelf_mark for one in contents if isinstance(one, UnitBeginning | ShelfMarkContent))
    return _Unit(mark=rows[0][3], hashes=tuple(row[2] for row in rows), shelf_marks=marks)


def _fault(tag: PrintedTag, unit: _Unit) -> str:
    if tag.shelf_mark not in unit.shelf_marks:
        return f"says that a tag of {unit.mark} was printed with the mark {tag.shelf_mark!r}, which it never bore"
    if len(tag.record) < FEWEST_DIGITS or not any(link.startswith(tag.record) for link in unit.hashes):
        return f"says that a tag of {unit.mark} was printed from a record {tag.record!r}, of which no entry is here"
    return ""
