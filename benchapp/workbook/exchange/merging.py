"""A day file brought into a workbook: the union of both by UUID and hash, in one transaction or not at all.

What is known already is left as it is, so that the same file comes to nothing a second time. Two entries that claim the
same place of a chain are both kept.
"""

import json
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from benchapp.sequences.planning.chain_contents import ImportedContent
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.workbook.exchange.chain_heads import settle_anchored, settle_head
from benchapp.workbook.exchange.day_file import Chain, DayFile, DayFileProblem, Link, kind_of
from benchapp.workbook.exchange.gathering import HAS_ENTRY, lists_pinned, photos_named
from benchapp.workbook.exchange.rebuilding import rebuild_rows
from benchapp.workbook.file.store import Store
from benchapp.workbook.model.problems import WorkbookProblem, as_sentences
from benchapp.workbook.model.values import BenchIdentity, Run, UnitSummary
from benchapp.workbook.record.chains import BENCH, UNIT, Head, add_entry, head_of_chain, insert_entry, new_chain
from benchapp.workbook.record.days import anchor_heads, bench_head, settings_of
from benchapp.workbook.record.imports import Imports
from benchapp.workbook.record.journal import show_summary
from benchapp.workbook.record.made_rows import TwoAlike
from benchapp.workbook.record.photos import what_is_unfit
from benchapp.workbook.record.sealing import BEFORE_ALL, read_sealed


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitRecord:
    """What stands of a unit's record, its run and the texts that this pinned: what its summary is made from."""

    run: Run
    texts: Mapping[str, str]
    """by file name"""
    workshop: str
    """the settings that the last entry was made under"""
    entries: tuple[Entry, ...]
    """its beginning is not among them"""
    begun: str
    """time of its beginning"""


Summarise = Callable[[UnitRecord], UnitSummary]


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """What came of it: entries added, UUIDs of the units of which some were, of the new ones and of all chains that
    are forked now and were not before."""

    entries: int = 0
    units: tuple[str, ...] = ()
    new_units: tuple[str, ...] = ()
    forked: tuple[str, ...] = ()


class Merging:
    """Takes day files into one workbook, at one bench."""

    def __init__(self, store: Store, bench: BenchIdentity) -> None:
        self._store = store
        self._bench = bench

    def merge(self, file: DayFile, name: str, *, at: str, by: str, summarise: Summarise) -> Merged:
        """Take a file over whole; `summarise` gives what is shown of a unit. The bench notes what it imported.

        Raises DayFileProblem for one that does not fit what is here, WorkbookProblem for the disk.
        """
        try:
            with as_sentences(self._store.name), self._store.kept_transaction() as connection:
                return self._merge(connection, file, at=at, by=by, summarise=summarise)
        except WorkbookProblem:
            raise
        except TwoAlike as error:
            raise DayFileProblem(name, str(error).rstrip(".")) from error
        except _Unfit as error:
            raise DayFileProblem(name, str(error)) from error
        except sqlite3.IntegrityError as error:
            raise DayFileProblem(name, "it has an entry under the UUID of another") from error
        except _UNREADABLE as error:
            raise DayFileProblem(name, "its entries say what no entry says") from error

    def _merge(
        self, connection: sqlite3.Connection, file: DayFile, *, at: str, by: str, summarise: Summarise
    ) -> Merged:
        forked_before = _forked(connection)
        added = {uuid: new for uuid, chain in file.chains.items() if (new := _new_links(connection, uuid, chain))}
        if not added:
            return Merged()
        _check_needed(file)
        _add_texts(connection, file)
        heads = {uuid: _add_chain(connection, uuid, file.chains[uuid], new) for uuid, new in added.items()}
        for link in (link for new in added.values() for link in new):
            _check_cited(connection, link)
        self._settle(connection, file, added, heads, at=at, by=by)
        units = [uuid for uuid in sorted(added) if kind_of(file.chains[uuid]) == UNIT]
        for uuid in units:
            _summarise(connection, heads[uuid].chain_id, summarise)
        return Merged(
            entries=sum(map(len, added.values())),
            units=tuple(units),
            new_units=tuple(uuid for uuid in units if heads[uuid].number < 0),
            forked=tuple(sorted(_forked(connection) - forked_before)),
        )

    def _settle(
        self,
        connection: sqlite3.Connection,
        file: DayFile,
        added: Mapping[str, list[Link]],
        heads: Mapping[str, Head],
        *,
        at: str,
        by: str,
    ) -> None:
        """Heads, the bench's note, anchors, and all rows that are made from the record."""
        imports = Imports(connection)
        for uuid, head in heads.items():
            settle_head(connection, head, kind_of(file.chains[uuid]), imports)
        ranges = {
            uuid: (min(numbers), max(numbers))
            for uuid, new in added.items()
            if kind_of(file.chains[uuid]) != UNIT and (numbers := [link.entry.number for link in new])
        }
        content = ImportedContent(file=file.sha256, chains=ranges)
        kind = EntryKind.imported
        note = Entry(number=0, uuid="", kind=kind, at=at, by=by, bench=self._bench.uuid, content=content)
        add_entry(connection, bench_head(connection, self._bench, at=at), note)
        came = {uuid: _newest(connection, uuid) for uuid in added if uuid != self._bench.uuid}
        anchor_heads(connection, self._bench, at=at, by=by, reason="day file imported", also=came)
        settle_anchored(connection)
        rebuild_rows(connection)


_UNREADABLE = (ValueError, TypeError, LookupError, AttributeError, ArithmeticError, AssertionError, RuntimeError)
"""what code meets in entries that no program of ours has written"""


class _Unfit(Exception):
    """Why a sound file does not fit, in a few words."""


def _forked(connection: sqlite3.Connection) -> set[str]:
    return {row[0] for row in connection.execute("SELECT uuid FROM chains WHERE forked_at IS NOT NULL")}


def _new_links(connection: sqlite3.Connection, uuid: str, chain: Chain) -> list[Link]:
    """The file's entries of a chain that are not here; raises _Unfit where another chain is called the same."""
    statement = """
        SELECT entries.number, entries.sha256, chains.kind FROM entries JOIN chains ON chains.id = entries.chain_id
        WHERE chains.uuid = ?
    """
    known = {(number, link): kind for number, link, kind in connection.execute(statement, (uuid,))}
    if known and (set(known.values()) != {kind_of(chain)} or (kind_of(chain) != BENCH and (0, *chain[0]) not in known)):
        raise _Unfit(f"a record in it ({uuid[:8]}) begins otherwise than the one here")
    return [
        link for number in sorted(chain) for sha, link in sorted(chain[number].items()) if (number, sha) not in known
    ]


def _check_needed(file: DayFile) -> None:
    """Each pinned text and each photo is there, and no other: raises _Unfit."""
    lists = lists_pinned(file.chains.values())
    if not lists <= set(file.texts):
        raise _Unfit("a text that its units pin is missing in it")
    pinned = {one for listed in lists for one in _listed(file.texts[listed])}
    if not pinned <= set(file.texts):
        raise _Unfit("a text that its units pin is missing in it")
    if set(file.texts) - lists - pinned:
        raise _Unfit("a text in it belongs to none of its units")
    if set(file.photos) - photos_named(file.chains.values()):
        raise _Unfit("a photo in it belongs to none of its units")
    if photos_named(file.chains.values()) - set(file.photos):
        raise _Unfit("a photo that its units name is missing in it")
    for media_type, image in file.photos.values():
        if found := what_is_unfit(image, media_type):
            raise _Unfit(f"a photo in it is none that is kept: {found}")


def _listed(text: str) -> list[str]:
    listed = json.loads(text)
    if not isinstance(listed, dict) or not all(isinstance(one, str) for one in listed.values()):
        raise _Unfit("a list of pinned texts in it is none")
    return list(listed.values())


def _add_texts(connection: sqlite3.Connection, file: DayFile) -> None:
    statement = "INSERT INTO revisions (sha256, text) VALUES (?, ?) ON CONFLICT (sha256) DO NOTHING"
    connection.executemany(statement, sorted(file.texts.items()))
    statement = "INSERT INTO photos (sha256, media_type, image) VALUES (?, ?, ?) ON CONFLICT (sha256) DO NOTHING"
    rows = [(link, media_type, image) for link, (media_type, image) in sorted(file.photos.items())]
    connection.executemany(statement, rows)


def _add_chain(connection: sqlite3.Connection, uuid: str, chain: Chain, new: list[Link]) -> Head:
    """The new entries of a chain put down; its head as it was before."""
    before = head_of_chain(connection, uuid)
    if before is None:
        before = Head(new_chain(connection, kind_of(chain), uuid), uuid, -1, BEFORE_ALL)
    for link in new:
        insert_entry(connection, before.chain_id, link.entry, link.sealed, link.entry.sha256)
    return before


def _newest(connection: sqlite3.Connection, uuid: str) -> tuple[int, str]:
    head = head_of_chain(connection, uuid)
    assert head is not None
    return head.number, head.sha256


def _check_cited(connection: sqlite3.Connection, link: Link) -> None:
    for cited in link.entry.cites:
        if connection.execute(HAS_ENTRY, (cited.chain, cited.number, cited.sha256)).fetchone() is None:
            raise _Unfit(f"entry {link.entry.number} of a chain in it rests on an entry that is not there")


def _summarise(connection: sqlite3.Connection, unit_id: int, summarise: Summarise) -> None:
    record = unit_record(connection, unit_id)
    connection.execute("DELETE FROM unit_stages WHERE unit_id = ?", (unit_id,))
    at = record.entries[-1].at if record.entries else record.begun
    show_summary(connection, unit_id, summarise(record), at=at)


def unit_record(connection: sqlite3.Connection, unit_id: int) -> UnitRecord:
    """What stands of a unit's record, with the settings under which its last entry was made."""
    statement = """
        SELECT runs.uuid, units.mark, runs.number, runs.started, runs."by", runs.route, runs.equipment, runs.settings,
               revisions.text
        FROM units JOIN runs ON runs.id = units.run_id JOIN revisions ON revisions.sha256 = runs.pins
        WHERE units.chain_id = ?
    """
    *said, listed = connection.execute(statement, (unit_id,)).fetchone()
    names = ("uuid", "unit", "number", "started", "by", "route", "equipment", "workshop")
    run = Run(**dict(zip(names, said, strict=True)), texts=json.loads(listed))
    begun, *entries = _standing_entries(connection, unit_id)
    text = "SELECT text FROM revisions WHERE sha256 = ?"
    texts = {name: connection.execute(text, (link,)).fetchone()[0] for name, link in run.texts.items()}
    workshop = settings_of(connection, entries[-1] if entries else begun)
    return UnitRecord(run=run, texts=texts, workshop=workshop, entries=tuple(entries), begun=begun.at)


def _standing_entries(connection: sqlite3.Connection, unit_id: int) -> Iterator[Entry]:
    statement = """
        SELECT entries.sealed, entries.sha256 FROM entries JOIN chains ON chains.id = entries.chain_id
        WHERE chains.id = ? AND (chains.forked_at IS NULL OR entries.number < chains.forked_at) ORDER BY entries.number
    """
    for sealed, link in connection.execute(statement, (unit_id,)):
        yield read_sealed(sealed, link)
