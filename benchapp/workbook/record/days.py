"""A bench's own chain: openings and closings, tags printed, anchors; and the workshop's settings in its chain.

An anchor names the newest entry of every chain that moved since the anchor before it: what was taken off a chain's end,
or made anew behind an entry, does not fit it.
"""

import json
import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any
from uuid import uuid4

from sqlalchemy import bindparam, insert, select, true, update

from benchapp.sequences.planning.chain_contents import (
    AnchorContent,
    BenchBeginning,
    ClosingContent,
    MeterProof,
    NamedContent,
    OpeningContent,
    PrintedTag,
    SettingsContent,
    TagsPrintedContent,
    WorkshopBeginning,
)
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.entries import Citation, Entry, EntryKind, is_of
from benchapp.workbook.file.store import Store, compiled
from benchapp.workbook.model.problems import as_sentences
from benchapp.workbook.model.tables import BENCHES, CHAINS, ENTRIES, TAGS_PRINTED, UNITS, WORKBOOK
from benchapp.workbook.model.values import BenchIdentity, BenchOpening, Grounds, TagPrinted
from benchapp.workbook.record.board import unknown_unit
from benchapp.workbook.record.chains import BENCH, WORKSHOP, Head, add_entry, begin_chain, head_of_chain, parameters
from benchapp.workbook.record.sealing import canonical, read_sealed


def citations(connection: sqlite3.Connection, bench: BenchIdentity) -> tuple[Citation, ...]:
    """What an entry of a unit rests on beside its own chain: the workshop's settings, then this bench's day, if any."""
    found = connection.execute(_cited(), {"bench": bench.uuid}).fetchone()
    workshop, number, sha256, day, day_sha256 = found
    settings = Citation(chain=workshop, number=number, sha256=sha256)
    return (settings,) if day is None else (settings, Citation(chain=bench.uuid, number=day, sha256=day_sha256))


def bench_head(connection: sqlite3.Connection, bench: BenchIdentity, *, at: str) -> Head:
    """The head of this bench's chain, begun here if this workbook has never met the bench."""
    head = head_of_chain(connection, bench.uuid)
    if head is not None:
        return head
    entry = Entry(
        number=0,
        uuid="",
        kind=EntryKind.beginning,
        at=at,
        by="",
        chain=bench.uuid,
        bench=bench.uuid,
        content=BenchBeginning(name=bench.name),
    )
    head = begin_chain(connection, BENCH, entry)
    row = {"chain_id": head.chain_id, "name": bench.name, "day": None, "day_sha256": ""}
    connection.execute(compiled(insert(BENCHES).values(parameters(BENCHES, leave_out=""))), row)
    return head


def keep_settings(connection: sqlite3.Connection, head: Head, entry: Entry[SettingsContent]) -> Entry:
    """The settings' entry in the workshop's chain, and the settings where they are read fast."""
    _, kept = add_entry(connection, head, entry)
    statement = compiled(
        update(WORKBOOK).values(
            settings=bindparam("text"), settings_entry=bindparam("number"), settings_sha256=bindparam("link")
        )
    )
    text = canonical(entry.content.settings)
    connection.execute(statement, {"text": text, "number": kept.number, "link": kept.sha256})
    return kept


def settings_entry(
    settings: Mapping[str, Any], *, at: str, by: str, bench: BenchIdentity, reason: str = ""
) -> Entry[SettingsContent]:
    """The workshop's settings as somebody settles them, and why."""
    content = SettingsContent(settings=dict(settings), reason=reason)
    return Entry(number=0, uuid="", kind=EntryKind.settings, at=at, by=by, bench=bench.uuid, content=content)


def begin_workbook(
    connection: sqlite3.Connection, settings: Mapping[str, Any], *, made: str, by: str, bench: BenchIdentity
) -> None:
    """The workshop's chain of a new workbook with the first settings, and the chain of the bench that made it."""
    uuid = str(uuid4())
    row = {"id": 1, "uuid": uuid, "made": made, "settings": "", "settings_entry": 0, "settings_sha256": ""}
    connection.execute(compiled(insert(WORKBOOK).values(parameters(WORKBOOK, leave_out=""))), row)
    beginning = Entry(
        number=0,
        uuid="",
        kind=EntryKind.beginning,
        at=made,
        by=by,
        chain=uuid,
        bench=bench.uuid,
        content=WorkshopBeginning(made=made),
    )
    head = begin_chain(connection, WORKSHOP, beginning)
    keep_settings(connection, head, settings_entry(settings, at=made, by=by, bench=bench))
    bench_head(connection, bench, at=made)


def anchor_heads(
    connection: sqlite3.Connection,
    bench: BenchIdentity,
    *,
    at: str,
    by: str,
    reason: str,
    also: Mapping[str, tuple[int, str]] | None = None,
) -> None:
    """Anchor the newest entry of each chain that moved, and of those of `also` (number and hash by UUID)."""
    heads = dict(also or {}) | {chain: (number, sha256) for chain, number, sha256 in _moved(connection, bench.uuid)}
    if not heads:
        return
    content = AnchorContent(heads=heads, reason=reason)
    entry = Entry(number=0, uuid="", kind=EntryKind.anchor, at=at, by=by, bench=bench.uuid, content=content)
    add_entry(connection, bench_head(connection, bench, at=at), entry)
    anchored = compiled(update(CHAINS).where(_IS_MOVED).values(anchored=CHAINS.c.last_entry))
    connection.execute(anchored, {"bench": bench.uuid})


class Days:
    """What a bench does for its day, in one workbook."""

    def __init__(self, store: Store, bench: BenchIdentity) -> None:
        self._store = store
        self._bench = bench

    def keep_settings(self, settings: Mapping[str, Any], *, at: str, by: str, reason: str) -> Entry:
        """Keep other settings of the workshop from here on."""
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            bench_head(connection, self._bench, at=at)
            workshop = connection.execute(compiled(select(WORKBOOK.c.uuid))).fetchone()[0]
            head = head_of_chain(connection, workshop)
            assert head is not None
            entry = settings_entry(settings, at=at, by=by, bench=self._bench, reason=reason)
            return keep_settings(connection, head, entry)

    def name_bench(self, name: str, *, at: str, by: str) -> None:
        """Call this bench so from here on."""
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            head = bench_head(connection, self._bench, at=at)
            add_entry(connection, head, self._entry(EntryKind.named, NamedContent(name=name), at=at, by=by))
            connection.execute("UPDATE benches SET name = ? WHERE chain_id = ?", (name, head.chain_id))

    def bench_name(self) -> str:
        """What this workbook calls the bench; the bench's own word where it has not met it yet."""
        with self._store.looking() as connection:
            found = connection.execute(_NAME, {"bench": self._bench.uuid}).fetchone()
            return str(found[0]) if found else self._bench.name

    def add_opening(self, content: OpeningContent, *, at: str, by: str) -> Entry:
        """Record that this bench was opened, under which settings, and anchor what was recorded before."""
        return self._add_day(EntryKind.opening, content, at=at, by=by, reason="bench opening")

    def add_closing(self, opening: int, *, at: str, by: str, meters: Sequence[MeterProof], note: str) -> None:
        """Record that the opening of that number is closed, and anchor the day's records."""
        content = ClosingContent(opening=opening, meters=tuple(meters), note=note)
        self._add_day(EntryKind.closing, content, at=at, by=by, reason="bench closing")

    def _add_day(self, kind: EntryKind, content: Content, *, at: str, by: str, reason: str) -> Entry:
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            head = bench_head(connection, self._bench, at=at)
            settings = citations(connection, self._bench)[:1]
            entry = replace(self._entry(kind, content, at=at, by=by), cites=settings)
            head, kept = add_entry(connection, head, entry)
            statement = compiled(
                update(BENCHES)
                .where(BENCHES.c.chain_id == bindparam("bench"))
                .values(day=bindparam("number"), day_sha256=bindparam("link"))
            )
            connection.execute(statement, {"bench": head.chain_id, "number": kept.number, "link": kept.sha256})
            anchor_heads(connection, self._bench, at=at, by=by, reason=reason)
        return kept

    def add_tags_printed(self, tags: Sequence[TagPrinted]) -> None:
        """Record what was put on paper in one go, and anchor the records that the tags quote."""
        if not tags:
            return
        at, by = tags[-1].at, tags[-1].by
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            units = [self._unit(connection, tag.unit) for tag in tags]
            printed_tags = tuple(
                PrintedTag(unit=uuid, shelf_mark=mark, disposition=tag.disposition, record=tag.record_hash)
                for tag, (_, uuid, mark) in zip(tags, units, strict=True)
            )
            content = TagsPrintedContent(tags=printed_tags)
            head = bench_head(connection, self._bench, at=at)
            head, kept = add_entry(connection, head, self._entry(EntryKind.tags_printed, content, at=at, by=by))
            row = connection.execute(compiled(_ENTRY_ID), {"entry": kept.uuid}).fetchone()
            printed = {"entry_id": row[0], "at": at, "by": by}
            rows = {
                unit_id: printed | {"unit_id": unit_id, "disposition": tag.disposition, "record_hash": tag.record_hash}
                for tag, (unit_id, _, _) in zip(tags, units, strict=True)
            }
            statement = compiled(insert(TAGS_PRINTED).values(parameters(TAGS_PRINTED, leave_out="")))
            connection.executemany(statement, list(rows.values()))
            anchor_heads(connection, self._bench, at=at, by=by, reason="tags printed")

    def add_anchor(self, *, at: str, reason: str) -> None:
        """Anchor all chains; nothing is added when none has moved since the last anchor."""
        with as_sentences(self._store.name), self._store.kept_transaction() as connection:
            if _moved(connection, self._bench.uuid):
                anchor_heads(connection, self._bench, at=at, by="", reason=reason)

    def grounds(self) -> Grounds:
        """What an entry made here and now rests on."""
        with self._store.looking() as connection:
            settings = connection.execute("SELECT settings FROM workbook").fetchone()[0]
            day = read_day(connection, self._bench.uuid)
            return Grounds(settings=settings, cites=citations(connection, self._bench), day=day)

    def _entry(self, kind: EntryKind, content: Content, *, at: str, by: str) -> Entry:
        return Entry(number=0, uuid="", kind=kind, at=at, by=by, bench=self._bench.uuid, content=content)

    def _unit(self, connection: sqlite3.Connection, mark: str) -> tuple[int, str, str]:
        found: tuple[int, str, str] | None = connection.execute(compiled(_UNIT), {"mark": mark}).fetchone()
        if found is None:
            raise unknown_unit(connection, mark)
        return found


_NAME = "SELECT name FROM benches JOIN chains ON chains.id = benches.chain_id WHERE chains.uuid = :bench"
_IS_MOVED = (CHAINS.c.last_entry > CHAINS.c.anchored) & (CHAINS.c.uuid != bindparam("bench"))
_UNIT = (
    select(UNITS.c.chain_id, CHAINS.c.uuid, UNITS.c.shelf_mark)
    .join(CHAINS, CHAINS.c.id == UNITS.c.chain_id)
    .where(UNITS.c.mark == bindparam("mark"))
)
_ENTRY_ID = select(ENTRIES.c.id).where(ENTRIES.c.uuid == bindparam("entry"))
_AT = (
    select(ENTRIES.c.sealed, ENTRIES.c.sha256)
    .join(CHAINS, CHAINS.c.id == ENTRIES.c.chain_id)
    .where(CHAINS.c.uuid == bindparam("bench"), ENTRIES.c.number == bindparam("number"))
)
_DAY = _AT.where(ENTRIES.c.sha256 == bindparam("link"))
_LAST_DAY = (
    select(BENCHES.c.day, BENCHES.c.day_sha256)
    .join(CHAINS, CHAINS.c.id == BENCHES.c.chain_id)
    .where(CHAINS.c.uuid == bindparam("bench"), BENCHES.c.day.is_not(None))
)


@cache
def _cited() -> str:
    day = (
        select(CHAINS.c.uuid, BENCHES.c.day, BENCHES.c.day_sha256)
        .join(CHAINS, CHAINS.c.id == BENCHES.c.chain_id)
        .where(CHAINS.c.uuid == bindparam("bench"))
        .subquery("today")
    )
    columns = (WORKBOOK.c.uuid, WORKBOOK.c.settings_entry, WORKBOOK.c.settings_sha256, day.c.day, day.c.day_sha256)
    return compiled(select(*columns).select_from(WORKBOOK.outerjoin(day, true())))


@cache
def _moved_heads() -> str:
    heads = select(CHAINS.c.uuid, CHAINS.c.last_entry, CHAINS.c.last_sha256)
    return compiled(heads.where(_IS_MOVED).order_by(CHAINS.c.uuid))


def _moved(connection: sqlite3.Connection, bench: str) -> list[tuple[str, int, str]]:
    """UUID, number and hash of the newest entry of each chain but this that moved since it was last anchored."""
    return connection.execute(_moved_heads(), {"bench": bench}).fetchall()


def read_day(connection: sqlite3.Connection, bench: str) -> BenchOpening | None:
    """A bench's last opening with its closing, if it was closed since."""
    found = connection.execute(compiled(_LAST_DAY), {"bench": bench}).fetchone()
    return None if found is None else day_at(connection, Citation(chain=bench, number=found[0], sha256=found[1]))


def day_at(connection: sqlite3.Connection, cited: Citation) -> BenchOpening | None:
    """The opening that this entry of a bench's chain is, or closes; None where it is neither."""
    entry = _entry_of(connection, cited)
    if entry is None:
        return None
    if is_of(entry, OpeningContent):
        return day_of(entry, None)
    if not is_of(entry, ClosingContent):
        return None
    opening = opening_closed_by(connection, entry)
    return day_of(opening, entry) if opening is not None and is_of(opening, OpeningContent) else None


def settings_of(connection: sqlite3.Connection, entry: Entry) -> str:
    """The workshop's settings, as JSON, that an entry says, or cites first; raises LookupError where it cites none."""
    said = entry if is_of(entry, SettingsContent) else _entry_of(connection, entry.cites[0])
    if said is None or not is_of(said, SettingsContent):
        raise LookupError(f"entry {entry.number} of {entry.chain} cites no settings")
    return canonical(said.content.settings)


def settings_before(connection: sqlite3.Connection, entry: Entry[SettingsContent]) -> Entry[SettingsContent] | None:
    """The settings that stood before those of the entry, on its own side of the workshop's chain; None for the first.

    Raises LookupError where an entry on the line is not there.
    """
    at = Citation(chain=entry.chain, number=entry.number, sha256=entry.sha256)
    while at.number:
        found = connection.execute(
            compiled(_DAY), {"bench": at.chain, "number": at.number, "link": at.sha256}
        ).fetchone()
        if found is None:
            raise LookupError(f"entry {at.number} is not there")
        at = replace(at, number=at.number - 1, sha256=json.loads(found[0])["previous"])
        before = _entry_of(connection, at)
        if before is not None and is_of(before, SettingsContent):
            return before
    return None


def _entry_of(connection: sqlite3.Connection, cited: Citation) -> Entry | None:
    asked = {"bench": cited.chain, "number": cited.number, "link": cited.sha256}
    found = connection.execute(compiled(_DAY), asked).fetchone()
    return None if found is None else read_sealed(*found)


def opening_closed_by(connection: sqlite3.Connection, closing: Entry[ClosingContent]) -> Entry | None:
    """The opening on the line that leads to the closing: a bench's chain may have two entries of that number."""
    number = closing.content.opening
    there = connection.execute(compiled(_AT), {"bench": closing.chain, "number": number}).fetchall()
    if len(there) < 2:  # nearly always
        return read_sealed(*there[0]) if there else None
    at = Citation(chain=closing.chain, number=closing.number, sha256=closing.sha256)
    while at.number > number:
        found = connection.execute(
            compiled(_DAY), {"bench": at.chain, "number": at.number, "link": at.sha256}
        ).fetchone()
        if found is None:
            return None
        at = Citation(chain=at.chain, number=at.number - 1, sha256=json.loads(found[0])["previous"])
    return _entry_of(connection, at)


def day_of(opening: Entry[OpeningContent], closing: Entry[ClosingContent] | None) -> BenchOpening:
    """A day at a bench from its entries."""
    return BenchOpening(
        number=opening.number,
        at=opening.at,
        by=opening.by,
        meters=opening.content.meters,
        rcd_button_tested=opening.content.rcd_button_tested,
        rcd_rating=opening.content.rcd_rating,
        rcd_reset=opening.content.rcd_reset,
        source=opening.content.source,
        room=opening.content.room,
        note=opening.content.note,
        closed=closing.at if closing else "",
        closed_by=closing.by if closing else "",
        closing=closing.content.meters if closing else (),
    )


def read_tags_printed(store: Store, mark: str) -> tuple[TagPrinted, ...]:
    """The tags printed for a unit, oldest first."""
    statement = (
        select(
            UNITS.c.shelf_mark.label("unit"),
            TAGS_PRINTED.c.at,
            TAGS_PRINTED.c.by,
            TAGS_PRINTED.c.disposition,
            TAGS_PRINTED.c.record_hash,
        )
        .join(UNITS, UNITS.c.chain_id == TAGS_PRINTED.c.unit_id)
        .where(UNITS.c.mark == mark)
        .order_by(TAGS_PRINTED.c.at, TAGS_PRINTED.c.entry_id)
    )
    with store.reading() as connection:
        return tuple(TagPrinted(**row._mapping) for row in connection.execute(statement))
