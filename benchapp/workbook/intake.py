"""Writing down a lot with its units and runs, and a further run of a unit: rare writes, one transaction each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import uuid4

from sqlalchemy import Connection, insert, select, update

from benchapp.workbook.journal import stage_parameters
from benchapp.workbook.problems import NotInWorkbook, TakenName
from benchapp.workbook.sealing import digest, seal_run, seal_unit
from benchapp.workbook.store import Store
from benchapp.workbook.tables import LOTS, REVISIONS, RUN_REVISIONS, RUNS, UNIT_STAGES, UNITS, WORKBOOK
from benchapp.workbook.values import Lot, StageRow


@dataclass(frozen=True, slots=True, kw_only=True)
class Pins:
    """What a run rests on: route, equipment, the workshop's settings as JSON, every text by file name."""

    route: str
    equipment: str
    workshop: str
    texts: Mapping[str, str]


def add_lot(store: Store, lot: Lot, marks: Sequence[str], *, pins: Pins, stages: Sequence[StageRow], due: str) -> None:
    """The lot, its units in quarantine, a run each; raises TakenName and then writes nothing."""
    with store.writing() as connection:
        _refuse_taken(connection, lot.name, marks)
        lot_id = connection.execute(
            insert(LOTS)
            .values(
                name=lot.name, equipment=lot.equipment, title=lot.title, taken_in=lot.taken_in, by=lot.by, note=lot.note
            )
            .returning(LOTS.c.id)
        ).scalar_one()
        workbook = connection.execute(select(WORKBOOK.c.uuid)).scalar_one()
        revisions = _keep_texts(connection, pins.texts, at=lot.taken_in)
        for mark in marks:
            unit_id = _add_unit(connection, lot, lot_id, mark, workbook=workbook, route=pins.route, due=due)
            _add_run(connection, unit_id, number=1, pins=pins, revisions=revisions, at=lot.taken_in, by=lot.by)
            if stages:
                connection.execute(insert(UNIT_STAGES), [stage_parameters(stage, unit_id) for stage in stages])


def add_run(store: Store, mark: str, *, pins: Pins, at: str, by: str) -> None:
    """A further run of a unit; its entries from here on belong to it."""
    with store.writing() as connection:
        unit_id = connection.execute(select(UNITS.c.id).where(UNITS.c.mark == mark)).scalar_one_or_none()
        if unit_id is None:
            raise NotInWorkbook("unit", mark)
        earlier = connection.execute(select(RUNS.c.number).where(RUNS.c.unit_id == unit_id)).scalars().all()
        revisions = _keep_texts(connection, pins.texts, at=at)
        number = max(earlier, default=0) + 1
        _add_run(connection, unit_id, number=number, pins=pins, revisions=revisions, at=at, by=by)
        connection.execute(update(UNITS).where(UNITS.c.id == unit_id).values(route=pins.route))


def _refuse_taken(connection: Connection, lot: str, marks: Sequence[str]) -> None:
    if connection.execute(select(LOTS.c.id).where(LOTS.c.name == lot)).first():
        raise TakenName("lot", lot)
    taken = set(connection.execute(select(UNITS.c.mark)).scalars())
    for mark in marks:
        if mark in taken:
            raise TakenName("unit", mark)
        taken.add(mark)


def _add_unit(connection: Connection, lot: Lot, lot_id: int, mark: str, *, workbook: str, route: str, due: str) -> int:
    genesis = seal_unit(workbook=workbook, lot=lot.name, mark=mark, taken_in=lot.taken_in)
    row = insert(UNITS).values(
        lot_id=lot_id,
        mark=mark,
        genesis=genesis,
        route=route,
        disposition="quarantine",
        grade="",
        price="",
        due=due,
        run_id=None,
        last_entry=0,
        last_at=lot.taken_in,
        last_sha256=genesis,
    )
    return int(connection.execute(row.returning(UNITS.c.id)).scalar_one())


def _add_run(
    connection: Connection,
    unit_id: int,
    *,
    number: int,
    pins: Pins,
    revisions: Mapping[str, tuple[int, str]],
    at: str,
    by: str,
) -> None:
    uuid = str(uuid4())
    hashes = {name: sha256 for name, (_, sha256) in revisions.items()}
    seal = seal_run(uuid=uuid, route=pins.route, equipment=pins.equipment, workshop=pins.workshop, texts=hashes)
    run = insert(RUNS).values(
        uuid=uuid,
        unit_id=unit_id,
        number=number,
        started=at,
        by=by,
        route=pins.route,
        equipment=pins.equipment,
        workshop=pins.workshop,
        sha256=seal,
    )
    run_id = connection.execute(run.returning(RUNS.c.id)).scalar_one()
    pinned = [{"run_id": run_id, "name": name, "revision_id": revision} for name, (revision, _) in revisions.items()]
    if pinned:
        connection.execute(insert(RUN_REVISIONS), pinned)
    connection.execute(update(UNITS).where(UNITS.c.id == unit_id).values(run_id=run_id))


def _keep_texts(connection: Connection, texts: Mapping[str, str], *, at: str) -> dict[str, tuple[int, str]]:
    """Each text kept once: file name -> (revision id, SHA-256)."""
    kept: dict[str, tuple[int, str]] = {}
    for name, text in sorted(texts.items()):
        sha256 = digest(text)
        found = connection.execute(select(REVISIONS.c.id).where(REVISIONS.c.sha256 == sha256)).scalar_one_or_none()
        if found is None:
            row = insert(REVISIONS).values(sha256=sha256, text=text, kept=at)
            found = connection.execute(row.returning(REVISIONS.c.id)).scalar_one()
        kept[name] = (found, sha256)
    return kept
