"""Whether what lies in the file is what was recorded: SQLite's own checks, the hash chains, pins and anchors.

Judgements are computed again elsewhere (`actions.verifying`); here nothing knows what an entry means.
"""

import json
from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, Row, select

from benchapp.workbook import sqlite
from benchapp.workbook.journal import INPUTS
from benchapp.workbook.problems import WorkbookProblem
from benchapp.workbook.sealing import canonical, digest, seal_anchor, seal_entry, seal_heads, seal_run, seal_unit
from benchapp.workbook.store import Store
from benchapp.workbook.tables import ANCHORS, ENTRIES, LOTS, REVISIONS, RUN_REVISIONS, RUNS, UNITS, WORKBOOK
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
    driver = sqlite.driver_of(connection)
    for fault in sqlite.structural_faults(driver):
        yield Difference(unit="", entry=None, words=f"The file's own structure is damaged: {fault}.")
    for table, other in sqlite.dangling_rows(driver):
        words = f"A row of {table} refers to a row of {other} that is not there."
        yield Difference(unit="", entry=None, words=words)


def _check_triggers(connection: Connection) -> Iterator[Difference]:
    there = sqlite.trigger_names(sqlite.driver_of(connection))
    for table in GUARDED_TABLES:
        for verb in ("update", "delete"):
            if f"{table}_refuse_{verb}" not in there:
                words = f"The guard that refuses to {verb} {table} has been taken off the file."
                yield Difference(unit="", entry=None, words=words)


def _check_texts(connection: Connection) -> Iterator[Difference]:
    for row in connection.execute(select(REVISIONS.c.sha256, REVISIONS.c.text)):
        if digest(row.text) != row.sha256:
            words = f"The pinned text {row.sha256[:8]} is not the text that was pinned."
            yield Difference(unit="", entry=None, words=words)


def _check_runs(connection: Connection) -> Iterator[Difference]:
    pinned: dict[int, dict[str, str]] = {}
    pins = select(RUN_REVISIONS.c.run_id, RUN_REVISIONS.c.name, REVISIONS.c.sha256).join(
        REVISIONS, REVISIONS.c.id == RUN_REVISIONS.c.revision_id
    )
    for run_id, name, sha256 in connection.execute(pins):
        pinned.setdefault(run_id, {})[name] = sha256
    runs = select(RUNS, UNITS.c.mark).join(UNITS, UNITS.c.id == RUNS.c.unit_id)
    for row in connection.execute(runs.with_only_columns(*RUNS.columns, UNITS.c.mark)):
        found = seal_run(
            uuid=row.uuid, route=row.route, equipment=row.equipment, workshop=row.workshop, texts=pinned.get(row.id, {})
        )
        if found != row.sha256:
            words = f"Run {row.number} of {row.mark} does not rest on the texts that it pinned."
            yield Difference(unit=row.mark, entry=None, words=words)


def _check_chains(connection: Connection) -> Iterator[Difference]:
    workbook = connection.execute(select(WORKBOOK.c.uuid)).scalar_one()
    units = select(
        UNITS.c.id,
        UNITS.c.mark,
        UNITS.c.genesis,
        UNITS.c.last_entry,
        UNITS.c.last_sha256,
        LOTS.c.name.label("lot"),
        LOTS.c.taken_in,
    ).join(LOTS, LOTS.c.id == UNITS.c.lot_id)
    for unit in connection.execute(units.order_by(UNITS.c.mark)).all():
        genesis = seal_unit(workbook=workbook, lot=unit.lot, mark=unit.mark, taken_in=unit.taken_in)
        if genesis != unit.genesis:
            words = f"{unit.mark} has another mark, lot or date of intake than it was taken in with."
            yield Difference(unit=unit.mark, entry=None, words=words)
        yield from _check_chain(connection, unit)


def _check_chain(connection: Connection, unit: Row[*tuple[Any, ...]]) -> Iterator[Difference]:
    columns = (*ENTRIES.columns, RUNS.c.sha256.label("run_seal"), RUNS.c.uuid.label("run"))
    rows = (
        select(*columns)
        .join(RUNS, RUNS.c.id == ENTRIES.c.run_id)
        .where(ENTRIES.c.unit_id == unit.id)
        .order_by(ENTRIES.c.number)
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
    anchors = connection.execute(select(ANCHORS).order_by(ANCHORS.c.id)).all()
    entries = connection.execute(
        select(ENTRIES.c.id, UNITS.c.mark, ENTRIES.c.sha256)
        .join(UNITS, UNITS.c.id == ENTRIES.c.unit_id)
        .order_by(ENTRIES.c.id)
    ).all()
    heads: dict[str, str] = {}
    position, previous = 0, ""
    for anchor in anchors:
        while position < len(entries) and entries[position].id <= anchor.entries:
            heads[entries[position].mark] = entries[position].sha256
            position += 1
        link = seal_anchor(
            previous=previous, at=anchor.at, reason=anchor.reason, entries=anchor.entries, heads=seal_heads(heads)
        )
        if link != anchor.sha256:
            words = f"The records do not fit the anchor set at {anchor.at} ({anchor.reason})."
            yield Difference(unit="", entry=None, words=words)
            return
        previous = anchor.sha256
