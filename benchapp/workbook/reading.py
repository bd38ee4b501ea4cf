"""Reading the workbook: each question one or two statements, each answer plain values."""

import json
from collections import defaultdict
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, and_, bindparam, func, select

from benchapp.workbook.problems import NotInWorkbook
from benchapp.workbook.store import Store
from benchapp.workbook.tables import (
    EntryRow,
    LotRow,
    RevisionRow,
    RunRevisionRow,
    RunRow,
    UnitRow,
    UnitStageRow,
)
from benchapp.workbook.values import KeptEntry, Lot, Run, SiblingRow, StageRow, Unit

_LOTS = (
    select(
        LotRow.name,
        LotRow.equipment,
        LotRow.title,
        LotRow.taken_in,
        LotRow.by,
        LotRow.note,
        func.count(UnitRow.id).label("units"),
        func.coalesce(func.min(UnitRow.route), "").label("route"),
    )
    .join(UnitRow, UnitRow.lot_id == LotRow.id, isouter=True)
    .group_by(LotRow.id)
)
_UNITS = select(
    UnitRow.mark,
    LotRow.name.label("lot"),
    LotRow.equipment,
    LotRow.title,
    UnitRow.route,
    UnitRow.disposition,
    UnitRow.grade,
    UnitRow.price,
    UnitRow.due,
    UnitRow.last_entry,
    UnitRow.last_at,
    UnitRow.last_sha256.label("record_hash"),
).join(LotRow, LotRow.id == UnitRow.lot_id)
_STAGES = (
    select(
        UnitRow.mark.label("unit"),
        UnitStageRow.position,
        UnitStageRow.stage,
        UnitStageRow.title,
        UnitStageRow.status,
        UnitStageRow.done,
        UnitStageRow.steps.label("of"),
        UnitStageRow.why,
    )
    .join(UnitRow, UnitRow.id == UnitStageRow.unit_id)
    .order_by(UnitRow.mark, UnitStageRow.position)
)
_ENTRIES = (
    select(
        EntryRow.uuid,
        UnitRow.mark.label("unit"),
        EntryRow.number,
        EntryRow.kind,
        EntryRow.at,
        EntryRow.by,
        EntryRow.address,
        RunRow.uuid.label("run"),
        EntryRow.content,
        EntryRow.sha256,
    )
    .join(UnitRow, UnitRow.id == EntryRow.unit_id)
    .join(RunRow, RunRow.id == EntryRow.run_id)
)

# Asked at every key of a reading: built once.
_ENTRIES_AFTER = _ENTRIES.where(UnitRow.mark == bindparam("mark"), EntryRow.number > bindparam("after")).order_by(
    EntryRow.number
)
_SIBLINGS = (
    select(UnitRow.mark, EntryRow.number, EntryRow.value, func.json_extract(EntryRow.content, "$.mains"))
    .join(UnitRow, UnitRow.id == EntryRow.unit_id)
    .join(LotRow, LotRow.id == UnitRow.lot_id)
    .where(LotRow.name == bindparam("lot"), EntryRow.address == bindparam("address"))
    .where(EntryRow.value.is_not(None), EntryRow.bound == "exact")
    .order_by(UnitRow.mark, EntryRow.number)
)
_WITHDRAWN = (
    select(UnitRow.mark, EntryRow.content)
    .join(UnitRow, UnitRow.id == EntryRow.unit_id)
    .join(LotRow, LotRow.id == UnitRow.lot_id)
    .where(LotRow.name == bindparam("lot"), EntryRow.kind == "withdrawal")
)
_REPAIRED = (
    select(UnitRow.mark).join(EntryRow, EntryRow.unit_id == UnitRow.id).where(EntryRow.kind == "repair").distinct()
)
_RUNS = (
    select(
        RunRow.uuid,
        UnitRow.mark.label("unit"),
        RunRow.number,
        RunRow.started,
        RunRow.by,
        RunRow.route,
        RunRow.equipment,
        RunRow.workshop,
    )
    .join(UnitRow, UnitRow.id == RunRow.unit_id)
    .order_by(RunRow.unit_id, RunRow.number)
)
_PINS = (
    select(RunRow.uuid, RunRevisionRow.name, RevisionRow.sha256)
    .join(RunRow, RunRow.id == RunRevisionRow.run_id)
    .join(RevisionRow, RevisionRow.id == RunRevisionRow.revision_id)
    .join(UnitRow, UnitRow.id == RunRow.unit_id)
)


def read_lots(store: Store) -> tuple[Lot, ...]:
    """All lots, newest first."""
    with store.reading() as connection:
        rows = connection.execute(_LOTS.order_by(LotRow.taken_in.desc(), LotRow.id.desc()))
        return tuple(Lot(**row._mapping) for row in rows)


def read_lot(store: Store, name: str) -> Lot:
    """One lot by name; raises NotInWorkbook."""
    with store.reading() as connection:
        row = connection.execute(_LOTS.where(LotRow.name == name)).first()
        if row is None:
            raise _unknown(connection, "lot", name, select(LotRow.name))
        return Lot(**row._mapping)


def read_units(store: Store, lot: str | None = None) -> tuple[Unit, ...]:
    """The units of a lot, or all, by shelf mark."""
    statement = _UNITS.order_by(UnitRow.mark)
    if lot is not None:
        statement = statement.where(LotRow.name == lot)
    with store.reading() as connection:
        return tuple(Unit(**row._mapping) for row in connection.execute(statement))


def read_unit(store: Store, mark: str) -> Unit:
    """One unit by shelf mark; raises NotInWorkbook."""
    with store.reading() as connection:
        row = connection.execute(_UNITS.where(UnitRow.mark == mark)).first()
        if row is None:
            raise _unknown(connection, "unit", mark, select(UnitRow.mark))
        return Unit(**row._mapping)


def read_stages(store: Store, lot: str | None = None) -> tuple[StageRow, ...]:
    """The stored stages of a lot's units, by shelf mark and position."""
    statement = _STAGES
    if lot is not None:
        statement = statement.join(LotRow, LotRow.id == UnitRow.lot_id).where(LotRow.name == lot)
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
        return _runs(connection, UnitRow.mark == mark)


def read_current_run(store: Store, mark: str) -> Run:
    """The run that a unit is in; raises NotInWorkbook."""
    with store.reading() as connection:
        runs = _runs(connection, and_(UnitRow.mark == mark, UnitRow.run_id == RunRow.id))
        if not runs:
            raise _unknown(connection, "unit", mark, select(UnitRow.mark))
        return runs[0]


def read_texts(store: Store, hashes: Sequence[str]) -> dict[str, str]:
    """Pinned texts by their SHA-256."""
    statement = select(RevisionRow.sha256, RevisionRow.text).where(RevisionRow.sha256.in_(list(hashes)))
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


def _unknown(connection: Connection, what: str, name: str, names: Select[tuple[str]]) -> NotInWorkbook:
    near = get_close_matches(name, list(connection.execute(names).scalars()), n=1)
    return NotInWorkbook(what, name, str(near[0]) if near else "")
