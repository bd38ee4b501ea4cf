"""The durable path of one entry: on disk, chained to the entry before it, before anything on screen moves.

The statements are Core statements compiled once and sent through a kept driver connection. An entry's number is
claimed inside the transaction: when another window took it, or changed the workshop's settings since, nothing is
written and `Overtaken` says so.
"""

import sqlite3
from typing import Any

from sqlalchemy import Table, bindparam, insert, select, update
from sqlalchemy.dialects.sqlite import insert as insert_or_update

from benchapp.workbook.problems import NotInWorkbook, Overtaken, as_sentences
from benchapp.workbook.sealing import canonical, seal_entry
from benchapp.workbook.store import Store, compiled
from benchapp.workbook.tables import ENTRIES, RUNS, UNIT_STAGES, UNITS, WORKBOOK
from benchapp.workbook.values import Draft, KeptEntry, StageRow, UnitSummary

INPUTS = ("value", "bound", "lower", "upper", "standard_uncertainty", "rule", "judgement", "rules_version")
"""keys of an answer's content that also stand in columns of their own"""
SUMMARY = ("disposition", "due", "grade", "price")
"""what of a unit's summary stands in columns of the unit"""


class Journal:
    """Appends entries to one workbook."""

    def __init__(self, store: Store) -> None:
        self._store = store
        head = (
            select(
                UNITS.c.id,
                UNITS.c.last_entry,
                UNITS.c.last_sha256,
                RUNS.c.id,
                RUNS.c.uuid,
                RUNS.c.sha256,
                select(WORKBOOK.c.workshop).scalar_subquery(),
            )
            .join(RUNS, RUNS.c.id == UNITS.c.run_id)
            .where(UNITS.c.mark == bindparam("mark"))
        )
        self._head = compiled(head)
        self._earlier = compiled(
            select(ENTRIES.c.number, ENTRIES.c.sha256, ENTRIES.c.at).where(ENTRIES.c.uuid == bindparam("uuid"))
        )
        self._insert = compiled(insert(ENTRIES).values(_parameters(ENTRIES, leave_out="id")))
        self._summary = compiled(_unit_with(*SUMMARY, "last_entry", "last_at", "last_sha256"))
        self._due = compiled(_unit_with("due"))
        self._stage = compiled(_stage())

    def append(self, draft: Draft) -> KeptEntry:
        """Record the draft durably; a draft recorded before (same UUID) is returned as it was then.

        Raises Overtaken when the number is taken, the unit is in another run or the workshop has other settings by
        now, NotInWorkbook for an unknown unit, WorkbookProblem for the disk.
        """
        content = canonical(draft.content)
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            found = connection.execute(self._head, {"mark": draft.unit}).fetchone()
            if found is None:
                raise NotInWorkbook("unit", draft.unit)
            unit_id, last, previous, run_id, run, run_seal, workshop = found
            if draft.number != last + 1:
                return self._recorded_before(connection, draft)
            if (draft.run, draft.workshop) != (run, workshop):
                raise Overtaken(draft.unit, draft.number)
            link = seal_entry(
                previous=previous,
                run=run_seal,
                unit=draft.unit,
                number=draft.number,
                uuid=draft.uuid,
                kind=draft.kind,
                at=draft.at,
                by=draft.by,
                address=draft.address,
                content=content,
            )
            self._write(connection, draft, unit_id=unit_id, run_id=run_id, content=content, link=link)
        return _kept(draft, sha256=link)

    def keep_summary(self, unit: str, number: int, summary: UnitSummary) -> bool:
        """Keep what time alone has moved of a unit; false when entry `number` is not its last any more."""
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            found = connection.execute(self._head, {"mark": unit}).fetchone()
            if found is None or found[1] != number:
                return False
            unit_id = found[0]
            for stage in summary.stages:
                connection.execute(self._stage, stage_parameters(stage, unit_id))
            connection.execute(self._due, {"unit": unit_id, "to_due": summary.due})
        return True

    def _recorded_before(self, connection: sqlite3.Connection, draft: Draft) -> KeptEntry:
        earlier = connection.execute(self._earlier, {"uuid": draft.uuid}).fetchone()
        if earlier is None or earlier[0] != draft.number:
            raise Overtaken(draft.unit, draft.number)
        return _kept(draft, sha256=earlier[1])

    def _write(
        self, connection: sqlite3.Connection, draft: Draft, *, unit_id: int, run_id: int, content: str, link: str
    ) -> None:
        row = {key: draft.content.get(key) for key in INPUTS}
        row |= {
            "uuid": draft.uuid,
            "unit_id": unit_id,
            "number": draft.number,
            "run_id": run_id,
            "kind": draft.kind,
            "at": draft.at,
            "by": draft.by,
            "address": draft.address,
            "content": content,
            "sha256": link,
        }
        connection.execute(self._insert, row)
        connection.execute(
            self._summary,
            {
                "unit": unit_id,
                **{f"to_{name}": getattr(draft.summary, name) for name in SUMMARY},
                "to_last_entry": draft.number,
                "to_last_at": draft.at,
                "to_last_sha256": link,
            },
        )
        connection.executemany(self._stage, [stage_parameters(stage, unit_id) for stage in draft.summary.stages])


def _parameters(table: Table, *, leave_out: str) -> dict[str, Any]:
    return {column.name: bindparam(column.name) for column in table.columns if column.name != leave_out}


def _unit_with(*names: str) -> Any:  # noqa: ANN401 (a Core statement)
    values: dict[str, Any] = {name: bindparam(f"to_{name}") for name in names}
    return update(UNITS).where(UNITS.c.id == bindparam("unit")).values(values)


def _stage() -> Any:  # noqa: ANN401 (a Core statement)
    statement = insert_or_update(UNIT_STAGES).values(_parameters(UNIT_STAGES, leave_out=""))
    new = statement.excluded
    return statement.on_conflict_do_update(
        index_elements=["unit_id", "stage"],
        set_={name: new[name] for name in ("position", "title", "status", "done", "steps", "why")},
    )


def stage_parameters(stage: StageRow, unit_id: int) -> dict[str, Any]:
    """A stage as the row of the table."""
    return {
        "unit_id": unit_id,
        "stage": stage.stage,
        "position": stage.position,
        "title": stage.title,
        "status": stage.status,
        "done": stage.done,
        "steps": stage.of,
        "why": stage.why,
    }


def _kept(draft: Draft, *, sha256: str) -> KeptEntry:
    return KeptEntry(
        uuid=draft.uuid,
        unit=draft.unit,
        number=draft.number,
        kind=draft.kind,
        at=draft.at,
        by=draft.by,
        address=draft.address,
        run=draft.run,
        content=draft.content,
        sha256=sha256,
    )
