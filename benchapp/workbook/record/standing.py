"""Which entries of a chain stand where it has two sides.

Of a unit's chain only the part before the fork stands. The chain of a bench or of the workshop goes on: there the line
stands that ends in the chain's head.
"""

import json
import sqlite3

from benchapp.workbook.record.chains import UNIT

_FORKED = "SELECT id, uuid, kind, forked_at, last_sha256 FROM chains WHERE forked_at IS NOT NULL"
_BEHIND = "SELECT sealed, sha256 FROM entries WHERE chain_id = ? AND number >= ? ORDER BY number DESC"


class Standing:
    """Looked up once for all forked chains of a file; without one, everything stands."""

    def __init__(self, connection: sqlite3.Connection | None = None) -> None:
        self._forked_at: dict[str, int] = {}
        self._line: set[str] = set()
        if connection is not None:
            self._read(connection)

    def _read(self, connection: sqlite3.Connection) -> None:
        for chain_id, uuid, kind, forked_at, head in connection.execute(_FORKED).fetchall():
            self._forked_at[uuid] = forked_at
            if kind != UNIT:
                behind = connection.execute(_BEHIND, (chain_id, forked_at))
                self._line |= _line_to(head, {link: json.loads(text)["previous"] for text, link in behind})

    def stands(self, chain: str, number: int, sha256: str) -> bool:
        """Whether that entry counts."""
        forked_at = self._forked_at.get(chain)
        return forked_at is None or number < forked_at or sha256 in self._line


def _line_to(head: str, previous: dict[str, str]) -> set[str]:
    line: set[str] = set()
    while head in previous and head not in line:
        line.add(head)
        head = previous[head]
    return line
