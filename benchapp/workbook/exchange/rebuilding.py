"""The rows that are made from the record, put right after entries came from elsewhere."""

import sqlite3
from collections.abc import Iterable, Mapping
from typing import Any

from benchapp.workbook.record.made_rows import COLUMNS, TABLES, Rows, made_rows

_UNKNOWN = {"disposition": "quarantine"} | dict.fromkeys(("grade", "price", "due", "live", "shown_at", "moves_at"), "")
"""of a unit, until its entries have been folded"""
_NUMBERS = ("settings_entry", "day", "number", "units", "id")
"""columns of numbers; the others are texts"""


def rebuild_rows(connection: sqlite3.Connection) -> None:
    """Make every row what the record says; raises TwoAlike, and ValueError or LookupError
    for what no program of ours has recorded, such as a unit of a lot that no entry tells of.

    What the engine alone can say of a unit is left as it is, and empty for one that is new.
    """
    made = made_rows(connection).tables()
    _check_types(made)
    there = {table: {row[0]: tuple(row[1:]) for row in connection.execute(sql)} for table, sql in TABLES.items()}
    _workbook(connection, made["workbook"]["the workbook"])
    _benches(connection, _changed(made["benches"], there["benches"]))
    _lots(connection, _changed(made["lots"], there["lots"]))
    _units(connection, _changed(made["units"], there["units"]), made["lots"])
    _runs(connection, made["runs"], there["runs"])
    _current_runs(connection, made["units"])
    _tags(connection, made["tags_printed"], there["tags_printed"])


def _check_types(made: Mapping[str, Rows]) -> None:
    """Raise ValueError where the record says a number for a text, or the like."""
    for table, rows in made.items():
        for row in rows.values():
            for name, value in _named(table, row).items():
                if value is not None and not isinstance(value, int if name in _NUMBERS else str):
                    raise ValueError(f"{name} is {value!r}")


def _changed(made: Rows, there: Rows) -> Rows:
    return {key: row for key, row in made.items() if there.get(key) != row}


def _named(table: str, row: Iterable[Any]) -> dict[str, Any]:
    return dict(zip(COLUMNS[table], row, strict=True))


def _chain_ids(connection: sqlite3.Connection) -> dict[str, int]:
    return dict(connection.execute("SELECT uuid, id FROM chains"))


def _workbook(connection: sqlite3.Connection, row: tuple[Any, ...]) -> None:
    statement = (
        "UPDATE workbook SET uuid = :uuid, made = :made, settings = :settings, settings_entry = :settings_entry, "
        "settings_sha256 = :settings_sha256"
    )
    connection.execute(statement, _named("workbook", row))


def _benches(connection: sqlite3.Connection, rows: Rows) -> None:
    ids = _chain_ids(connection)
    statement = """
        INSERT INTO benches (chain_id, name, day, day_sha256) VALUES (:id, :name, :day, :day_sha256)
        ON CONFLICT (chain_id) DO UPDATE SET name = excluded.name, day = excluded.day, day_sha256 = excluded.day_sha256
    """
    connection.executemany(statement, [{"id": ids[uuid]} | _named("benches", row) for uuid, row in rows.items()])


def _lots(connection: sqlite3.Connection, rows: Rows) -> None:
    connection.executemany("UPDATE lots SET name = ? WHERE uuid = ?", [(f"\0{uuid}", uuid) for uuid in rows])
    names = [f'"{name}"' for name in COLUMNS["lots"]]
    statement = (
        f"INSERT INTO lots (uuid, {', '.join(names)}) VALUES (:uuid, :{', :'.join(COLUMNS['lots'])}) "  # noqa: S608
        f"ON CONFLICT (uuid) DO UPDATE SET {', '.join(f'{name} = excluded.{name}' for name in names)}"
    )
    connection.executemany(statement, [{"uuid": uuid} | _named("lots", row) for uuid, row in rows.items()])


def _units(connection: sqlite3.Connection, rows: Rows, lots: Mapping[str, Any]) -> None:
    ids = _chain_ids(connection)
    lot_ids = dict(connection.execute("SELECT uuid, id FROM lots"))
    rename = "UPDATE units SET mark = ? WHERE chain_id = ?"
    connection.executemany(rename, [(f"\0{uuid}", ids[uuid]) for uuid in rows])
    statement = """
        INSERT INTO units (chain_id, lot_id, mark, shelf_mark, held, lent_to, route,
                           disposition, grade, price, due, live, shown_at, moves_at)
        VALUES (:id, :lot_id, :mark, :shelf_mark, :held, :lent_to, :route,
                :disposition, :grade, :price, :due, :live, :shown_at, :moves_at)
        ON CONFLICT (chain_id) DO UPDATE SET lot_id = excluded.lot_id, mark = excluded.mark,
        shelf_mark = excluded.shelf_mark, held = excluded.held, lent_to = excluded.lent_to, route = excluded.route
    """
    for uuid, row in rows.items():
        said = _named("units", row)
        if said["lot"] not in lots:
            raise KeyError(said["lot"])
        connection.execute(statement, {"id": ids[uuid], "lot_id": lot_ids[said["lot"]]} | said | _UNKNOWN)


def _runs(connection: sqlite3.Connection, made: Rows, there: Rows) -> None:
    ids = _chain_ids(connection)
    gone = [uuid for uuid, row in there.items() if made.get(uuid) != row]
    connection.executemany("DELETE FROM runs WHERE uuid = ?", [(uuid,) for uuid in gone])
    statement = """
        INSERT INTO runs (uuid, unit_id, number, started, "by", route, equipment, settings, pins)
        VALUES (:uuid, :unit_id, :number, :started, :by, :route, :equipment, :settings, :pins)
    """
    for uuid, row in _changed(made, there).items():
        said = _named("runs", row)
        connection.execute(statement, {"uuid": uuid, "unit_id": ids[said["unit"]]} | said)


def _current_runs(connection: sqlite3.Connection, units: Rows) -> None:
    ids, runs = _chain_ids(connection), dict(connection.execute("SELECT uuid, id FROM runs"))
    now = dict(connection.execute("SELECT chain_id, run_id FROM units"))
    wanted = {ids[uuid]: runs[_named("units", row)["run"]] for uuid, row in units.items()}
    moved = [(run, unit) for unit, run in wanted.items() if now[unit] != run]
    connection.executemany("UPDATE units SET run_id = ? WHERE chain_id = ?", moved)


def _tags(connection: sqlite3.Connection, made: Rows, there: Rows) -> None:
    ids = _chain_ids(connection)
    entry = "SELECT id FROM entries WHERE uuid = ?"
    delete = "DELETE FROM tags_printed WHERE entry_id = ? AND unit_id = ?"
    add = """
        INSERT INTO tags_printed (entry_id, unit_id, at, "by", disposition, record_hash)
        VALUES (:entry_id, :unit_id, :at, :by, :disposition, :record_hash)
    """
    for key in {**made, **there}:
        if made.get(key) != there.get(key):
            printed, unit = key.split(" ")
            (entry_id,) = connection.execute(entry, (printed,)).fetchone()
            connection.execute(delete, (entry_id, ids[unit]))
            if key in made:
                place = {"entry_id": entry_id, "unit_id": ids[unit]}
                connection.execute(add, place | _named("tags_printed", made[key]))
