"""The durable path of one entry of a unit: on disk, in its chain, before anything on screen moves.

An entry's number is claimed inside the transaction: when another window took it, or what the entry cites (the
workshop's settings, the bench's day) has moved on since, nothing is written and `Overtaken` says so.
"""

import sqlite3
from dataclasses import replace
from functools import cache
from typing import Any, NamedTuple

from sqlalchemy import bindparam, or_, select, update
from sqlalchemy.dialects.sqlite import insert as insert_or_update

from benchapp.sequences.planning.entries import Entry
from benchapp.workbook.file.store import Store, compiled
from benchapp.workbook.model.problems import AnotherUnit, Held, Lent, Overtaken, as_sentences
from benchapp.workbook.model.tables import CHAINS, ENTRIES, RUNS, UNIT_STAGES, UNITS
from benchapp.workbook.model.values import BenchIdentity, StageRow, UnitSummary
from benchapp.workbook.record.board import unknown_unit
from benchapp.workbook.record.chains import Head, add_entry, parameters
from benchapp.workbook.record.days import citations
from benchapp.workbook.record.sealing import read_sealed

SUMMARY = ("disposition", "due", "grade", "price", "moves_at", "live")
"""what of a unit's summary stands in columns of the unit"""
SORTED_BY = ("disposition", "moves_at")
"""what has an index, whose page is written whenever the column is set, be it to the same"""


_ANOTHER_ON_MAINS = """
SELECT 1 FROM units JOIN chains ON chains.id = units.chain_id
JOIN entries ON entries.chain_id = chains.id AND entries.number = chains.last_entry
WHERE units.live = 'mains' AND units.chain_id <> ? AND entries.bench = ? LIMIT 1
"""


class UnitHead(NamedTuple):
    """A unit with the newest entry of its chain and the run it is in."""

    head: Head
    run: str
    held: str
    lent_to: str


def refuse_unusable(unit: str, held: str, lent_to: str, bench: BenchIdentity) -> None:
    """Raise Held for a unit on hold by itself, Lent for one that another bench has."""
    if held:
        raise Held(unit, held)
    if lent_to not in ("", bench.uuid):
        raise Lent(unit, lent_to)


class Journal:
    """Appends entries to the units of one workbook, made at one bench."""

    def __init__(self, store: Store, bench: BenchIdentity) -> None:
        self._store = store
        self._bench = bench
        self._head = compiled(
            select(CHAINS.c.id, CHAINS.c.uuid, CHAINS.c.last_entry, CHAINS.c.last_sha256)
            .add_columns(RUNS.c.uuid, UNITS.c.held, UNITS.c.lent_to)
            .join(UNITS, UNITS.c.chain_id == CHAINS.c.id)
            .join(RUNS, RUNS.c.id == UNITS.c.run_id)
            .where(UNITS.c.mark == bindparam("mark"))
        )
        self._earlier = compiled(
            select(ENTRIES.c.chain_id, ENTRIES.c.sealed, ENTRIES.c.sha256).where(ENTRIES.c.uuid == bindparam("uuid"))
        )

    def append(self, unit: str, entry: Entry, summary: UnitSummary, *, alone: bool = False) -> Entry:
        """Record the entry durably; one recorded before (same UUID) is returned as it was then.

        `alone`: mains comes on, and no other unit of this bench may be under power.
        Raises Overtaken when the number is taken, the unit is in another run, what it cites has moved on by now, or
        another window was first to power one,
        NotInWorkbook for an unknown unit, Held for one on hold by itself, Lent for one that another bench has,
        AnotherUnit where the mark went to another since, WorkbookProblem for the disk.
        """
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            there = self._unit(connection, unit)
            if entry.chain not in ("", there.head.chain):
                raise AnotherUnit(unit)
            if entry.number != there.head.number + 1:
                return self._recorded_before(connection, unit, there, entry)
            refuse_unusable(unit, there.held, there.lent_to, self._bench)
            if (entry.run, entry.cites) != (there.run, citations(connection, self._bench)):
                raise Overtaken(unit, entry.number)
            if alone and connection.execute(_ANOTHER_ON_MAINS, (there.head.chain_id, self._bench.uuid)).fetchone():
                raise Overtaken(unit, entry.number)
            _, kept = add_entry(connection, there.head, replace(entry, bench=self._bench.uuid))
            show_summary(connection, there.head.chain_id, summary, at=entry.at)
        return kept

    def keep_summary(self, unit: str, number: int, summary: UnitSummary, *, at: str) -> bool:
        """Keep what time alone has moved of a unit; false when entry `number` is not its last any more."""
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            there = self._unit(connection, unit)
            if there.head.number != number:
                return False
            show_summary(connection, there.head.chain_id, summary, at=at)
        return True

    def _unit(self, connection: sqlite3.Connection, mark: str) -> UnitHead:
        found = connection.execute(self._head, {"mark": mark}).fetchone()
        if found is None:
            raise unknown_unit(connection, mark)
        return UnitHead(Head(*found[:4]), *found[4:])

    def _recorded_before(self, connection: sqlite3.Connection, unit: str, there: UnitHead, entry: Entry) -> Entry:
        earlier = connection.execute(self._earlier, {"uuid": entry.uuid}).fetchone()
        if earlier is None or earlier[0] != there.head.chain_id:
            refuse_unusable(unit, there.held, there.lent_to, self._bench)
            raise Overtaken(unit, entry.number)
        kept = read_sealed(earlier[1], earlier[2])
        if kept.number != entry.number:
            raise Overtaken(unit, entry.number)
        return kept


def show_summary(
    connection: sqlite3.Connection, unit_id: int, summary: UnitSummary, *, at: str, anew: bool = False
) -> None:
    """Keep what is shown of a unit, as it stands at that time; `anew` drops the stages of an earlier run first."""
    shown = {f"to_{name}": getattr(summary, name) for name in SUMMARY}
    connection.execute(_summary(), shown | {"unit": unit_id, "to_shown_at": at})
    connection.execute(_sorted_by(), shown | {"unit": unit_id})
    if anew:
        connection.execute("DELETE FROM unit_stages WHERE unit_id = ?", (unit_id,))
    connection.executemany(_stage(), [stage_parameters(stage, unit_id) for stage in summary.stages])


@cache
def _summary() -> str:
    names = {*SUMMARY, "shown_at"} - {*SORTED_BY}
    shown: dict[str, Any] = {name: bindparam(f"to_{name}") for name in sorted(names)}
    return compiled(update(UNITS).where(UNITS.c.chain_id == bindparam("unit")).values(shown))


@cache
def _sorted_by() -> str:
    shown: dict[str, Any] = {name: bindparam(f"to_{name}") for name in SORTED_BY}
    moved = or_(*(UNITS.c[name] != shown[name] for name in SORTED_BY))
    return compiled(update(UNITS).where(UNITS.c.chain_id == bindparam("unit"), moved).values(shown))


@cache
def _stage() -> str:
    statement = insert_or_update(UNIT_STAGES).values(parameters(UNIT_STAGES, leave_out=""))
    new = statement.excluded
    names = ("position", "title", "status", "done", "steps", "why")
    in_place = statement.on_conflict_do_update(
        index_elements=["unit_id", "stage"],
        set_={name: new[name] for name in names},
        where=or_(*(UNIT_STAGES.c[name] != new[name] for name in names)),  # a row that stays costs no page
    )
    return compiled(in_place)


def stage_parameters(stage: StageRow, unit_id: int) -> dict[str, Any]:
    """A stage as the row of the table."""
    return {
        "unit_id": unit_id,
        "stage": stage.stage,
        "position": stage.position,
        "title": stage.title,
        "status": stage.status,
        "done": stage.done,
        "steps": stage.of,
        "why": stage.why,
    }
