"""What came into the workbook by a day file, as the bench that imported it has noted in its chain."""

import json
import sqlite3
from typing import NamedTuple

_NOTES = """
SELECT chains.uuid, entries.number, entries.sealed FROM entries JOIN chains ON chains.id = entries.chain_id
WHERE entries.kind = 'imported' ORDER BY chains.uuid, entries.number
"""


class _Note(NamedTuple):
    chain: str
    number: int
    added: dict[str, tuple[int, int]]

    def covers(self, chain: str, number: int) -> bool:
        """Whether it says that this entry was added then."""
        first, last = self.added.get(chain, (1, 0))
        return first <= number <= last


class Imports:
    """The notes of all benches; a note that itself came by a day file tells of another workbook and does not count."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        notes = [_note(*row) for row in connection.execute(_NOTES)]
        self._notes = [note for note in notes if _counts(note, notes, ())]

    def came(self, chain: str, number: int) -> bool:
        """Whether that entry of a bench's or the workshop's chain was not made in this workbook."""
        return any(note.covers(chain, number) for note in self._notes)


def _note(chain: str, number: int, sealed: str) -> _Note:
    added = json.loads(sealed)["content"]["chains"]
    return _Note(chain, number, {uuid: (first, last) for uuid, (first, last) in added.items()})


def _counts(note: _Note, notes: list[_Note], asked: tuple[_Note, ...]) -> bool:
    """Whether no note that counts says that this one came; the later of two benches' notes says so of the earlier."""
    covering = [one for one in notes if one not in asked and one.covers(note.chain, note.number)]
    return not any(_counts(one, notes, (*asked, note)) for one in covering)
