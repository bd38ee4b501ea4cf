"""What goes into a day file: the whole chains of some units, and all that these rest on."""

import json
import sqlite3
from collections.abc import Iterable, Iterator

from benchapp.sequences.planning.chain_contents import RunContent
from benchapp.sequences.planning.entries import is_of
from benchapp.workbook.exchange.day_file import Chain, DayFile, Link, read_link
from benchapp.workbook.file.store import Store
from benchapp.workbook.model.values import BenchIdentity
from benchapp.workbook.record.chains import UNIT

_ENTRIES = """
SELECT entries.sealed, entries.sha256 FROM entries JOIN chains ON chains.id = entries.chain_id
WHERE chains.uuid = ? ORDER BY entries.number, entries.sha256
"""

HAS_ENTRY = """
SELECT 1 FROM entries JOIN chains ON chains.id = entries.chain_id
WHERE chains.uuid = ? AND entries.number = ? AND entries.sha256 = ?
"""


def gather(store: Store, bench: BenchIdentity, units: Iterable[str]) -> DayFile:
    """The chains of these units (by UUID) as they stand in the file, with everything that they cite and pin.

    Of a bench and a workshop the whole chain goes along.
    """
    with store.looking() as connection:
        workbook = str(connection.execute("SELECT uuid FROM workbook").fetchone()[0])
        chains: dict[str, Chain] = {}
        waiting = [workbook, bench.uuid, *units]
        while waiting:
            uuid = waiting.pop()
            if uuid not in chains and (chain := _chain(connection, uuid)):
                chains[uuid] = chain
                waiting += _rests_on(chain)
        texts = _texts(connection, chains)
        photos = _photos(connection, chains)
    return DayFile(bench=bench.uuid, workbook=workbook, chains=chains, texts=texts, photos=photos)


def units_to_send(store: Store, *, since: str = "", bench: str = "", after: int = -1) -> list[str]:
    """UUIDs of the units with an entry since that time (ISO 8601), or anchored by a bench after that entry of its."""
    with store.looking() as connection:
        if after >= 0:
            return sorted(_anchored_after(connection, bench, after))
        units = "SELECT uuid FROM chains WHERE kind = ? AND last_at >= ? ORDER BY uuid"
        return [str(row[0]) for row in connection.execute(units, (UNIT, since))]


def head_of(store: Store, chain: str) -> tuple[int, str] | None:
    """Number and hash of a chain's newest entry."""
    with store.looking() as connection:
        found = connection.execute("SELECT last_entry, last_sha256 FROM chains WHERE uuid = ?", (chain,)).fetchone()
        return (int(found[0]), str(found[1])) if found else None


def has_entry(store: Store, chain: str, number: int, sha256: str) -> bool:
    """Whether that entry is in the file."""
    with store.looking() as connection:
        return connection.execute(HAS_ENTRY, (chain, number, sha256)).fetchone() is not None


def _chain(connection: sqlite3.Connection, uuid: str) -> Chain:
    chain: Chain = {}
    for sealed, link in connection.execute(_ENTRIES, (uuid,)):
        read = read_link(sealed, json.loads(sealed))
        chain.setdefault(read.entry.number, {})[link] = read
    return chain


def _links(chains: Iterable[Chain]) -> Iterator[Link]:
    for chain in chains:
        for alike in chain.values():
            yield from alike.values()


def _rests_on(chain: Chain) -> set[str]:
    """The chains that a chain's entries cite, and those of the benches at which they were made."""
    found = {link.entry.bench for link in _links([chain])}
    for link in _links([chain]):
        found.update(cited.chain for cited in link.entry.cites)
    return found


def _texts(connection: sqlite3.Connection, chains: dict[str, Chain]) -> dict[str, str]:
    """The lists of pinned texts, and the texts of the lists."""
    found: dict[str, str] = {}
    for listed in lists_pinned(chains.values()):
        for text in _text(connection, listed):
            found[listed] = text
            for one in json.loads(text).values():
                found.update((one, each) for each in _text(connection, one))
    return found


def lists_pinned(chains: Iterable[Chain]) -> set[str]:
    """The hashes of the lists of texts that the runs in these chains pinned."""
    return {link.entry.content.pins for link in _links(chains) if is_of(link.entry, RunContent)}


def photos_named(chains: Iterable[Chain]) -> set[str]:
    """The hashes of the photos that entries of these chains name."""
    return {photo for link in _links(chains) for photo in getattr(link.entry.content, "photos", ())}


def _text(connection: sqlite3.Connection, link: str) -> list[str]:
    return [row[0] for row in connection.execute("SELECT text FROM revisions WHERE sha256 = ?", (link,))]


def _photos(connection: sqlite3.Connection, chains: dict[str, Chain]) -> dict[str, tuple[str, bytes]]:
    found: dict[str, tuple[str, bytes]] = {}
    for named in photos_named(chains.values()):
        row = connection.execute("SELECT media_type, image FROM photos WHERE sha256 = ?", (named,)).fetchone()
        if row:
            found[named] = (row[0], row[1])
    return found


def _anchored_after(connection: sqlite3.Connection, bench: str, after: int) -> set[str]:
    anchors = """
        SELECT entries.sealed FROM entries JOIN chains ON chains.id = entries.chain_id
        WHERE chains.uuid = ? AND entries.kind = 'anchor' AND entries.number > ?
    """
    moved: set[str] = set()
    for (sealed,) in connection.execute(anchors, (bench, after)):
        moved.update(json.loads(sealed)["content"]["heads"])
    units = {row[0] for row in connection.execute("SELECT uuid FROM chains WHERE kind = ?", (UNIT,))}
    return moved & units
