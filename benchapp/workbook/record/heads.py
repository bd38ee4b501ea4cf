"""The newest entry of each chain, and where an entry stands of which only the start of its hash is known."""

from typing import NamedTuple

from benchapp.workbook.file.store import Store

_HEADS = """
SELECT chains.kind, coalesce(units.mark, benches.name, 'the workshop'), chains.last_entry, chains.last_at,
       chains.last_sha256
FROM chains LEFT JOIN units ON units.chain_id = chains.id LEFT JOIN benches ON benches.chain_id = chains.id
{which} ORDER BY chains.kind, 2, chains.id
"""
_FOUND = """
SELECT chains.kind, coalesce(units.mark, benches.name, 'the workshop'), entries.number, entries.at, entries.sha256,
       entries.sha256 = chains.last_sha256
FROM entries JOIN chains ON chains.id = entries.chain_id
LEFT JOIN units ON units.chain_id = chains.id LEFT JOIN benches ON benches.chain_id = chains.id
WHERE entries.sha256 >= ? AND entries.sha256 < ? ORDER BY chains.id, entries.number
"""


_BROKEN = """
SELECT chains.kind, coalesce(units.mark, benches.name, 'the workshop')
FROM chains LEFT JOIN units ON units.chain_id = chains.id LEFT JOIN benches ON benches.chain_id = chains.id
WHERE NOT EXISTS (SELECT 1 FROM entries WHERE entries.chain_id = chains.id AND entries.number = chains.last_entry
                  AND entries.sha256 = chains.last_sha256)
ORDER BY chains.id
"""
UNIT = "unit"
"""the kind of a unit's chain (named again here: a window reads this without SQLAlchemy)"""


class ChainHead(NamedTuple):
    """An entry of a chain: the kind of chain and what it is called, the entry's number, time and hash."""

    kind: str
    name: str
    number: int
    at: str
    sha256: str
    is_last: bool = True


def read_heads(store: Store) -> tuple[ChainHead, ...]:
    """The newest entry of every chain: of benches, of units, of the workshop."""
    return _read(store, "")


def read_foundations(store: Store) -> tuple[ChainHead, ...]:
    """The newest entry of the chain of each bench and of the workshop."""
    return _read(store, "WHERE chains.kind <> 'unit'")


def _read(store: Store, which: str) -> tuple[ChainHead, ...]:
    with store.looking() as connection:
        return tuple(ChainHead._make((*row, True)) for row in connection.execute(_HEADS.format(which=which)))


def read_broken_heads(store: Store) -> tuple[tuple[str, str], ...]:
    """(kind, name) of the chains that lack the entry with which they are said to end."""
    with store.looking() as connection:
        return tuple((str(kind), str(name)) for kind, name in connection.execute(_BROKEN))


def find_entries(store: Store, start: str) -> tuple[ChainHead, ...]:
    """The entries whose hash begins so (lower-case hexadecimal digits)."""
    with store.looking() as connection:
        rows = connection.execute(_FOUND, (start, start + "g"))
        return tuple(ChainHead._make((*said, bool(is_last))) for *said, is_last in rows)
