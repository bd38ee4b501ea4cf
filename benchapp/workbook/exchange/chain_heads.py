"""Where chains end and fork, and how far they are anchored, worked out anew after entries came from elsewhere."""

import json
import sqlite3
from itertools import pairwise
from typing import NamedTuple

from benchapp.workbook.exchange.gathering import HAS_ENTRY
from benchapp.workbook.record.chains import UNIT, Head
from benchapp.workbook.record.imports import Imports

_LINKS = "SELECT number, sha256, at FROM entries WHERE chain_id = ? ORDER BY number, sha256"
_BEHIND = "SELECT sealed, sha256 FROM entries WHERE chain_id = ? AND number > ?"
_MOVE = "UPDATE chains SET last_entry = ?, last_at = ?, last_sha256 = ?, forked_at = ? WHERE id = ?"


class _Place(NamedTuple):
    number: int
    sha256: str
    at: str


def settle_head(connection: sqlite3.Connection, chain: Head, kind: str, imports: Imports) -> None:
    """Where the chain ends now; `chain` is where it ended before (number -1: it was not there).

    A forked chain ends with the highest number and the lowest hash, whatever came first. But a bench's and the
    workshop's chain goes on from what was made in this workbook behind the fork.
    """
    places = [_Place(*row) for row in connection.execute(_LINKS, (chain.chain_id,))]
    forked_at = next((one.number for one, other in pairwise(places) if one.number == other.number), None)
    last = next(one for one in places if one.number == places[-1].number)
    behind_the_fork = forked_at is not None and chain.number >= forked_at
    if kind != UNIT and behind_the_fork and not imports.came(chain.chain, chain.number):
        line_end = _end_of_line(connection, chain)
        last = next(one for one in places if one.sha256 == line_end)
    connection.execute(_MOVE, (last.number, last.at, last.sha256, forked_at, chain.chain_id))


def _end_of_line(connection: sqlite3.Connection, head: Head) -> str:
    """How far the line goes on from its former end before it forks itself."""
    following: dict[str, list[str]] = {}
    for sealed, link in connection.execute(_BEHIND, (head.chain_id, head.number)):
        following.setdefault(json.loads(sealed)["previous"], []).append(link)
    end = head.sha256
    while len(further := following.get(end, [])) == 1:
        end = further[0]
    return end


def settle_anchored(connection: sqlite3.Connection) -> None:
    """The highest number of each chain that an anchor names and that is there."""
    highest: dict[str, int] = {}
    known: dict[tuple[str, int, str], bool] = {}
    for (sealed,) in connection.execute("SELECT sealed FROM entries WHERE kind = 'anchor'").fetchall():
        for uuid, (number, link) in json.loads(sealed)["content"]["heads"].items():
            place = (uuid, number, link)
            if place not in known:
                known[place] = connection.execute(HAS_ENTRY, place).fetchone() is not None
            if known[place]:
                highest[uuid] = max(highest.get(uuid, -1), number)
    chains = connection.execute("SELECT uuid, anchored FROM chains").fetchall()
    moved = [(highest.get(uuid, -1), uuid) for uuid, anchored in chains if anchored != highest.get(uuid, -1)]
    connection.executemany("UPDATE chains SET anchored = ? WHERE uuid = ?", moved)
