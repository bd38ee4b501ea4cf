"""The newest entries that this computer has seen of each workbook's own chains, kept outside of every workbook.

A file that lacks one of them was set back, restored from a backup, or forged whole. They lie in the user's data folder.
"""

import json
import sqlite3
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from benchapp.operating_system import data_folder
from benchapp.workbook.file.store import Store
from benchapp.workbook.file.whole_files import write_whole
from benchapp.workbook.model.values import BenchIdentity

FILE = "known-heads.json"
_OWN = """
SELECT uuid, kind, last_entry, last_sha256 FROM chains
WHERE uuid IN ((SELECT uuid FROM workbook), ?) ORDER BY kind
"""
_STANDS = """
SELECT 1 FROM entries JOIN chains ON chains.id = entries.chain_id
WHERE chains.uuid = ? AND entries.number = ? AND entries.sha256 = ?
"""


class KnownHead(NamedTuple):
    """The newest entry of a chain that was seen: kind of chain, its UUID, the entry's number and hash."""

    kind: str
    chain: str
    number: int
    sha256: str


def remember_heads(store: Store, bench: BenchIdentity, *, anew: bool = False) -> None:
    """Keep the heads of the bench's and the workshop's chain as they are now.

    Where the file lacks what was known before, that stays known, unless it is accepted (`anew`). What cannot be written
    is not kept: work goes on.
    """
    with suppress(OSError), store.looking() as connection:
        workbook = _uuid(connection)
        kept = _read()
        if anew or not any(_is_lacking(connection, head) for head in kept.get(workbook, ())):
            rows = connection.execute(_OWN, (bench.uuid,))
            kept[workbook] = [KnownHead(kind, uuid, number, link) for uuid, kind, number, link in rows]
            _write(kept)


def lacking_heads(store: Store) -> tuple[KnownHead, ...]:
    """The known heads of this workbook that the file lacks."""
    with store.looking() as connection:
        return tuple(head for head in _read().get(_uuid(connection), ()) if _is_lacking(connection, head))


def knows_heads(store: Store) -> bool:
    """Whether this computer keeps any heads of the workbook."""
    with store.looking() as connection:
        return bool(_read().get(_uuid(connection)))


def _uuid(connection: sqlite3.Connection) -> str:
    return str(connection.execute("SELECT uuid FROM workbook").fetchone()[0])


def _is_lacking(connection: sqlite3.Connection, head: KnownHead) -> bool:
    return connection.execute(_STANDS, (head.chain, head.number, head.sha256)).fetchone() is None


def _read() -> dict[str, list[KnownHead]]:
    """All known heads by UUID of the workbook; a file that cannot be read counts as none."""
    try:
        said = json.loads(_path().read_text(encoding="utf-8"))
        return {str(uuid): [KnownHead(*head) for head in heads] for uuid, heads in said.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}


def _write(heads: dict[str, list[KnownHead]]) -> None:
    path = _path()
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, json.dumps(heads, indent=1).encode())


def _path() -> Path:
    return data_folder() / FILE
