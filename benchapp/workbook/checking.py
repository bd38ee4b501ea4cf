"""Whether what lies in the file is what was recorded: SQLite's own checks, the hash chains, pins and anchors.

Judgements are computed again elsewhere (`actions.verifying`); here nothing knows what an entry means.
"""

import json
from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, Row, select, text

from benchapp.workbook.journal import INPUTS
from benchapp.workbook.problems import WorkbookProblem
from benchapp.workbook.sealing import (
    canonical,
    digest,
    seal_anchor,
    seal_entry,
    seal_heads,
    seal_run,
    seal_unit,
)
from benchapp.workbook.store import Store
from benchapp.workbook.tables import (
    AnchorRow,
    EntryRow,
    LotRow,
    RevisionRow,
    RunRevisionRow,
    RunRow,
    UnitRow,
    WorkbookRow,
)
from benchapp.workbook.values import Difference

GUARDED_TABLES = ("entries", "runs", "run_revisions", "revisions", "anchors")


def check_records(store: Store) -> Iterator[Difference]:
    """Every difference between the file and its own hashes, in the order in which it is checked."""
    checks = (_check_file, _check_triggers, _check_texts, _check_runs, _check_chains, _check_anchors)
    try:
        with store.reading() as connection:
            for check in checks:
                yield from check(connection)
    except (WorkbookProblem, ValueError) as error:  # ValueError: rubbish where a number or JSON should be
        yield Difference(unit="", entry=None, words=str(error))


def _check_file(connection: Connection) -> Iterator[Difference]:
    for (line,) in connection.execute(text("PRAGMA integrity_check")):
        if line != "ok":
            yield Difference(unit="", entry=None, words=f"The file's own structure is damaged: {line}.")
    for row in connection.execute(text("PRAGMA foreign_key_check")):
        words = f"A row of {row[0]} refers to a row of {row[2]} that is not there."
        yield Difference(unit="", entry=None, words=words)


def _check_triggers(connection: Connection) -> Iterator[Difference]:
    there = set(connection.execute(text("SELECT name FROM sqlite_master WHERE type = 'trigger'")).scalars())
    for table in GUARDED_TABLES:
        for verb in ("update", "delete"):
            if f"{table}_refuse_{verb}" not in there:
                words = f"The guard that refuses to {verb} {table} has been taken off the file."
                yield Difference(unit="", entry=None, words=words)


def _check_texts(connection: Connection) -> Iterator[Difference]:
    for row in connection.execute(select(RevisionRow.sha256, RevisionRow.text)):
        if digest(row.text) != row.sha256:
            words = f"The pinned text {row.sha256[:8]} is not the text that was pinned."
            yield Difference(unit="", entry=None, words=words)


def _check_runs(connection: Connection) -> Iterator[Difference]:
    pinned: dict[int, dict[str, str]] = {}
    pins = select(RunRevisionRow.run_id, RunRevisionRow.name, RevisionRow.sha256).join(
        RevisionRow, RevisionRow.id == RunRevisionRow.revision_id
    )
    for run_id, name, sha256 in connection.execute(pins):
        pinned.setdefault(run_id, {})[name] = sha256
    runs = select(RunRow, UnitRow.mark).join(UnitRow, UnitRow.id == RunRow.unit_id)
    for row in connection.execute(runs.with_only_columns(*RunRow.__table__.columns, UnitRow.mark)):
        found = seal_run(
            uuid=row.uuid,
            route=row.route,
            equipment=row.equipment,
            workshop=row.workshop,
            texts=pinned.get(row.id, {}),
        )
        if found != row.sha256:
            words = f"Run {row.number} of {row.mark} does not rest on the texts that it pinned."
            yield Difference(unit=row.mark, entry=None, words=words)


def _check_chains(connection: Connection) -> Iterator[Difference]:
    workbook = connection.execute(select(WorkbookRow.uuid)).scalar_one()
    units = select(
        UnitRow.id,
        UnitRow.mark,
        UnitRow.genesis,
        UnitRow.last_entry,
        UnitRow.last_sha256,
        LotRow.name.label("lot"),
        LotRow.taken_in,
    ).join(LotRow, LotRow.id == UnitRow.lot_id)
    for unit in connection.execute(units.order_by(UnitRow.mark)).all():
        genesis = seal_unit(workbook=workbook, lot=unit.lot, mark=unit.mark, taken_in=unit.taken_in)
        if genesis != unit.genesis:
            words = f"{unit.mark} has another mark, lot or date of intake than it was taken in with."
            yield Difference(unit=unit.mark, entry=None, words=words)
        yield from _check_chain(connection, unit)


def _check_chain(connection: Connection, unit: Row[*tuple[Any, ...]]) -> Iterator[Difference]:
    columns = (*EntryRow.__table__.columns, RunRow.sha256.label("run_seal"), RunRow.uuid.label("run"))
    rows = (
        select(*columns)
        .join(RunRow, RunRow.id == EntryRow.run_id)
        .where(EntryRow.unit_id == unit.id)
        .order_by(EntryRow.number)
    )
    number, previous = 0, unit.genesis
    for row in connection.execute(rows):
        number += 1
        wrong = _entry_fault(row, unit.mark, number, previous)
        if wrong:
            yield Difference(unit=unit.mark, entry=row.number, words=wrong)
            return  # the links behind a broken one say nothing more
        previous = row.sha256
    if (number, previous) != (unit.last_entry, unit.last_sha256):
        words = f"{unit.mark} had {unit.last_entry} entries, {number} are there."
        yield Difference(unit=unit.mark, entry=number + 1, words=words)


def _entry_fault(row: Row[*tuple[Any, ...]], mark: str, number: int, previous: str) -> str:
    if row.number != number:
        return f"Entry {number} of {mark} is missing."
    link = seal_entry(
        previous=previous,
        run=row.run_seal,
        unit=mark,
        number=row.number,
        uuid=row.uuid,
        kind=row.kind,
        at=row.at,
        by=row.by,
        address=row.address,
        content=row.content,
    )
    if link != row.sha256:
        return f"Entry {number} of {mark} is not as it was recorded: its hash does not fit."
    content = json.loads(row.content)
    if canonical(content) != row.content:
        return f"Entry {number} of {mark} is not in the form in which it was recorded."
    for key in INPUTS:
        if content.get(key) != getattr(row, key):
            return (
                f"Entry {number} of {mark}: its column {key} says {getattr(row, key)}, "
                f"the record says {content.get(key)}."
            )
    return ""


def _check_anchors(connection: Connection) -> Iterator[Difference]:
    anchors = connection.execute(select(AnchorRow.__table__).order_by(AnchorRow.id)).all()
    entries = connection.execute(
        select(EntryRow.id, UnitRow.mark, EntryRow.sha256)
        .join(UnitRow, UnitRow.id == EntryRow.unit_id)
        .order_by(EntryRow.id)
    ).all()
    heads: dict[str, str] = {}
    position, previous = 0, ""
    for anchor in anchors:
        while position < len(entries) and entries[position].id <= anchor.entries:
            heads[entries[position].mark] = entries[position].sha256
            position += 1
        link = seal_anchor(
            previous=previous,
            at=anchor.at,
            reason=anchor.reason,
            entries=anchor.entries,
            heads=seal_heads(heads),
        )
        if link != anchor.sha256:
            words = f"The records do not fit the anchor set at {anchor.at} ({anchor.reason})."
            yield Difference(unit="", entry=None, words=words)
            return
        previous = anchor.sha256
