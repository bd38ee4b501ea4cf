"""A workbook of very many units, made with a seed: lots of a thousand, a few entries each, through the true tables."""

from dataclasses import replace
from pathlib import Path
from random import Random
from uuid import uuid4

from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.sequences.planning.entry_contents import NoteContent
from benchapp.workbook.model.values import Lot, StageRow
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.chains import add_entry, head_of_chain
from benchapp.workbook.record.intake import NewUnits, Pins, Shown

LOT = 1000
AT = "2026-05-04T09:00:00.000Z"
STAGES = ("visual", "plug", "continuity", "insulation", "first power", "live", "load")
STATUSES = ("not started", "in progress", "done", "failed", "stale")
DISPOSITIONS = ("quarantine",) * 5 + ("for sale", "hold", "scrap")


def make_workbook(path: Path, units: int, *, entries: int = 3, seed: int = 7) -> Path:
    """A workbook with so many units, all of one made-up design; returns the path."""
    random = Random(seed)
    book = Workbook.create(path, made=AT)
    pins = Pins(route="tb-mu1-check", equipment="tb-mu1", texts={"equipment/tb-mu1.yaml": "equipment: tb-mu1\n"})
    for number in range(units // LOT):
        lot = Lot(
            name=f"Tarnbeck shelf {number:03d}",
            equipment="tb-mu1",
            route="tb-mu1-check",
            title="Mains unit, two AC outputs",
            taken_in=AT,
            by="AB",
        )
        stages = tuple(
            StageRow(unit="", position=i, stage=name, title=name.capitalize(), status="not started", done=0, of=9)
            for i, name in enumerate(STAGES)
        )
        marks = [f"TB-{number * LOT + i:06d}" for i in range(LOT)]
        shown = Shown(stages=stages, due="Look at the plug.")
        book.add_lot(lot, [NewUnits(units=[(mark, {}) for mark in marks], pins=pins, shown=shown)])
    _add_entries(book, random, entries)
    book.add_anchor(at=AT, reason="workbook closed")
    book.close()
    return path


def _add_entries(book: Workbook, random: Random, entries: int) -> None:
    """Notes for every unit, and what a board would show of it; in one transaction, since nobody waits for them."""
    cites, bench = book.grounds().cites, book.bench.uuid
    with book.store.kept_transaction() as connection:
        units = connection.execute(
            "SELECT chains.uuid, units.chain_id FROM units JOIN chains ON chains.id = units.chain_id"
        ).fetchall()
        for uuid, unit in units:
            head = head_of_chain(connection, uuid)
            for number in range(random.randint(0, 2 * entries)):
                note = Entry(
                    number=0,
                    uuid=str(uuid4()),
                    kind=EntryKind.note,
                    at=AT,
                    by="AB",
                    content=NoteContent(words=f"seen {number} times"),
                    bench=bench,
                )
                head, _ = add_entry(connection, head, replace(note, cites=cites))
            shown = (random.choice(DISPOSITIONS), f"{random.randint(1, 40)}.00", unit)
            connection.execute("UPDATE units SET disposition = ?, price = ? WHERE chain_id = ?", shown)
        connection.execute(
            "UPDATE unit_stages SET status = CASE (unit_id + position) % 5 "
            + " ".join(f"WHEN {i} THEN '{word}'" for i, word in enumerate(STATUSES))
            + " END"
        )
