"""What came into the workbook by a day file, as the bench that imported it has noted in its chain."""

import json
import sqlite3
from collections.abc import Iterator
from typing import NamedTuple

_NOTES = """
SELECT chains.uuid, entries.number, entries.kind, entries.sealed
FROM entries JOIN chains ON chains.id = entries.chain_id
WHERE entries.kind IN ('anchor', 'imported') ORDER BY chains.uuid, entries.number
"""
_LAST = """
SELECT chains.uuid, max(entries.number) FROM entries JOIN chains ON chains.id = entries.chain_id
WHERE chains.kind <> 'unit' GROUP BY chains.uuid
"""


class _Note(NamedTuple):
    chain: str
    number: int
    said: dict[str, tuple[int, int]]
    added: dict[str, tuple[int, int]]
    """of what it says, that of which it can speak"""

    def covers(self, chain: str, number: int) -> bool:
        """Whether it says that this entry was added then."""
        first, last = self.added.get(chain, (1, 0))
        return first <= number <= last


class Imports:
    """The notes of all benches; a note that itself came by a day file tells of another workbook and does not count.

    Nor does a note count for the chain that it stands in, for numbers that are not there, or for what its bench had
    anchored before: that was here already.
    """

    def __init__(self, connection: sqlite3.Connection, *, own: str = "") -> None:
        """`own` is the bench of this computer: nothing of its chain is taken for imported."""
        last = dict(connection.execute(_LAST)) | {own: -1}
        notes = list(_notes(connection, last))
        self._notes = [note for note in notes if _counts(note, notes, ())]

    def came(self, chain: str, number: int) -> bool:
        """Whether that entry of a bench's or the workshop's chain was not made in this workbook."""
        return any(note.covers(chain, number) for note in self._notes)

    def brought(self, chain: str, number: int, *, before: tuple[str, int] | None = None) -> bool:
        """Whether an entry of that number came, beside one that may have been here; `before` an entry of a bench."""
        for note in self._notes:
            first, last = note.said.get(chain, (1, 0))
            is_before = before is None or (note.chain == before[0] and note.number < before[1])
            if is_before and first <= number <= last:
                return True
        return False


def _notes(connection: sqlite3.Connection, last: dict[str, int]) -> Iterator[_Note]:
    """Each note with what it can speak of; `last` is the highest number that is there, by chain."""
    anchored: dict[tuple[str, str], int] = {}
    for chain, number, kind, sealed in connection.execute(_NOTES):
        content = json.loads(sealed)["content"]
        if kind == "anchor":
            for uuid, (head, _) in content["heads"].items():
                anchored[chain, uuid] = max(head, anchored.get((chain, uuid), -1))
            continue
        added = {
            uuid: (max(first, anchored.get((chain, uuid), -1) + 1), end)
            for uuid, (first, end) in content["chains"].items()
            if uuid != chain and first >= 0 and end <= last.get(uuid, -1)
        }
        yield _Note(chain, number, content["chains"], added)


def _counts(note: _Note, notes: list[_Note], asked: tuple[_Note, ...]) -> bool:
    """Whether no note that counts says that this one came; the later of two benches' notes says so of the earlier."""
    covering = [one for one in notes if one not in asked and one.covers(note.chain, note.number)]
    return not any(_counts(one, notes, (*asked, note)) for one in covering)
