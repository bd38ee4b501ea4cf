"""What the board and the sale table show, read with plain SQL: a window opens on it without SQLAlchemy."""

import sqlite3
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from typing import Any

from benchapp.workbook.file.store import Store
from benchapp.workbook.model.problems import NotInWorkbook, SeveralUnits, WorkbookProblem
from benchapp.workbook.model.values import Lot, StageRow, Unit

_LOTS = """
SELECT lots.name, lots.equipment, lots.route, lots.title, lots.taken_in, lots."by", lots.note,
       (SELECT count(*) FROM units WHERE units.lot_id = lots.id) AS units, lots.uuid
FROM lots {which} ORDER BY lots.taken_in DESC, lots.id DESC
"""
# The columns stand in the order of the values that they become.
_UNITS = """
SELECT units.mark, chains.uuid, units.shelf_mark, lots.name AS lot, coalesce(runs.equipment, lots.equipment),
       units.route, lots.title,
       units.disposition, units.grade, units.price, units.due, chains.last_entry, chains.last_at,
       chains.last_sha256 AS record_hash, units.held, units.lent_to, units.shown_at, units.moves_at,
       units.live,
       (SELECT coalesce(min(unit_stages.status IN ('done', 'skipped')), 0) FROM unit_stages
        WHERE unit_stages.unit_id = units.chain_id)
FROM units JOIN chains ON chains.id = units.chain_id JOIN lots ON lots.id = units.lot_id
     LEFT JOIN runs ON runs.id = units.run_id {which} ORDER BY units.mark
"""
_STAGES = """
SELECT units.mark, unit_stages.position, unit_stages.stage, unit_stages.title, unit_stages.status, unit_stages.done,
       unit_stages.steps, unit_stages.why
FROM unit_stages JOIN units ON units.chain_id = unit_stages.unit_id JOIN lots ON lots.id = units.lot_id {which}
ORDER BY units.mark, unit_stages.position
"""
_LOT_TYPES = (str,) * 7 + (int, str)
_UNIT_TYPES = (str,) * 11 + (int, str, str, str, str, str, str, str, int)
_STAGE_TYPES = (str, int, str, str, str, int, int, str)
"""What stands in each column of a row; SQLite itself would let anything stand there."""
_OF_LOT = "WHERE lots.name = ?"
_MOVED = "WHERE units.moves_at > '' AND units.moves_at <= ?"
_HELD = "WHERE units.held > ''"
_OF_DISPOSITION = "WHERE units.disposition = ?"
_OF_UNIT = "WHERE units.mark = ?"


def read_lots(store: Store) -> tuple[Lot, ...]:
    """All lots, newest first."""
    with store.looking() as connection:
        found = connection.execute(_LOTS.format(which=""))
        return tuple(Lot(**_named(found, row)) for row in _typed(found, _LOT_TYPES))


def read_lot(store: Store, name: str) -> Lot:
    """One lot by name; raises NotInWorkbook."""
    with store.looking() as connection:
        found = connection.execute(_LOTS.format(which=_OF_LOT), (name,))
        for row in _typed(found, _LOT_TYPES):
            return Lot(**_named(found, row))
        raise _unknown(connection, "lot", "SELECT name FROM lots", name)


def read_units(store: Store, lot: str | None = None) -> tuple[Unit, ...]:
    """The units of a lot, or all, by shelf mark."""
    with store.looking() as connection:
        found = _rows(connection, _UNITS, lot)
        return tuple(map(Unit._make, _typed(found, _UNIT_TYPES)))


def read_units_moved(store: Store, now: str) -> tuple[Unit, ...]:
    """The units that time alone may have changed since they were last worked out, by shelf mark."""
    with store.looking() as connection:
        found = connection.execute(_UNITS.format(which=_MOVED), (now,))
        return tuple(map(Unit._make, _typed(found, _UNIT_TYPES)))


def read_units_of(store: Store, disposition: str) -> tuple[Unit, ...]:
    """The units of one disposition, by shelf mark; what is on hold by itself is of "hold", whatever its entries say."""
    with store.looking() as connection:
        found = connection.execute(_UNITS.format(which=_OF_DISPOSITION), (disposition,))
        units = [unit for unit in map(Unit._make, _typed(found, _UNIT_TYPES)) if unit.stands == disposition]
        held = connection.execute(_UNITS.format(which=_HELD))
        more = {unit for unit in map(Unit._make, _typed(held, _UNIT_TYPES)) if unit.stands == disposition}
    return tuple(sorted({*units, *more}, key=lambda unit: unit.mark)) if more else tuple(units)


def count_units(store: Store) -> dict[str, int]:
    """How many units there are of each disposition; what is on hold by itself counts as on hold."""
    with store.looking() as connection:
        counts = dict(connection.execute("SELECT disposition, count(*) FROM units GROUP BY disposition"))
        held = "SELECT disposition, count(*) FROM units WHERE held > '' GROUP BY disposition"
        for disposition, number in connection.execute(held).fetchall():
            counts[disposition] -= number
            counts["hold"] = counts.get("hold", 0) + number
        return counts


def read_marks(store: Store) -> frozenset[str]:
    """Every name and shelf mark that is taken."""
    with store.looking() as connection:
        names = connection.execute("SELECT mark FROM units").fetchall()
        names += connection.execute("SELECT shelf_mark FROM units WHERE shelf_mark <> mark").fetchall()
        return frozenset(mark for (mark,) in names)


def read_unit(store: Store, mark: str) -> Unit:
    """One unit by the name it is called by; raises SeveralUnits, NotInWorkbook."""
    with store.looking() as connection:
        found = connection.execute(_UNITS.format(which=_OF_UNIT), (mark,))
        for row in _typed(found, _UNIT_TYPES):
            return Unit._make(row)
        raise unknown_unit(connection, mark)


def unknown_unit(connection: sqlite3.Connection, mark: str) -> WorkbookProblem:
    """Why no unit is called that: several bear the mark, or none does."""
    bearers = connection.execute("SELECT mark FROM units WHERE shelf_mark = ? ORDER BY mark", (mark,))
    alike = [row[0] for row in bearers]
    if alike:
        return SeveralUnits(mark, alike)
    return _unknown(connection, "unit", "SELECT mark FROM units", mark)


def read_stages(store: Store, lot: str | None = None) -> tuple[StageRow, ...]:
    """The stored stages of a lot's units, or of all, by shelf mark and position."""
    with store.looking() as connection:
        return tuple(_stage_rows(_rows(connection, _STAGES, lot)))


def read_stages_of(store: Store, mark: str) -> tuple[StageRow, ...]:
    """The stored stages of one unit by position."""
    with store.looking() as connection:
        return tuple(_stage_rows(connection.execute(_STAGES.format(which=_OF_UNIT), (mark,))))


def _stage_rows(rows: sqlite3.Cursor) -> Iterator[StageRow]:
    return map(StageRow._make, _typed(rows, _STAGE_TYPES))


def read_unanchored(store: Store) -> tuple[str, ...]:
    """Whose chains have entries behind the last anchor that names them: the workshop, benches by name, units by mark.

    A bench's own anchors do not name its chain.
    """
    names = """
        SELECT coalesce(units.mark, 'the bench ' || benches.name, 'the ' || chains.kind) AS called FROM chains
        LEFT JOIN units ON units.chain_id = chains.id LEFT JOIN benches ON benches.chain_id = chains.id
        WHERE chains.last_entry > chains.anchored ORDER BY chains.kind = 'unit', chains.kind DESC, called
    """
    with store.looking() as connection:
        return tuple(name for (name,) in connection.execute(names))


def read_uuid(store: Store) -> str:
    """The UUID of the workbook's own workshop."""
    with store.looking() as connection:
        return str(connection.execute("SELECT uuid FROM workbook").fetchone()[0])


def read_benches(store: Store) -> dict[str, str]:
    """The names of the benches that were met here, by UUID."""
    names = "SELECT chains.uuid, benches.name FROM benches JOIN chains ON chains.id = benches.chain_id ORDER BY 1"
    with store.looking() as connection:
        return dict(connection.execute(names))


def read_workshop(store: Store) -> str:
    """The workshop's settings, as the JSON they were kept in."""
    with store.looking() as connection:
        return str(connection.execute("SELECT settings FROM workbook").fetchone()[0])


def _rows(connection: sqlite3.Connection, statement: str, lot: str | None) -> sqlite3.Cursor:
    if lot is None:
        return connection.execute(statement.format(which=""))
    return connection.execute(statement.format(which=_OF_LOT), (lot,))


def _typed(rows: Iterable[tuple[Any, ...]], types: tuple[type, ...]) -> Iterator[tuple[Any, ...]]:
    """The rows, as long as each value is of its type; raises TypeError, which the store tells as damage."""
    for row in rows:
        if tuple(map(type, row)) != types:
            raise TypeError(
                next(f"{value!r:.60}" for value, kind in zip(row, types, strict=True) if type(value) is not kind)
            )
        yield row


def _named(cursor: sqlite3.Cursor, row: tuple[Any, ...]) -> dict[str, Any]:
    return dict(zip((column[0] for column in cursor.description), row, strict=True))


def _unknown(connection: sqlite3.Connection, what: str, names: str, name: str) -> NotInWorkbook:
    near = get_close_matches(name, [row[0] for row in connection.execute(names)], n=1)
    return NotInWorkbook(what, name, near[0] if near else "")
