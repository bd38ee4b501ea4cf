"""Reading the workbook: each question one or two statements, each answer plain values."""

import json
from collections.abc import Sequence

from sqlalchemy import ColumnElement, Connection, and_, bindparam, func, or_, select

from benchapp.sequences.planning.entries import Entry
from benchapp.workbook.file.sqlite import driver_of
from benchapp.workbook.file.store import Store
from benchapp.workbook.model.problems import AnotherUnit
from benchapp.workbook.model.tables import CHAINS, ENTRIES, LOTS, REVISIONS, RUNS, UNITS
from benchapp.workbook.model.values import Run, SiblingRow
from benchapp.workbook.record.board import unknown_unit
from benchapp.workbook.record.sealing import read_sealed

_STANDS = or_(CHAINS.c.forked_at.is_(None), ENTRIES.c.number < CHAINS.c.forked_at)
"""an entry behind a fork stands beside another that claims its place, so neither counts"""

# Asked at every key of a reading: built once.
_ENTRIES_AFTER = (
    select(ENTRIES.c.sealed, ENTRIES.c.sha256)
    .join(CHAINS, CHAINS.c.id == ENTRIES.c.chain_id)
    .join(UNITS, UNITS.c.chain_id == CHAINS.c.id)
    .where(UNITS.c.mark == bindparam("mark"), ENTRIES.c.number > bindparam("after"), _STANDS)
    .order_by(ENTRIES.c.number)
)
_CALLED = "SELECT 1 FROM units JOIN chains ON chains.id = units.chain_id WHERE units.mark = ? AND chains.uuid = ?"
_OF_LOT = (
    select(UNITS.c.mark, ENTRIES.c.number)
    .join(CHAINS, CHAINS.c.id == ENTRIES.c.chain_id)
    .join(UNITS, UNITS.c.chain_id == CHAINS.c.id)
    .join(LOTS, LOTS.c.id == UNITS.c.lot_id)
    .where(LOTS.c.name == bindparam("lot"), _STANDS)
)
_SIBLINGS = (
    _OF_LOT.add_columns(ENTRIES.c.value, ENTRIES.c.mains)
    .join(RUNS, RUNS.c.uuid == ENTRIES.c.run)
    .where(
        RUNS.c.equipment == bindparam("equipment"),
        ENTRIES.c.address == bindparam("address"),
        ENTRIES.c.value.is_not(None),
        ENTRIES.c.bound == "exact",
    )
    .order_by(UNITS.c.mark, ENTRIES.c.number)
)
_WITHDRAWN = _OF_LOT.with_only_columns(UNITS.c.mark, ENTRIES.c.withdraws).where(ENTRIES.c.withdraws.is_not(None))
_GIVEN = ("answer", "note", "photos", "disposition")
_GIVEN_HERE = (
    select(UNITS.c.mark, ENTRIES.c.number, ENTRIES.c.by)
    .join(CHAINS, CHAINS.c.id == ENTRIES.c.chain_id)
    .join(UNITS, UNITS.c.chain_id == CHAINS.c.id)
    .where(ENTRIES.c.bench == bindparam("bench"), ENTRIES.c.kind.in_(_GIVEN), _STANDS)
    .order_by(ENTRIES.c.id.desc())
    .limit(bindparam("most"))
)
_WORKED = (
    _OF_LOT.with_only_columns(UNITS.c.mark)
    .where(ENTRIES.c.kind == "answer", func.substr(ENTRIES.c.address, 1, bindparam("long")) == bindparam("begins"))
    .group_by(UNITS.c.mark)
    .order_by(func.max(ENTRIES.c.at).desc(), func.max(ENTRIES.c.id).desc())
    .limit(bindparam("most"))
)
_REPAIRED = (
    select(UNITS.c.mark)
    .join(ENTRIES, ENTRIES.c.chain_id == UNITS.c.chain_id)
    .join(RUNS, RUNS.c.uuid == ENTRIES.c.run)
    .where(ENTRIES.c.kind == "repair", RUNS.c.equipment == bindparam("equipment"))
    .distinct()
)
_RUNS = (
    select(
        RUNS.c.uuid,
        UNITS.c.mark.label("unit"),
        RUNS.c.number,
        RUNS.c.started,
        RUNS.c.by,
        RUNS.c.route,
        RUNS.c.equipment,
        RUNS.c.settings.label("workshop"),
        REVISIONS.c.text.label("pins"),
    )
    .join(UNITS, UNITS.c.chain_id == RUNS.c.unit_id)
    .join(REVISIONS, REVISIONS.c.sha256 == RUNS.c.pins)
    .order_by(RUNS.c.unit_id, RUNS.c.number)
)


def read_entries(store: Store, mark: str, *, after: int = 0, chain: str = "") -> tuple[Entry, ...]:
    """A unit's entries in order, from the one after `after`; its beginning is number 0.

    Raises AnotherUnit where it is not the unit of that chain, if one is given.
    """
    with store.reading() as connection:
        if chain and driver_of(connection).execute(_CALLED, (mark, chain)).fetchone() is None:
            raise AnotherUnit(mark)
        rows = connection.execute(_ENTRIES_AFTER, {"mark": mark, "after": after})
        return tuple(read_sealed(text, link) for text, link in rows)


def read_kinds(store: Store, kinds: Sequence[str]) -> tuple[Entry, ...]:
    """All entries of these kinds, chain by chain, each in order."""
    statement = (
        select(ENTRIES.c.sealed, ENTRIES.c.sha256)
        .where(ENTRIES.c.kind.in_(list(kinds)))
        .order_by(ENTRIES.c.chain_id, ENTRIES.c.number)
    )
    with store.reading() as connection:
        return tuple(read_sealed(text, link) for text, link in connection.execute(statement))


def read_siblings(store: Store, lot: str, equipment: str, address: str) -> tuple[SiblingRow, ...]:
    """All answers that carry an exact value at a step, of all units of a lot that are of that design, in order."""
    with store.reading() as connection:
        rows = connection.execute(_SIBLINGS, {"lot": lot, "equipment": equipment, "address": address})
        return tuple(SiblingRow(*row) for row in rows)


def read_withdrawn(store: Store, lot: str) -> frozenset[tuple[str, int]]:
    """(shelf mark, number) of the entries of a lot that were withdrawn."""
    with store.reading() as connection:
        rows = connection.execute(_WITHDRAWN, {"lot": lot})
        return frozenset((mark, number) for mark, number in rows)


def read_given_here(store: Store, bench: str, most: int) -> tuple[tuple[str, int, str], ...]:
    """(shelf mark, number, initials) of what that bench gave last and can be taken back, newest first."""
    with store.reading() as connection:
        rows = connection.execute(_GIVEN_HERE, {"bench": bench, "most": most})
        return tuple((mark, number, by) for mark, number, by in rows)


def read_last_worked(store: Store, lot: str, stage: str, most: int) -> tuple[str, ...]:
    """The units of a lot that were worked on last at a stage, the latest at the end."""
    begins = f"{stage}."
    with store.reading() as connection:
        rows = connection.execute(_WORKED, {"lot": lot, "begins": begins, "long": len(begins), "most": most})
        return tuple(rows.scalars())[::-1]


def read_repaired(store: Store, equipment: str) -> frozenset[str]:
    """Marks of the units of that design that were ever repaired."""
    with store.reading() as connection:
        return frozenset(connection.execute(_REPAIRED, {"equipment": equipment}).scalars())


def read_runs(store: Store, mark: str) -> tuple[Run, ...]:
    """A unit's runs in order, each with the hash of every text it pinned."""
    with store.reading() as connection:
        return _runs(connection, UNITS.c.mark == mark)


def read_current_run(store: Store, mark: str) -> Run:
    """The run that a unit is in; raises NotInWorkbook."""
    with store.reading() as connection:
        runs = _runs(connection, and_(UNITS.c.mark == mark, UNITS.c.run_id == RUNS.c.id))
        if not runs:
            raise unknown_unit(driver_of(connection), mark)
        return runs[0]


def read_texts(store: Store, hashes: Sequence[str]) -> dict[str, str]:
    """Pinned texts by their SHA-256."""
    statement = select(REVISIONS.c.sha256, REVISIONS.c.text).where(REVISIONS.c.sha256.in_(list(hashes)))
    with store.reading() as connection:
        return {row.sha256: row.text for row in connection.execute(statement)}


def read_runs_by_uuid(store: Store) -> dict[str, Run]:
    """Every run of the workbook."""
    with store.reading() as connection:
        return {run.uuid: run for run in _runs(connection)}


def _runs(connection: Connection, which: ColumnElement[bool] | None = None) -> tuple[Run, ...]:
    """Runs by unit and number, with the files that each pinned."""
    lists: dict[str, dict[str, str]] = {}  # the units of a lot share theirs
    found = []
    for row in connection.execute(_RUNS if which is None else _RUNS.where(which)):
        fields = dict(row._mapping)
        pins = fields.pop("pins")
        if pins not in lists:
            lists[pins] = json.loads(pins)
        found.append(Run(**fields, texts=lists[pins]))
    return tuple(found)
