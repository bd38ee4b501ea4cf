"""Reading the workbook: each question one or two statements, each answer plain values."""

import json
from collections import defaultdict
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, bindparam, func, select

from benchapp.workbook.problems import NotInWorkbook
from benchapp.workbook.store import Store
from benchapp.workbook.tables import ENTRIES, LOTS, REVISIONS, RUN_REVISIONS, RUNS, UNITS
from benchapp.workbook.values import KeptEntry, Run, SiblingRow

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
            raise _unknown(connection, mark)
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


def _unknown(connection: Connection, mark: str) -> NotInWorkbook:
    near = get_close_matches(mark, list(connection.execute(select(UNITS.c.mark)).scalars()), n=1)
    return NotInWorkbook("unit", mark, str(near[0]) if near else "")
