"""Marking a unit anew, and lending it: entries of its own chain that change what it is called and who may record."""

import sqlite3
from typing import NamedTuple

from sqlalchemy import bindparam, select

from benchapp.sequences.planning.chain_contents import LentContent, ShelfMarkContent
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.workbook.file.store import Store, compiled
from benchapp.workbook.model.problems import TakenName, as_sentences
from benchapp.workbook.model.tables import CHAINS, RUNS, UNITS
from benchapp.workbook.model.values import BenchIdentity
from benchapp.workbook.record.board import unknown_unit
from benchapp.workbook.record.chains import Head, add_entry
from benchapp.workbook.record.days import citations
from benchapp.workbook.record.journal import refuse_unusable
from benchapp.workbook.record.marks import what_units_are_called

_UNIT = (
    select(CHAINS.c.id, CHAINS.c.uuid, CHAINS.c.last_entry, CHAINS.c.last_sha256)
    .add_columns(RUNS.c.uuid, UNITS.c.held, UNITS.c.lent_to, CHAINS.c.forked_at)
    .join(UNITS, UNITS.c.chain_id == CHAINS.c.id)
    .join(RUNS, RUNS.c.id == UNITS.c.run_id)
    .where(UNITS.c.mark == bindparam("mark"))
)
_BEARERS = """
SELECT chains.uuid, units.shelf_mark, units.mark, units.held, chains.forked_at
FROM units JOIN chains ON chains.id = units.chain_id
"""

_RENAME = "UPDATE units SET mark = ?, held = ? WHERE chain_id = (SELECT id FROM chains WHERE uuid = ?)"


class _Found(NamedTuple):
    head: Head
    run: str
    held: str
    lent_to: str
    forked_at: int | None


class Marking:
    """Marks and lends the units of one workbook, at one bench."""

    def __init__(self, store: Store, bench: BenchIdentity) -> None:
        self._store = store
        self._bench = bench

    def mark_anew(self, unit: str, shelf_mark: str, *, at: str, by: str, why: str = "") -> str:
        """Give a unit another shelf mark; what it is called from here on.

        It is the one thing recorded on a unit that is on hold for its mark. Raises TakenName, Held for a unit of which
        there are two records, Lent, SeveralUnits, NotInWorkbook.
        """
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            found = self._find(connection, unit)
            refuse_unusable(unit, "" if found.forked_at is None else found.held, found.lent_to, self._bench)
            if connection.execute("SELECT 1 FROM units WHERE ? IN (mark, shelf_mark)", (shelf_mark,)).fetchone():
                raise TakenName("unit", shelf_mark)
            content = ShelfMarkContent(shelf_mark=shelf_mark, why=why)
            self._add(connection, found, EntryKind.shelf_mark, content, at=at, by=by)
            marked = "UPDATE units SET shelf_mark = ? WHERE chain_id = ?"
            connection.execute(marked, (shelf_mark, found.head.chain_id))
            name_units(connection)
            named = connection.execute("SELECT mark FROM units WHERE chain_id = ?", (found.head.chain_id,))
            return str(named.fetchone()[0])

    def lend(self, unit: str, to: str, *, at: str, by: str, why: str = "") -> None:
        """Lend a unit to the bench of that UUID, or to none (""): every bench here may record on it then.

        Raises Held, Lent, SeveralUnits, NotInWorkbook.
        """
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            found = self._find(connection, unit)
            refuse_unusable(unit, found.held, found.lent_to, self._bench)
            if found.lent_to != to:
                self._add(connection, found, EntryKind.lent, LentContent(to=to, why=why), at=at, by=by)
                connection.execute("UPDATE units SET lent_to = ? WHERE chain_id = ?", (to, found.head.chain_id))

    def _find(self, connection: sqlite3.Connection, unit: str) -> _Found:
        row = connection.execute(compiled(_UNIT), {"mark": unit}).fetchone()
        if row is None:
            raise unknown_unit(connection, unit)
        return _Found(Head(*row[:4]), *row[4:])

    def _add(
        self, connection: sqlite3.Connection, found: _Found, kind: EntryKind, content: Content, *, at: str, by: str
    ) -> None:
        entry = Entry(
            number=0,
            uuid="",
            kind=kind,
            at=at,
            by=by,
            content=content,
            bench=self._bench.uuid,
            run=found.run,
            cites=citations(connection, self._bench),
        )
        add_entry(connection, found.head, entry)


def name_units(connection: sqlite3.Connection) -> None:
    """Call every unit as its shelf mark and those of the others ask, and hold those that cannot be told apart."""
    rows = connection.execute(_BEARERS).fetchall()
    forked = {uuid: at for uuid, _, _, _, at in rows if at is not None}
    called = what_units_are_called({uuid: shelf_mark for uuid, shelf_mark, *_ in rows}, forked)
    moved = [(*called[uuid], uuid) for uuid, _, mark, held, _ in rows if (mark, held) != called[uuid]]
    connection.executemany(_RENAME, [(f"\0{uuid}", "", uuid) for *_, uuid in moved])  # names may change hands
    connection.executemany(_RENAME, moved)
