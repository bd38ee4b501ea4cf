"""Writing an entry into its chain: one way for the workshop's chain, a bench's and a unit's.

The statements are Core statements compiled once and sent through the driver's own connection, within a transaction that
somebody else begins and ends.
"""

import sqlite3
from dataclasses import replace
from functools import cache
from typing import Any, NamedTuple
from uuid import uuid4

from sqlalchemy import Table, bindparam, insert, select, update

from benchapp.judgement.statements.statements import RULES_VERSION
from benchapp.sequences.planning.entries import Citation, Entry, EntryKind, OneContent
from benchapp.workbook.file.store import compiled
from benchapp.workbook.model.problems import DamagedWorkbook
from benchapp.workbook.model.tables import CHAINS, ENTRIES
from benchapp.workbook.record.derived import columns_of
from benchapp.workbook.record.sealing import BEFORE_ALL, digest, sealed_text

WORKSHOP, BENCH, UNIT = "workshop", "bench", "unit"
"""kinds of chain"""
LARGEST_NUMBER = 2**53
"""entries of one chain; whole numbers up to there mean the same to all who read JSON (RFC 8259, section 6)"""


class Head(NamedTuple):
    """A chain and its newest entry: row number, UUID, that entry's number and hash."""

    chain_id: int
    chain: str
    number: int
    sha256: str

    @property
    def citation(self) -> Citation:
        """The newest entry, as another entry cites it."""
        return Citation(chain=self.chain, number=self.number, sha256=self.sha256)


@cache
def _insert() -> str:
    return compiled(insert(ENTRIES).values(parameters(ENTRIES, leave_out="id")))


@cache
def _move_head() -> str:
    chain = CHAINS.c.id == bindparam("chain")
    names = ("last_entry", "last_at", "last_sha256")
    return compiled(update(CHAINS).where(chain).values({name: bindparam(f"to_{name}") for name in names}))


@cache
def _head() -> str:
    columns = (CHAINS.c.id, CHAINS.c.uuid, CHAINS.c.last_entry, CHAINS.c.last_sha256)
    return compiled(select(*columns).where(CHAINS.c.uuid == bindparam("uuid")))


@cache
def _new_chain() -> str:
    values = parameters(CHAINS, leave_out="id")
    return compiled(insert(CHAINS).values(values))


def parameters(table: Table, *, leave_out: str) -> dict[str, Any]:
    """A parameter for each column of a table but one, by the column's name."""
    return {column.name: bindparam(column.name) for column in table.columns if column.name != leave_out}


def head_of_chain(connection: sqlite3.Connection, chain: str) -> Head | None:
    """The chain with that UUID and its newest entry, None where there is none."""
    found = connection.execute(_head(), {"uuid": chain}).fetchone()
    if found is None:
        return None
    head = Head(*found)
    if not (isinstance(head.number, int) and -1 <= head.number < LARGEST_NUMBER and isinstance(head.sha256, str)):
        raise DamagedWorkbook("The workbook", f"the chain {chain} does not say which entry is its last")
    return head


def begin_chain(connection: sqlite3.Connection, kind: str, entry: Entry) -> Head:
    """A new chain with its beginning, entry number 0; `entry.chain` is its UUID, and the entry's own.

    But a bench begins its chain in each workbook that it meets, so that its beginnings have UUIDs of their own.
    """
    uuid = "" if kind == BENCH else entry.chain
    before = Head(new_chain(connection, kind, entry.chain), entry.chain, -1, BEFORE_ALL)
    return add_entry(connection, before, replace(entry, uuid=uuid, kind=EntryKind.beginning))[0]


def new_chain(connection: sqlite3.Connection, kind: str, uuid: str) -> int:
    """The row of a chain without an entry; its number."""
    row = {"uuid": uuid, "kind": kind, "last_entry": -1, "last_at": "", "last_sha256": BEFORE_ALL}
    chain_id = connection.execute(_new_chain(), row | {"anchored": -1, "forked_at": None}).lastrowid
    assert chain_id is not None
    return chain_id


def insert_entry(connection: sqlite3.Connection, chain_id: int, entry: Entry, sealed: str, sha256: str) -> None:
    """The row of an entry whose place in its chain is known; the chain's head stays where it is."""
    connection.execute(_insert(), columns_of(entry) | {"chain_id": chain_id, "sealed": sealed, "sha256": sha256})


def add_entry(connection: sqlite3.Connection, head: Head, entry: Entry[OneContent]) -> tuple[Head, Entry[OneContent]]:
    """The entry put behind the head of its chain, with the number, chain, rules and hash that it has there.

    Raises ValueError for content that JSON has not.
    """
    whole = replace(
        entry,
        number=head.number + 1,
        chain=head.chain,
        uuid=entry.uuid or str(uuid4()),
        rules=entry.rules or RULES_VERSION,
    )
    text = sealed_text(whole, head.sha256)
    link = digest(text)
    insert_entry(connection, head.chain_id, whole, text, link)
    moved = {"chain": head.chain_id, "to_last_entry": whole.number, "to_last_at": whole.at, "to_last_sha256": link}
    connection.execute(_move_head(), moved)
    return Head(head.chain_id, head.chain, whole.number, link), replace(whole, sha256=link)
