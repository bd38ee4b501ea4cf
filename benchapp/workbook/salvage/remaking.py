"""Rows of the tables that are made from the record, made again from the entries where a damaged file has lost them.

Only what is missing is added. What the engine alone can say of a unit (disposition, stages, what is due) stays empty:
its entries say it when the unit is opened.
"""

import sqlite3
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.workbook.record.chains import UNIT, WORKSHOP
from benchapp.workbook.record.made_rows import Made
from benchapp.workbook.record.sealing import digest, read_sealed

LOST = "Its row on the board was lost: open the unit to see how it stands."


def remake_lost_rows(connection: sqlite3.Connection) -> None:
    """Add the rows of chains, lots, units, runs and of the workbook itself that the entries say and nothing holds."""
    read = _Read()
    for chain_id, text, link in connection.execute(
        "SELECT chain_id, sealed, sha256 FROM entries ORDER BY chain_id, number"
    ):
        read.take(int(chain_id), str(text), str(link))
    made = read.made.tables()
    _add_chains(connection, read, made)
    _add_workbook(connection, made)
    ids = dict(connection.execute("SELECT uuid, id FROM chains"))
    _add_lots(connection, made)
    _add_units(connection, made, ids)


@dataclass
class _Read:
    """The entries whose text is as it was hashed: the newest of each chain, and what the tables are made from."""

    made: Made = field(default_factory=lambda: Made(own=""))
    chains: dict[int, Entry] = field(default_factory=dict)

    def take(self, chain_id: int, text: str, link: str) -> None:
        """Follow one entry; one that says nothing sound is passed over."""
        try:
            if digest(text) != link:
                return
            entry = read_sealed(text, link)
            self.made.own = self.made.own or entry.chain  # the workshop's chain is the first
            self.chains[chain_id] = entry
            if entry.kind in _MAKES_ROWS:
                self.made.take(entry)
        except (ValueError, KeyError, TypeError, AttributeError):
            return


_MAKES_ROWS = frozenset(
    {
        EntryKind.beginning,
        EntryKind.run,
        EntryKind.shelf_mark,
        EntryKind.lent,
        EntryKind.moved,
        EntryKind.settings,
        EntryKind.lot,
        EntryKind.named,
        EntryKind.opening,
        EntryKind.closing,
    }
)


def _add_chains(connection: sqlite3.Connection, read: _Read, made: Mapping[str, Any]) -> None:
    kinds = made["chains"]
    _add(
        connection,
        "chains",
        (
            {
                "id": chain_id,
                "uuid": last.chain,
                "kind": kinds.get(last.chain, (UNIT,))[0],
                "last_entry": last.number,
                "last_at": last.at,
                "last_sha256": last.sha256,
                "anchored": -1,
            }
            for chain_id, last in read.chains.items()
        ),
    )


def _add_workbook(connection: sqlite3.Connection, made: Mapping[str, Any]) -> None:
    found = made["workbook"].get("the workbook")
    uuid, when, settings, number, link, _ = found or (_workshop_of(connection), "", "", 0, "", 1)
    row = {"id": 1, "uuid": uuid, "made": when, "settings": settings or "{}"}
    _add(connection, "workbook", [row | {"settings_entry": number, "settings_sha256": link}])


def _workshop_of(connection: sqlite3.Connection) -> str:
    found = connection.execute("SELECT uuid FROM chains WHERE kind = ?", (WORKSHOP,)).fetchone()
    return str(found[0]) if found else ""


def _add_lots(connection: sqlite3.Connection, made: Mapping[str, Any]) -> None:
    names = ("uuid", "name", "given_name", "equipment", "route", "title", "taken_in", "by", "note", "units")
    _add(connection, "lots", (dict(zip(names, (uuid, *row), strict=True)) for uuid, row in made["lots"].items()))


def _add_units(connection: sqlite3.Connection, made: Mapping[str, Any], ids: Mapping[str, int]) -> None:
    runs = ("number", "started", "by", "route", "equipment", "settings", "pins")
    rows = {
        uuid: {"uuid": uuid, "unit_id": ids[unit]} | dict(zip(runs, rest, strict=True))
        for uuid, (unit, *rest) in made["runs"].items()
        if unit in ids
    }
    _add(connection, "runs", rows.values())
    lots = dict(connection.execute("SELECT uuid, id FROM lots"))
    run_ids = dict(connection.execute("SELECT uuid, id FROM runs"))
    empty = dict.fromkeys(("grade", "price", "live", "shown_at", "moves_at"), "")
    unknown = {"disposition": "quarantine", "due": LOST} | empty
    _add(
        connection,
        "units",
        (
            {"chain_id": ids[uuid], "lot_id": lots.get(lot, 0), "mark": mark, "shelf_mark": shelf_mark, "held": held}
            | {"lent_to": lent_to, "route": route, "run_id": run_ids.get(run)}
            | unknown
            for uuid, (lot, mark, shelf_mark, held, lent_to, route, run) in made["units"].items()
            if uuid in ids
        ),
    )


def _add(connection: sqlite3.Connection, table: str, rows: Iterable[Mapping[str, Any]]) -> None:
    """Insert the rows whose keys are not there yet."""
    for row in rows:
        names = ", ".join(f'"{name}"' for name in row)
        marks = ", ".join("?" * len(row))
        connection.execute(
            f'INSERT OR IGNORE INTO "{table}" ({names}) VALUES ({marks})',  # noqa: S608
            tuple(row.values()),
        )
