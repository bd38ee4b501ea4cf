"""The newest entries that this computer has seen of each workbook's own chains, kept outside of every workbook.

A file that lacks one of them was set back, restored from a backup, or forged whole. They lie in the user's data folder.
"""

import json
import sqlite3
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from benchapp.operating_system import data_folder
from benchapp.words import say
from benchapp.workbook.file.store import Store
from benchapp.workbook.file.whole_files import read_json, write_whole
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
_LARGEST = (1 << 63) - 1
"""number that SQLite can hold"""


class KnownHead(NamedTuple):
    """The newest entry of a chain that was seen: kind of chain, its UUID, the entry's number and hash."""

    kind: str
    chain: str
    number: int
    sha256: str


def remember_heads(store: Store, bench: BenchIdentity, *, anew: bool = False) -> None:
    """Keep the heads of the bench's and the workshop's chain as they are now.

    Where the file lacks what was known before, that stays known, unless it is accepted (`anew`); so does what cannot be
    read. What cannot be written is not kept: work goes on.
    """
    with suppress(OSError), store.looking() as connection:
        workbook = _uuid(connection)
        try:
            kept = _read()
        except (OSError, ValueError):
            if not anew:
                return  # what it said is not written over unasked
            kept = {}
        if anew or not any(_is_lacking(connection, head) for head in kept.get(workbook, ())):
            rows = connection.execute(_OWN, (bench.uuid,))
            kept[workbook] = [KnownHead(kind, uuid, number, link) for uuid, kind, number, link in rows]
            _write(kept)


def lacking_heads(store: Store) -> tuple[KnownHead, ...]:
    """The known heads of this workbook that the file lacks."""
    with store.looking() as connection:
        return tuple(head for head in _readable().get(_uuid(connection), ()) if _is_lacking(connection, head))


def knows_heads(store: Store) -> bool:
    """Whether this computer keeps any heads of the workbook."""
    with store.looking() as connection:
        return bool(_readable().get(_uuid(connection)))


def why_unreadable() -> str:
    """Why the heads that this computer keeps cannot be read, as a sentence; empty where they can, or there are none."""
    try:
        _read()
    except (OSError, ValueError) as error:
        return say(
            "The file {path} of heads that this computer keeps cannot be read ({reason}): a workbook "
            "set back as a whole would not be noticed. Mend or remove it, or accept this workbook "
            "(benchapp verify FILE --accept-older).",
            path=_path(),
            reason=_reason(error),
        )
    return ""


def _reason(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error)[:200]


def _uuid(connection: sqlite3.Connection) -> str:
    return str(connection.execute("SELECT uuid FROM workbook").fetchone()[0])


def _is_lacking(connection: sqlite3.Connection, head: KnownHead) -> bool:
    return connection.execute(_STANDS, (head.chain, head.number, head.sha256)).fetchone() is None


def _readable() -> dict[str, list[KnownHead]]:
    """All known heads; none where they cannot be read, which `why_unreadable` tells."""
    try:
        return _read()
    except (OSError, ValueError):
        return {}


def _read() -> dict[str, list[KnownHead]]:
    """All known heads by UUID of the workbook; raises OSError, ValueError for a file that cannot be read."""
    try:
        said = read_json(_path())
    except FileNotFoundError:
        return {}
    if not isinstance(said, dict) or not all(isinstance(heads, list) for heads in said.values()):
        raise ValueError("it holds no heads")
    return {workbook: [_head(one) for one in heads] for workbook, heads in said.items()}


def _head(said: object) -> KnownHead:
    match said:
        case [str(kind), str(chain), int(number), str(link)] if 0 <= number <= _LARGEST:
            return KnownHead(kind, chain, number, link)
    raise ValueError("what stands in the place of a head is none")


def _write(heads: dict[str, list[KnownHead]]) -> None:
    path = _path()
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, json.dumps(heads, indent=1).encode())


def _path() -> Path:
    return data_folder() / FILE
