"""Writing down a lot with its units and runs, and a further run of a unit: rare writes, one transaction each."""

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from uuid import uuid4

from sqlalchemy import Table, bindparam, insert, select, update

from benchapp.sequences.planning.chain_contents import LotContent, MovedContent, RunContent, UnitBeginning
from benchapp.sequences.planning.entries import Citation, Entry, EntryKind, OneContent
from benchapp.workbook.file.store import Store, compiled
from benchapp.workbook.model.problems import NotInWorkbook, TakenName, as_sentences
from benchapp.workbook.model.tables import CHAINS, LOTS, REVISIONS, RUNS, UNIT_STAGES, UNITS, WORKBOOK
from benchapp.workbook.model.values import BenchIdentity, Lot, StageRow, UnitSummary
from benchapp.workbook.record.board import unknown_unit
from benchapp.workbook.record.chains import UNIT, Head, add_entry, begin_chain, head_of_chain, parameters
from benchapp.workbook.record.days import bench_head, citations
from benchapp.workbook.record.journal import refuse_unusable, show_summary, stage_parameters
from benchapp.workbook.record.sealing import canonical, digest


@dataclass(frozen=True, slots=True, kw_only=True)
class Pins:
    """What a run rests on beside the workshop's settings of that moment: route, equipment, every text by file name."""

    route: str
    equipment: str
    texts: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What is shown of a unit before anything was done to it."""

    stages: tuple[StageRow, ...] = ()
    due: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewUnits:
    """Units of a lot that are of one design: each mark with what was known of it, and what their runs rest on."""

    units: Sequence[tuple[str, Mapping[str, str]]]
    pins: Pins
    shown: Shown = field(default_factory=Shown)


class Intake:
    """Takes lots into one workbook, at one bench."""

    def __init__(self, store: Store, bench: BenchIdentity) -> None:
        self._store = store
        self._bench = bench

    def add_lot(self, lot: Lot, groups: Sequence[NewUnits], *, more: bool = False) -> None:
        """The lot, its units in quarantine, a run each; raises TakenName and then writes nothing.

        With `more` they come into the lot of that name, which is there (raises NotInWorkbook) and is called as a whole
        what `lot` says from then on.
        """
        marks = [mark for group in groups for mark, _ in group.units]
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            _refuse_taken(connection, "" if more else lot.name, marks)
            bench_head(connection, self._bench, at=lot.taken_in)
            units = {str(uuid4()): mark for mark in marks}
            cited, lot_uuid, lot_id = self._add_lot(connection, lot, units, more=more)
            settings = connection.execute("SELECT settings FROM workbook").fetchone()[0]
            listed = [keep_texts(connection, group.pins.texts) for group in groups]
            of_mark = {
                mark: (group, pins, known)
                for group, pins in zip(groups, listed, strict=True)
                for mark, known in group.units
            }
            for uuid, mark in units.items():
                group, pins, known = of_mark[mark]
                content = UnitBeginning(
                    lot=lot_uuid,
                    shelf_mark=mark,
                    route=group.pins.route,
                    equipment=group.pins.equipment,
                    pins=pins,
                    known=dict(known),
                )
                beginning = self._entry(EntryKind.beginning, content, at=lot.taken_in, by=lot.by, cites=cited)
                begun = Beginning(replace(beginning, chain=uuid), lot_id, settings)
                add_unit(connection, begun, group.shown)

    def _add_lot(
        self, connection: sqlite3.Connection, lot: Lot, units: Mapping[str, str], *, more: bool
    ) -> tuple[tuple[Citation, ...], str, int]:
        """The lot in the workshop's chain; what its units cite (the lot last), its UUID and its row."""
        workshop = connection.execute(compiled(select(WORKBOOK.c.uuid))).fetchone()[0]
        head = head_of_chain(connection, workshop)
        assert head is not None
        uuid, lot_id = lot_called(connection, lot.name) if more else (str(uuid4()), 0)
        content = LotContent(
            lot=uuid,
            name=lot.name,
            equipment=lot.equipment,
            route=lot.route,
            title=lot.title,
            note=lot.note,
            units=dict(units),
        )
        cites = citations(connection, self._bench)
        head, kept = add_entry(connection, head, self._entry(EntryKind.lot, content, at=lot.taken_in, by=lot.by))
        if more:
            connection.execute(_CALLED, {"id": lot_id, **_as_a_whole(content)})
        return (*cites, head.citation), uuid, lot_id or add_lot_row(connection, kept)

    def move_units(self, marks: Sequence[str], lot: Lot, *, new: bool, at: str, by: str, why: str) -> None:
        """Put the units into the lot of that name, a `new` one or one that is there: all of them, or none.

        Raises TakenName, NotInWorkbook, Held, Lent.
        """
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            bench_head(connection, self._bench, at=at)
            if new:
                _refuse_taken(connection, lot.name, ())
                self._add_lot(connection, lot, {}, more=False)
            uuid, lot_id = lot_called(connection, lot.name)
            for mark in marks:
                chain, run = self._usable(connection, mark)
                content, cites = MovedContent(lot=uuid, why=why), citations(connection, self._bench)
                entry = replace(self._entry(EntryKind.moved, content, at=at, by=by, cites=cites), run=run)
                add_entry(connection, chain, entry)
                left = "UPDATE lots SET units = units - 1 WHERE id = (SELECT lot_id FROM units WHERE chain_id = ?)"
                connection.execute(left, (chain.chain_id,))
                connection.execute("UPDATE units SET lot_id = ? WHERE chain_id = ?", (lot_id, chain.chain_id))
                connection.execute("UPDATE lots SET units = units + 1 WHERE id = ?", (lot_id,))

    def _usable(self, connection: sqlite3.Connection, mark: str) -> tuple[Head, str]:
        """The head of a unit's chain and its run; raises NotInWorkbook, Held, Lent."""
        found = connection.execute(compiled(_HEAD), {"mark": mark}).fetchone()
        if found is None:
            raise unknown_unit(connection, mark)
        *head, held, lent_to, run = found
        refuse_unusable(mark, held, lent_to, self._bench)
        return Head(*head), str(run)

    def add_run(self, mark: str, *, pins: Pins, shown: UnitSummary, at: str, by: str, why: str = "") -> None:
        """A further run of a unit; its entries from here on belong to it."""
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            head, _run = self._usable(connection, mark)
            listed = keep_texts(connection, pins.texts)
            cites = citations(connection, self._bench)
            content = RunContent(route=pins.route, equipment=pins.equipment, pins=listed, why=why)
            entry = self._entry(EntryKind.run, content, at=at, by=by, cites=cites)
            _, kept = add_entry(connection, head, entry)
            settings = connection.execute("SELECT settings FROM workbook").fetchone()[0]
            add_run_row(connection, head.chain_id, kept, settings=settings)
            show_summary(connection, head.chain_id, shown, at=at, anew=True)

    def _entry(
        self, kind: EntryKind, content: OneContent, *, at: str, by: str, cites: tuple[Citation, ...] = ()
    ) -> Entry[OneContent]:
        run = str(uuid4()) if kind in (EntryKind.beginning, EntryKind.run) else ""
        return Entry(
            number=0, uuid="", kind=kind, at=at, by=by, content=content, bench=self._bench.uuid, run=run, cites=cites
        )


@dataclass(frozen=True, slots=True)
class Beginning:
    """A unit's beginning, with the row of its lot and the settings that it cites."""

    entry: Entry[UnitBeginning]
    lot_id: int
    settings: str


_HEAD = (
    select(CHAINS.c.id, CHAINS.c.uuid, CHAINS.c.last_entry, CHAINS.c.last_sha256, UNITS.c.held, UNITS.c.lent_to)
    .add_columns(RUNS.c.uuid)
    .join(UNITS, UNITS.c.chain_id == CHAINS.c.id)
    .join(RUNS, RUNS.c.id == UNITS.c.run_id)
    .where(UNITS.c.mark == bindparam("mark"))
)


_CALLED = "UPDATE lots SET equipment = :equipment, route = :route, title = :title WHERE id = :id"


def _as_a_whole(content: LotContent) -> dict[str, str]:
    return {"equipment": content.equipment, "route": content.route, "title": content.title}


def lot_called(connection: sqlite3.Connection, name: str) -> tuple[str, int]:
    """UUID and row of the lot of that name; raises NotInWorkbook."""
    found = connection.execute("SELECT uuid, id FROM lots WHERE name = ?", (name,)).fetchone()
    if found is None:
        raise NotInWorkbook("lot", name)
    return str(found[0]), int(found[1])


def _refuse_taken(connection: sqlite3.Connection, lot: str, marks: Sequence[str]) -> None:
    if connection.execute("SELECT 1 FROM lots WHERE ? IN (name, given_name)", (lot,)).fetchone():
        raise TakenName("lot", lot)
    taken = {mark for row in connection.execute("SELECT mark, shelf_mark FROM units") for mark in row}
    for mark in marks:
        if mark in taken:
            raise TakenName("unit", mark)
        taken.add(mark)


@cache
def insert_into(table: Table, *, leave_out: str = "") -> str:
    """The statement that puts a row into a table, a parameter each column."""
    return compiled(insert(table).values(parameters(table, leave_out=leave_out)))


def add_lot_row(connection: sqlite3.Connection, entry: Entry[LotContent]) -> int:
    """The lot as its entry in the workshop's chain says; its row number."""
    row = {name: getattr(entry.content, name) for name in ("name", "equipment", "route", "title", "note")}
    row |= {"uuid": entry.content.lot, "given_name": row["name"], "taken_in": entry.at, "by": entry.by, "units": 0}
    lot_id = connection.execute(insert_into(LOTS, leave_out="id"), row).lastrowid
    assert lot_id is not None
    return lot_id


def add_unit(connection: sqlite3.Connection, begun: Beginning, shown: Shown) -> None:
    """A unit with its chain, its first run and its stages."""
    entry = begun.entry
    head = begin_chain(connection, UNIT, entry)
    row = {
        "chain_id": head.chain_id,
        "lot_id": begun.lot_id,
        "mark": entry.content.shelf_mark,
        "shelf_mark": entry.content.shelf_mark,
        "held": "",
        "lent_to": "",
        "route": entry.content.route,
        "disposition": "quarantine",
        "grade": "",
        "price": "",
        "due": shown.due,
        "shown_at": entry.at,
        "moves_at": "",
        "live": "",
        "run_id": None,
    }
    connection.execute(insert_into(UNITS), row)
    connection.execute("UPDATE lots SET units = units + 1 WHERE id = ?", (begun.lot_id,))
    add_run_row(connection, head.chain_id, entry, settings=begun.settings)
    rows = [stage_parameters(stage, head.chain_id) for stage in shown.stages]
    connection.executemany(insert_into(UNIT_STAGES), rows)


def add_run_row(connection: sqlite3.Connection, unit_id: int, entry: Entry[RunContent], *, settings: str) -> None:
    """The run that a unit's beginning or a later `run` entry began; the unit is in it from here on."""
    number = connection.execute("SELECT count(*) FROM runs WHERE unit_id = ?", (unit_id,)).fetchone()[0] + 1
    row = {name: getattr(entry.content, name) for name in ("route", "equipment", "pins")}
    row |= {"uuid": entry.run, "unit_id": unit_id, "number": number, "started": entry.at, "by": entry.by}
    run_id = connection.execute(insert_into(RUNS, leave_out="id"), row | {"settings": settings}).lastrowid
    in_it = update(UNITS).where(UNITS.c.chain_id == bindparam("unit"))
    statement = compiled(in_it.values(run_id=bindparam("run"), route=bindparam("to_route")))
    connection.execute(statement, {"unit": unit_id, "run": run_id, "to_route": row["route"]})


def keep_texts(connection: sqlite3.Connection, texts: Mapping[str, str]) -> str:
    """Each text kept once, and the list of them by file name; the list's SHA-256."""
    hashes = {name: digest(text) for name, text in texts.items()}
    listed = canonical(hashes)
    for text in (*texts.values(), listed):
        known = connection.execute("SELECT 1 FROM revisions WHERE sha256 = ?", (digest(text),)).fetchone()
        if known is None:
            connection.execute(insert_into(REVISIONS, leave_out="id"), {"sha256": digest(text), "text": text})
    return digest(listed)
