"""Chains of which there are two records: where they part, and what each side says."""

import json
from typing import NamedTuple

from benchapp.sequences.planning.entries import Entry
from benchapp.words import say
from benchapp.workbook.file.store import Store
from benchapp.workbook.record.sealing import read_sealed

_FORKED = """
SELECT chains.kind, chains.forked_at, coalesce(units.mark, benches.name, '') FROM chains
LEFT JOIN units ON units.chain_id = chains.id LEFT JOIN benches ON benches.chain_id = chains.id
WHERE chains.forked_at IS NOT NULL ORDER BY chains.kind, chains.uuid
"""
_BEHIND = """
SELECT entries.sealed, entries.sha256 FROM entries JOIN chains ON chains.id = entries.chain_id
JOIN units ON units.chain_id = chains.id WHERE units.mark = ? AND entries.number >= chains.forked_at
ORDER BY entries.number, entries.sha256
"""


class Fork(NamedTuple):
    """Whose record forks (unit, bench or workshop, and its name) and the first number that two entries claim."""

    kind: str
    name: str
    number: int

    @property
    def words(self) -> str:
        """What there is to know about the record of a bench or a workshop, as sentences."""
        whose = f"the bench {self.name}" if self.name else "a workshop"
        return say(
            "There are two records of {whose} from entry {number} on: it was worked on in two files. "
            "Both are kept; here the one goes on that was made here.",
            whose=whose,
            number=self.number,
        )


def read_forks(store: Store) -> tuple[Fork, ...]:
    """Every forked chain of a workbook."""
    with store.looking() as connection:
        return tuple(Fork(kind, name, number) for kind, number, name in connection.execute(_FORKED))


def read_sides(store: Store, mark: str) -> tuple[tuple[Entry, ...], ...]:
    """The sides of a unit's record from the fork on, each to its end, by their first hash; none without a fork."""
    with store.looking() as connection:
        behind = connection.execute(_BEHIND, (mark,)).fetchall()
    following: dict[str, list[Entry]] = {}
    for sealed, link in behind:
        following.setdefault(json.loads(sealed)["previous"], []).append(read_sealed(sealed, link))
    before = json.loads(behind[0][0])["previous"] if behind else ""
    waiting: list[tuple[Entry, ...]] = [(entry,) for entry in following.get(before, ())]
    sides = []
    while waiting:
        side = waiting.pop(0)
        further = following.get(side[-1].sha256, ())
        waiting += [(*side, entry) for entry in further]
        if not further:
            sides.append(side)
    return tuple(sorted(sides, key=lambda side: [entry.sha256 for entry in side]))
