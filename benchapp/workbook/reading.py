"""Reading the workbook: each question one or two statements, each answer plain values."""

import json
from collections import defaultdict
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Any

from sqlalchemy import Column, ColumnElement, Connection, Select, and_, bindparam, func, select

from benchapp.workbook.problems import NotInWorkbook
from benchapp.workbook.store import Store
from benchapp.workbook.tables import ENTRIES, LOTS, REVISIONS, RUN_REVISIONS, RUNS, UNIT_STAGES, UNITS
from benchapp.workbook.values import KeptEntry, Lot, Run, SiblingRow, StageRow, Unit

_LOTS = (
    select(
        LOTS.c.name,
        LOTS.c.equipment,
        LOTS.c.title,
        LOTS.c.taken_in,
        LOTS.c.by,
        LOTS.c.note,
        func.count(UNITS.c.id).label("units"),
        func.coalesce(func.min(UNITS.c.route), "").label("route"),
    )
    .join(UNITS, UNITS.c.lot_id == LOTS.c.id, isouter=True)
    .group_by(LOTS.c.id)
)
_UNITS = select(
    UNITS.c.mark,
    LOTS.c.name.label("lot"),
    LOTS.c.equipment,
    LOTS.c.title,
    UNITS.c.route,
    UNITS.c.disposition,
    UNITS.c.grade,
    UNITS.c.price,
    UNITS.c.due,
    UNITS.c.last_entry,
    UNITS.c.last_at,
    UNITS.c.last_sha256.label("record_hash"),
).join(LOTS, LOTS.c.id == UNITS.c.lot_id)
_STAGES = (
    select(
        UNITS.c.mark.label("unit"),
        UNIT_STAGES.c.position,
        UNIT_STAGES.c.stage,
        UNIT_STAGES.c.title,
        UNIT_STAGES.c.status,
        UNIT_STAGES.c.done,
        UNIT_STAGES.c.steps.label("of"),
        UNIT_STAGES.c.why,
    )
    .join(UNITS, UNITS.c.id == UNIT_STAGES.c.unit_id)
    .order_by(UNITS.c.mark, UNIT_STAGES.c.position)
)
_ENTRIES = (
    select(
        ENTRIES.c.uuid,
        UNITS.c.mark.label("unit"),
        ENTRIES.c.number,
        ENTRIES.c.kind,
        ENTRIES.c.at,
        ENTRIES.c.by,
        ENTRIES.c.address,
        RUNS.c.uuid.label("run"),
        ENTRIES.c.content,
        ENTRIES.c.sha256,
    )
    .join(UNITS, UNITS.c.id == ENTRIES.c.unit_id)
    .join(RUNS, RUNS.c.id == ENTRIES.c.run_id)
)

# Asked at every key of a reading: built once.
_ENTRIES_AFTER = _ENTRIES.where(UNITS.c.mark == bindparam("mark"), ENTRIES.c.number > bindparam("after")).order_by(
    ENTRIES.c.number
)
_SIBLINGS = (
    select(UNITS.c.mark, ENTRIES.c.number, ENTRIES.c.value, func.json_extract(ENTRIES.c.content, "$.mains"))
    .join(UNITS, UNITS.c.id == ENTRIES.c.unit_id)
    .join(LOTS, LOTS.c.id == UNITS.c.lot_id)
    .where(LOTS.c.name == bindparam("lot"), ENTRIES.c.address == bindparam("address"))
    .where(ENTRIES.c.value.is_not(None), ENTRIES.c.bound == "exact")
    .order_by(UNITS.c.mark, ENTRIES.c.number)
)
_WITHDRAWN = (
    select(UNITS.c.mark, ENTRIES.c.content)
    .join(UNITS, UNITS.c.id == ENTRIES.c.unit_id)
    .join(LOTS, LOTS.c.id == UNITS.c.lot_id)
    .where(LOTS.c.name == bindparam("lot"), ENTRIES.c.kind == "withdrawal")
)
_REPAIRED = (
    select(UNITS.c.mark).join(ENTRIES, ENTRIES.c.unit_id == UNITS.c.id).where(ENTRIES.c.kind == "repair").distinct()
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
        RUNS.c.workshop,
    )
    .join(UNITS, UNITS.c.id == RUNS.c.unit_id)
    .order_by(RUNS.c.unit_id, RUNS.c.number)
)
_PINS = (
    select(RUNS.c.uuid, RUN_REVISIONS.c.name, REVISIONS.c.sha256)
    .join(RUNS, RUNS.c.id == RUN_REVISIONS.c.run_id)
    .join(REVISIONS, REVISIONS.c.id == RUN_REVISIONS.c.revision_id)
    .join(UNITS, UNITS.c.id == RUNS.c.unit_id)
)


def read_lots(store: Store) -> tuple[Lot, ...]:
    """All lots, newest first."""
    with store.reading() as connection:
        rows = connection.execute(_LOTS.order_by(LOTS.c.taken_in.desc(), LOTS.c.id.desc()))
        return tuple(Lot(**row._mapping) for row in rows)


def read_lot(store: Store, name: str) -> Lot:
    """One lot by name; raises NotInWorkbook."""
    with store.reading() as connection:
        return Lot(**_one(connection, _LOTS, "lot", LOTS.c.name, name))


def read_units(store: Store, lot: str | None = None) -> tuple[Unit, ...]:
    """The units of a lot, or all, by shelf mark."""
    statement = _UNITS.order_by(UNITS.c.mark)
    if lot is not None:
        statement = statement.where(LOTS.c.name == lot)
    with store.reading() as connection:
        return tuple(Unit(**row._mapping) for row in connection.execute(statement))


def read_unit(store: Store, mark: str) -> Unit:
    """One unit by shelf mark; raises NotInWorkbook."""
    with store.reading() as connection:
        return Unit(**_one(connection, _UNITS, "unit", UNITS.c.mark, mark))


def read_stages(store: Store, lot: str | None = None) -> tuple[StageRow, ...]:
    """The stored stages of a lot's units, by shelf mark and position."""
    statement = _STAGES
    if lot is not None:
        statement = statement.join(LOTS, LOTS.c.id == UNITS.c.lot_id).where(LOTS.c.name == lot)
    with store.reading() as connection:
        return tuple(
            StageRow(unit=unit, position=position, stage=stage, title=title, status=status, done=done, of=of, why=why)
            for unit, position, stage, title, status, done, of, why in connection.execute(statement)
        )  # written out: a board of a thousand units has seven thousand of these


def read_entries(store: Store, mark: str, *, after: int = 0) -> tuple[KeptEntry, ...]:
    """A unit's entries in order, from the one after `after`."""
    with store.reading() as connection:
        rows = connection.execute(_ENTRIES_AFTER, {"mark": mark, "after": after})
        return tuple(_entry(dict(row._mapping)) for row in rows)


def read_siblings(store: Store, lot: str, address: str) -> tuple[SiblingRow, ...]:
    """All answers that carry an exact value at a step, of all units of a lot, in order."""
    with store.reading() as connection:
        rows = connection.execute(_SIBLINGS, {"lot": lot, "address": address})
        return tuple(SiblingRow(*row) for row in rows)


def read_withdrawn(store: Store, lot: str) -> frozenset[tuple[str, int]]:
    """(shelf mark, number) of the entries of a lot that were withdrawn."""
    with store.reading() as connection:
        rows = connection.execute(_WITHDRAWN, {"lot": lot})
        return frozenset((mark, json.loads(content)["number"]) for mark, content in rows)


def read_repaired(store: Store) -> frozenset[str]:
    """Shelf marks of the units that were ever repaired."""
    with store.reading() as connection:
        return frozenset(connection.execute(_REPAIRED).scalars())


def read_runs(store: Store, mark: str) -> tuple[Run, ...]:
    """A unit's runs in order, each with the hash of every text it pinned."""
    with store.reading() as connection:
        return _runs(connection, UNITS.c.mark == mark)


def read_current_run(store: Store, mark: str) -> Run:
    """The run that a unit is in; raises NotInWorkbook."""
    with store.reading() as connection:
        runs = _runs(connection, and_(UNITS.c.mark == mark, UNITS.c.run_id == RUNS.c.id))
        if not runs:
            raise _unknown(connection, "unit", UNITS.c.mark, mark)
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
    """Runs by unit and number, with what each pinned: two statements, however many there are."""
    runs = _RUNS if which is None else _RUNS.where(which)
    pins = _PINS if which is None else _PINS.where(which)
    texts: defaultdict[str, dict[str, str]] = defaultdict(dict)
    for run, name, sha256 in connection.execute(pins):
        texts[run][name] = sha256
    return tuple(Run(**row._mapping, texts=texts[row.uuid]) for row in connection.execute(runs))


def _entry(fields: dict[str, Any]) -> KeptEntry:
    fields["content"] = json.loads(fields["content"])
    return KeptEntry(**fields)


def _one(connection: Connection, rows: Select[Any], what: str, column: Column[str], name: str) -> dict[str, Any]:
    """The row of that name; raises NotInWorkbook."""
    row = connection.execute(rows.where(column == name)).first()
    if row is None:
        raise _unknown(connection, what, column, name)
    return dict(row._mapping)


def _unknown(connection: Connection, what: str, column: Column[str], name: str) -> NotInWorkbook:
    near = get_close_matches(name, list(connection.execute(select(column)).scalars()), n=1)
    return NotInWorkbook(what, name, str(near[0]) if near else "")
