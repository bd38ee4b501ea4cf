"""Bench openings and closings, tags printed, the workshop's settings, and the anchors set at such moments."""

from collections.abc import Sequence

from sqlalchemy import Connection, func, insert, select, update

from benchapp.workbook.problems import NotInWorkbook
from benchapp.workbook.sealing import seal_anchor, seal_heads
from benchapp.workbook.store import Store
from benchapp.workbook.tables import (
    ANCHORS,
    BENCH_CLOSINGS,
    BENCH_OPENINGS,
    ENTRIES,
    METER_PROOFS,
    TAGS_PRINTED,
    UNITS,
    WORKBOOK,
)
from benchapp.workbook.values import BenchOpening, MeterProof, TagPrinted


def keep_workshop(store: Store, workshop: str) -> None:
    """Keep other settings from here on."""
    with store.writing() as connection:
        connection.execute(update(WORKBOOK).values(workshop=workshop))


def add_opening(store: Store, opening: BenchOpening) -> None:
    """Record that the bench was opened, and anchor what was recorded before."""
    with store.writing() as connection:
        row = insert(BENCH_OPENINGS).values(
            uuid=opening.uuid,
            at=opening.at,
            by=opening.by,
            rcd_button_tested=opening.rcd_button_tested,
            note=opening.note,
        )
        opening_id = connection.execute(row.returning(BENCH_OPENINGS.c.id)).scalar_one()
        _add_proofs(connection, opening_id, "opening", opening.meters)
        _anchor(connection, at=opening.at, reason="bench opening")


def add_closing(store: Store, opening: str, *, at: str, by: str, meters: Sequence[MeterProof], note: str) -> None:
    """Record that the bench opened under that UUID was closed, and anchor the day's records."""
    with store.writing() as connection:
        found = connection.execute(select(BENCH_OPENINGS.c.id).where(BENCH_OPENINGS.c.uuid == opening)).scalar()
        if found is None:
            raise NotInWorkbook("bench opening", opening)
        connection.execute(insert(BENCH_CLOSINGS).values(opening_id=found, at=at, by=by, note=note))
        _add_proofs(connection, found, "closing", meters)
        _anchor(connection, at=at, reason="bench closing")


def read_openings(store: Store, *, since: str = "") -> tuple[BenchOpening, ...]:
    """Openings from a time on, oldest first."""
    statement = (
        select(
            BENCH_OPENINGS.c.id,
            BENCH_OPENINGS.c.uuid,
            BENCH_OPENINGS.c.at,
            BENCH_OPENINGS.c.by,
            BENCH_OPENINGS.c.rcd_button_tested,
            BENCH_OPENINGS.c.note,
            BENCH_CLOSINGS.c.at.label("closed"),
            BENCH_CLOSINGS.c.by.label("closed_by"),
        )
        .join(BENCH_CLOSINGS, BENCH_CLOSINGS.c.opening_id == BENCH_OPENINGS.c.id, isouter=True)
        .where(BENCH_OPENINGS.c.at >= since)
        .order_by(BENCH_OPENINGS.c.at, BENCH_OPENINGS.c.id)
    )
    with store.reading() as connection:
        return tuple(
            BenchOpening(
                uuid=row.uuid,
                at=row.at,
                by=row.by,
                meters=_proofs(connection, row.id, "opening"),
                rcd_button_tested=row.rcd_button_tested,
                note=row.note,
                closed=row.closed or "",
                closed_by=row.closed_by or "",
                closing=_proofs(connection, row.id, "closing"),
            )
            for row in connection.execute(statement).all()
        )


def add_tags_printed(store: Store, tags: Sequence[TagPrinted]) -> None:
    """Record what was put on paper, and anchor the records that the tags quote."""
    with store.writing() as connection:
        for tag in tags:
            unit = connection.execute(select(UNITS.c.id).where(UNITS.c.mark == tag.unit)).scalar()
            if unit is None:
                raise NotInWorkbook("unit", tag.unit)
            row = insert(TAGS_PRINTED).values(
                unit_id=unit, at=tag.at, by=tag.by, disposition=tag.disposition, record_hash=tag.record_hash
            )
            connection.execute(row)
        if tags:
            _anchor(connection, at=tags[-1].at, reason="tags printed")


def read_tags_printed(store: Store, mark: str) -> tuple[TagPrinted, ...]:
    """The tags printed for a unit, oldest first."""
    statement = (
        select(TAGS_PRINTED.c.at, TAGS_PRINTED.c.by, TAGS_PRINTED.c.disposition, TAGS_PRINTED.c.record_hash)
        .join(UNITS, UNITS.c.id == TAGS_PRINTED.c.unit_id)
        .where(UNITS.c.mark == mark)
        .order_by(TAGS_PRINTED.c.id)
    )
    with store.reading() as connection:
        return tuple(TagPrinted(unit=mark, **row._mapping) for row in connection.execute(statement))


def add_anchor(store: Store, *, at: str, reason: str) -> None:
    """Anchor all units' latest entries; nothing is added when nothing was recorded since the last anchor."""
    with store.writing() as connection:
        _anchor(connection, at=at, reason=reason)


def _anchor(connection: Connection, *, at: str, reason: str) -> None:
    covered = connection.execute(select(func.coalesce(func.max(ENTRIES.c.id), 0))).scalar_one()
    last = connection.execute(
        select(ANCHORS.c.entries, ANCHORS.c.sha256).order_by(ANCHORS.c.id.desc()).limit(1)
    ).first()
    if covered == (last.entries if last else 0):
        return
    recorded = select(UNITS.c.mark, UNITS.c.last_sha256).where(UNITS.c.last_entry > 0)
    heads = seal_heads({row.mark: row.last_sha256 for row in connection.execute(recorded)})
    previous = last.sha256 if last else ""
    link = seal_anchor(previous=previous, at=at, reason=reason, entries=covered, heads=heads)
    row = insert(ANCHORS).values(at=at, reason=reason, entries=covered, heads=heads, sha256=link)
    connection.execute(row)


def _add_proofs(connection: Connection, opening_id: int, moment: str, meters: Sequence[MeterProof]) -> None:
    rows = [
        {
            "opening_id": opening_id,
            "moment": moment,
            "meter": proof.meter,
            "proved": proof.proved,
            "lead_resistance": proof.lead_resistance,
            "nulled": proof.nulled,
        }
        for proof in meters
    ]
    if rows:
        connection.execute(insert(METER_PROOFS), rows)


def _proofs(connection: Connection, opening_id: int, moment: str) -> tuple[MeterProof, ...]:
    statement = (
        select(METER_PROOFS.c.meter, METER_PROOFS.c.proved, METER_PROOFS.c.lead_resistance, METER_PROOFS.c.nulled)
        .where(METER_PROOFS.c.opening_id == opening_id, METER_PROOFS.c.moment == moment)
        .order_by(METER_PROOFS.c.meter)
    )
    return tuple(MeterProof(**row._mapping) for row in connection.execute(statement))
