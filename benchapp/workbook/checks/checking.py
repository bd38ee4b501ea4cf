"""Whether the record in the file is what was recorded: SQLite's own checks, guards, texts, chains, citations, anchors.

What is made from the record is compared elsewhere: its tables in `projections.py`, what only the engine can say (due,
stages, judgements) in `actions.audit`.
"""

import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from hashlib import sha256

from benchapp.errors import BenchError, Cancelled
from benchapp.sequences.planning.chain_contents import AnchorContent
from benchapp.sequences.planning.entries import Entry
from benchapp.words import say
from benchapp.workbook.checks.checking_chains import NAMED, STORED, Named, StoredEntry, check_chain, column_fault
from benchapp.workbook.checks.checking_citations import Kept, citations_differ
from benchapp.workbook.checks.checking_forks import own_fork_differs
from benchapp.workbook.checks.checking_tags import tags_differ
from benchapp.workbook.file import sqlite
from benchapp.workbook.file.guards import ONLY_ADDED, missing_guards
from benchapp.workbook.file.schema_check import other_than_ours
from benchapp.workbook.file.store import Store
from benchapp.workbook.model.values import Difference
from benchapp.workbook.record.bench_identity import own_bench
from benchapp.workbook.record.chains import BENCH, UNIT
from benchapp.workbook.record.imports import Imports
from benchapp.workbook.record.photos import what_is_unfit
from benchapp.workbook.record.sealing import digest

Progress = Callable[[int, int], None]
Stop = Callable[[], bool]
ENTRIES_BETWEEN_LOOKS = 1000
"""entries checked between two looks at whether to stop"""
RUBBISH = (BenchError, sqlite3.Error, ValueError, TypeError, KeyError, AttributeError, IndexError, RecursionError)
"""what reading raises where rubbish stands in the place of a number or of JSON"""
_FOUNDATIONS_FIRST = " ORDER BY chains.kind = 'unit', name, chains.id"


def check_records(
    store: Store, *, units: Sequence[str] = (), progress: Progress | None = None, cancelled: Stop | None = None
) -> Iterator[Difference]:
    """Every difference between the file and its own hashes, in the order in which it is checked.

    `units` are marks of units to which the chains of units are confined. Raises Cancelled.
    """
    try:
        with store.looking() as connection:
            found = False
            of_chains = _check_chains(connection, frozenset(units), progress, _Stopping(cancelled))
            for check in (_check_file(connection), _check_texts(connection), of_chains):
                for difference in check:
                    found = True
                    yield difference
            if not found:  # a row that is missing says what is missing before its number does
                yield from _check_row_numbers(connection)
    except Cancelled:
        raise
    except RUBBISH as error:
        yield Difference(unit="", entry=None, words=_rubbish(error))


def check_unit(store: Store, mark: str) -> tuple[Difference, ...]:
    """What of one unit's record does not hold by itself: its chain and its columns. Quick, for use before each look."""
    try:
        with store.looking() as connection:
            found = connection.execute(f"{NAMED} WHERE units.mark = ?", (mark,)).fetchone()
            if found is None:
                return ()
            chain = Named(*found)
            broken = tuple(_check_rows(connection, chain, Kept()))
            return broken or tuple(_columns_differ(connection, [chain], _Stopping(None)))
    except RUBBISH as error:
        return (Difference(unit=mark, entry=None, words=_rubbish(error)),)


def _rubbish(error: Exception) -> str:
    if isinstance(error, BenchError):
        return str(error)
    return say(
        "The record cannot be read as one of this program's ({name}: {error}).", name=type(error).__name__, error=error
    )


def _check_file(connection: sqlite3.Connection) -> Iterator[Difference]:
    for fault in sqlite.structural_faults(connection):
        yield Difference(unit="", entry=None, words=say("The file's own structure is damaged: {fault}.", fault=fault))
    for table, other in sqlite.dangling_rows(connection):
        words = say("A row of {table} refers to a row of {other} that is not there.", table=table, other=other)
        yield Difference(unit="", entry=None, words=words)
    for verb, table in missing_guards(sqlite.triggers(connection)):
        words = say("The guard that refuses to {verb} {table} has been taken off the file.", verb=verb, table=table)
        yield Difference(unit="", entry=None, words=words)
    for fault in other_than_ours(sqlite.schema(connection)):
        yield Difference(
            unit="", entry=None, words=say("The file is not made as this program makes it: {fault}.", fault=fault)
        )


def _check_row_numbers(connection: sqlite3.Connection) -> Iterator[Difference]:
    """Rows are numbered as they come, and none is ever taken out."""
    for table in ONLY_ADDED:
        rows, last = connection.execute(f"SELECT count(*), coalesce(max(id), 0) FROM {table}").fetchone()  # noqa: S608
        if rows != last:
            words = say(
                "There are {rows} rows of {table}, and the last is number {last}.", rows=rows, table=table, last=last
            )
            yield Difference(unit="", entry=None, words=words)


def _check_texts(connection: sqlite3.Connection) -> Iterator[Difference]:
    for link, text in connection.execute("SELECT sha256, text FROM revisions"):
        if digest(text) != link:
            yield Difference(
                unit="", entry=None, words=say("The pinned text {link} is not the text that was pinned.", link=link[:8])
            )
    for link, image, media_type in connection.execute("SELECT sha256, image, media_type FROM photos"):
        if sha256(image).hexdigest() != link:
            yield Difference(
                unit="", entry=None, words=say("The photo {link} is not the photo that was taken.", link=link[:8])
            )
        if unfit := what_is_unfit(image, media_type):
            yield Difference(
                unit="",
                entry=None,
                words=say("The photo {link} is none that is kept: {unfit}.", link=link[:8], unfit=unfit),
            )


class _Stopping:
    """Asked now and then whether to stop."""

    def __init__(self, cancelled: Stop | None) -> None:
        self._cancelled = cancelled

    def look(self) -> None:
        """Raise Cancelled once it is wanted."""
        if self._cancelled is not None and self._cancelled():
            raise Cancelled("Verifying")


def _check_chains(
    connection: sqlite3.Connection, units: frozenset[str], progress: Progress | None, stopping: _Stopping
) -> Iterator[Difference]:
    chains = [Named(*row) for row in connection.execute(NAMED + _FOUNDATIONS_FIRST)]
    asked = [chain for chain in chains if not units or chain.kind != UNIT or chain.name in units]
    total = sum(chain.last_entry + 1 for chain in asked)
    kept = Kept()
    done = 0
    for chain in asked:
        stopping.look()
        for difference in _check_rows(connection, chain, kept):
            kept.broken.add(chain.uuid)
            yield difference
        done += chain.last_entry + 1
        if progress is not None:
            progress(min(done, total), total)
    yield from citations_differ(kept, chains)
    imports = Imports(connection, own=own_bench())
    yield from _anchors_differ(kept, {chain.uuid for chain in asked}, chains, imports)
    yield from own_fork_differs(connection, kept, chains)
    yield from tags_differ(connection, kept.broken, imports)
    yield from _columns_differ(connection, [chain for chain in asked if chain.uuid not in kept.broken], stopping)


def _check_rows(connection: sqlite3.Connection, chain: Named, kept: Kept) -> Iterator[Difference]:
    rows = connection.execute(STORED, (chain.chain_id,))
    return check_chain(chain, map(StoredEntry._make, rows), kept)


def _anchors_differ(kept: Kept, asked: set[str], chains: Sequence[Named], imports: Imports) -> Iterator[Difference]:
    """Anchors that name an entry which is not there, and chains said to be anchored otherwise than they are.

    An anchor that came by a day file was made in another workbook: it may name what was never brought here, a chain or
    what lies beyond its end. An entry of a number that is here fits every anchor.
    """
    names = {chain.uuid: chain for chain in chains}
    last = kept.last_numbers()
    highest: defaultdict[str, int] = defaultdict(lambda: -1)
    for anchor in kept.anchors:
        came = imports.came(anchor.chain, anchor.number)
        for uuid, (number, link) in anchor.content.heads.items():
            lacks = (uuid in asked or uuid not in names) and kept.lacks(uuid, number, link)
            if lacks and came and number > last.get(uuid, -1):
                continue
            if lacks:
                yield _anchored_otherwise(anchor, names.get(uuid), number)
            highest[uuid] = max(highest[uuid], number)
    if any(chain.kind == BENCH and chain.uuid in kept.broken for chain in chains):
        return  # its anchors were not all read
    for chain in chains:
        if chain.uuid not in kept.broken and chain.anchored != (there := highest[chain.uuid]):
            words = say(
                "{name} is said to be anchored at entry {anchored}, it is at {there}.",
                name=chain.name,
                anchored=chain.anchored,
                there=there,
            )
            yield Difference(unit=chain.unit, entry=None, words=words)


def _anchored_otherwise(anchor: Entry[AnchorContent], chain: Named | None, number: int) -> Difference:
    name = chain.name if chain else "a chain that is not there"
    words = say(
        "Entry {number} of {name} is not the one that was anchored at {at} ({reason}).",
        number=number,
        name=name,
        at=anchor.at,
        reason=anchor.content.reason,
    )
    return Difference(unit=chain.unit if chain else "", entry=number, words=words)


def _columns_differ(
    connection: sqlite3.Connection, chains: Iterable[Named], stopping: _Stopping
) -> Iterator[Difference]:
    """The first column of each chain that says otherwise than its text."""
    for chain in chains:
        rows = connection.execute("SELECT * FROM entries WHERE chain_id = ? ORDER BY number, sha256", (chain.chain_id,))
        names = [column[0] for column in rows.description]
        for number, values in enumerate(rows):
            if number % ENTRIES_BETWEEN_LOOKS == 0:
                stopping.look()
            row = dict(zip(names, values, strict=True))
            wrong = column_fault(chain, row)
            if wrong:
                yield Difference(unit=chain.unit, entry=row["number"], words=wrong)
                break
