"""Whether the record in the file is what was recorded: SQLite's own checks, guards, texts, chains, citations, anchors.

What is made from the record is compared elsewhere: its tables in `projections.py`, what only the engine can say (due,
stages, judgements) in `actions.audit`.
"""

import json
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from hashlib import sha256
from itertools import groupby
from typing import Any, NamedTuple

from benchapp.errors import Cancelled
from benchapp.sequences.planning.chain_contents import AnchorContent
from benchapp.sequences.planning.contents import content_json
from benchapp.sequences.planning.entries import Citation, Entry, EntryKind, is_of
from benchapp.workbook import sqlite
from benchapp.workbook.chains import BENCH, UNIT
from benchapp.workbook.derived import columns_of
from benchapp.workbook.guards import missing_guards
from benchapp.workbook.imports import Imports
from benchapp.workbook.problems import WorkbookProblem
from benchapp.workbook.sealing import BEFORE_ALL, canonical, digest, head_text, read_sealed, tail_text
from benchapp.workbook.store import Store
from benchapp.workbook.values import Difference

Progress = Callable[[int, int], None]
Stop = Callable[[], bool]
ENTRIES_BETWEEN_LOOKS = 1000
"""entries checked between two looks at whether to stop"""


class Named(NamedTuple):
    """A chain as the table of chains has it, and what people call it."""

    chain_id: int
    uuid: str
    kind: str
    last_entry: int
    last_at: str
    last_sha256: str
    anchored: int
    forked_at: int | None
    name: str

    @property
    def unit(self) -> str:
        """The unit's mark, empty for a chain of a bench or the workshop."""
        return self.name if self.kind == UNIT else ""


class StoredEntry(NamedTuple):
    """A row of the entries, as far as its text is built from columns."""

    number: int
    uuid: str
    kind: str
    at: str
    by: str
    bench: str
    address: str
    run: str
    rules: str
    sealed: str
    sha256: str


_STORED = """
SELECT number, uuid, kind, at, "by", bench, address, run, rules, sealed, sha256
FROM entries WHERE chain_id = ? ORDER BY number, sha256
"""
_CHAINS = """
SELECT chains.id, chains.uuid, chains.kind, chains.last_entry, chains.last_at, chains.last_sha256, chains.anchored,
       chains.forked_at, coalesce(units.mark, benches.name, 'the ' || chains.kind) AS name
FROM chains LEFT JOIN units ON units.chain_id = chains.id LEFT JOIN benches ON benches.chain_id = chains.id
ORDER BY chains.kind <> 'unit', name, chains.id
"""


def check_records(
    store: Store, *, units: Sequence[str] = (), progress: Progress | None = None, cancelled: Stop | None = None
) -> Iterator[Difference]:
    """Every difference between the file and its own hashes, in the order in which it is checked.

    `units` are marks of units to which the chains are confined. Raises Cancelled.
    """
    try:
        with store.looking() as connection:
            yield from _check_file(connection)
            yield from _check_texts(connection)
            yield from _check_chains(connection, frozenset(units), progress, cancelled)
    except Cancelled:
        raise
    except WorkbookProblem as problem:  # damage, or rubbish where a number or JSON should be
        yield Difference(unit="", entry=None, words=problem.sentence)


def _check_file(connection: sqlite3.Connection) -> Iterator[Difference]:
    for fault in sqlite.structural_faults(connection):
        yield Difference(unit="", entry=None, words=f"The file's own structure is damaged: {fault}.")
    for table, other in sqlite.dangling_rows(connection):
        words = f"A row of {table} refers to a row of {other} that is not there."
        yield Difference(unit="", entry=None, words=words)
    for verb, table in missing_guards(sqlite.triggers(connection)):
        words = f"The guard that refuses to {verb} {table} has been taken off the file."
        yield Difference(unit="", entry=None, words=words)


def _check_texts(connection: sqlite3.Connection) -> Iterator[Difference]:
    for link, text in connection.execute("SELECT sha256, text FROM revisions"):
        if digest(text) != link:
            yield Difference(unit="", entry=None, words=f"The pinned text {link[:8]} is not the text that was pinned.")
    for link, image in connection.execute("SELECT sha256, image FROM photos"):
        if sha256(image).hexdigest() != link:
            yield Difference(unit="", entry=None, words=f"The photo {link[:8]} is not the photo that was taken.")


def _check_chains(
    connection: sqlite3.Connection, units: frozenset[str], progress: Progress | None, cancelled: Stop | None
) -> Iterator[Difference]:
    chains = [Named(*row) for row in connection.execute(_CHAINS)]
    asked = [chain for chain in chains if not units or chain.name in units or chain.kind != UNIT]
    total = sum(chain.last_entry + 1 for chain in asked)
    links, cited, anchors = Links(), Cited(), Anchors(Imports(connection))
    done = 0
    for chain in asked:
        if cancelled is not None and cancelled():
            raise Cancelled("Verifying")
        rows = connection.execute(_STORED, (chain.chain_id,))
        for difference in check_chain(chain, map(StoredEntry._make, rows), Seen(links, cited, anchors)):
            links.broken.add(chain.uuid)
            yield difference
        done += chain.last_entry + 1
        if progress is not None:
            progress(min(done, total), total)
    confined = frozenset(chain.uuid for chain in asked)
    yield from cited.missing(links)
    yield from anchors.broken(links, confined, chains)
    yield from _columns_differ(connection, [chain for chain in asked if chain.uuid not in links.broken], cancelled)


class Links:
    """The hashes found in the chains, by chain and number; of a chain that breaks those up to there."""

    def __init__(self) -> None:
        self._by_chain: dict[str, dict[int, list[str]]] = {}
        self.broken: set[str] = set()
        """UUIDs of the chains of which something was found already: what rests on these says nothing more"""

    def of(self, chain: str) -> dict[int, list[str]]:
        """The hashes of one chain's entries by number, to be filled."""
        return self._by_chain.setdefault(chain, {})

    def lacks(self, chain: str, number: int, link: str) -> bool:
        """Whether that entry does not stand there, though the chain holds."""
        return chain not in self.broken and link not in self._by_chain.get(chain, {}).get(number, ())


def check_chain(chain: Named, rows: Iterable[StoredEntry], seen: "Seen") -> Iterator[Difference]:
    """The first link of a chain that does not hold, or where it does not end where it should."""
    links, cited, anchors = seen
    found = links.of(chain.uuid)
    number = -1
    ends: dict[str, str] = {}
    before: Sequence[str] = (BEFORE_ALL,)
    for here, alike in groupby(rows, key=lambda row: row.number):
        number += 1
        for row in alike:
            wrong = _link_fault(chain, row, number, before)
            if wrong:
                yield Difference(unit=chain.unit, entry=number, words=wrong)
                return  # the links behind a broken one say nothing more
            found.setdefault(here, []).append(row.sha256)
            if here == chain.last_entry:
                ends[row.sha256] = row.at
            cited.note(chain, row)
            if row.kind == EntryKind.anchor:
                anchors.note(row)
        before = tuple(found[here])
    yield from _end_differs(chain, number, found, ends)


def _link_fault(chain: Named, row: StoredEntry, number: int, before: Sequence[str]) -> str:
    if row.number != number:
        return f"Entry {number} of {chain.name} is missing."
    if sha256(row.sealed.encode("utf-8", "surrogatepass")).hexdigest() != row.sha256:
        return f"Entry {number} of {chain.name} is not as it was recorded: its hash does not fit."
    head = head_text(row.address, row.at, row.bench, row.by, chain.uuid)
    for previous in before:
        tail = tail_text(row.kind, number, previous, row.rules, row.run, row.uuid)
        if row.sealed.startswith(head) and row.sealed.endswith(tail):
            return ""
    return _says_otherwise(chain, row)


def _says_otherwise(chain: Named, row: StoredEntry) -> str:
    """What of a sound text contradicts its row or its place."""
    said = read_sealed(row.sealed, row.sha256)
    for name in ("number", "uuid", "kind", "at", "by", "bench", "address", "run", "rules"):
        if getattr(said, name) != getattr(row, name):
            return (
                f"Entry {row.number} of {chain.name}: its column {name} says {getattr(row, name)}, "
                f"the record says {getattr(said, name)}."
            )
    if said.chain != chain.uuid:
        return f"Entry {row.number} of {chain.name} belongs to another chain."
    return f"Entry {row.number} of {chain.name} does not hang on the entry before it."


def _end_differs(chain: Named, number: int, found: dict[int, list[str]], ends: dict[str, str]) -> Iterator[Difference]:
    """Whether the chain forks and ends where it is said to; `ends` are hash and time of the entries of that number."""
    forked = next((at for at, links in sorted(found.items()) if len(links) > 1), None)
    goes_on = forked is not None and chain.kind != UNIT and forked <= chain.last_entry <= number  # on one of its sides
    if forked != chain.forked_at:
        words = f"{chain.name} is said to have two records from entry {chain.forked_at} on, it has from {forked} on."
        yield Difference(unit=chain.unit, entry=forked, words=words)
    elif number != chain.last_entry and not goes_on:
        words = f"{chain.name} had {chain.last_entry} entries, {number} are there."
        yield Difference(unit=chain.unit, entry=number + 1, words=words)
    elif ends.get(chain.last_sha256) != chain.last_at or not (goes_on or chain.last_sha256 == min(ends)):
        words = f"{chain.name} is said to end with another entry {chain.last_entry} than is there."
        yield Difference(unit=chain.unit, entry=chain.last_entry, words=words)


class Cited:
    """What the entries cite, each citation once."""

    def __init__(self) -> None:
        self._texts: dict[str, tuple[str, int, str]] = {}

    def note(self, chain: Named, row: StoredEntry) -> None:
        """Keep what the entry cites; its text stands between the chain and the content."""
        start = row.sealed.index(',"cites":') + 9
        text = row.sealed[start : row.sealed.index('],"content":', start) + 1]
        if text not in self._texts:
            self._texts[text] = (chain.unit, row.number, chain.name)

    def missing(self, links: Links) -> Iterator[Difference]:
        """Citations of entries that are not there."""
        for text, (unit, number, name) in self._texts.items():
            for one in (Citation(**each) for each in json.loads(text)):
                if links.lacks(one.chain, one.number, one.sha256):
                    words = f"Entry {number} of {name} rests on entry {one.number} of another chain that is not there."
                    yield Difference(unit=unit, entry=number, words=words)


class Anchors:
    """The anchors of all benches.

    One that came by a day file was made in another workbook: it may name what was never brought here.
    """

    def __init__(self, imports: Imports) -> None:
        self._imports = imports
        self._found: list[Entry[AnchorContent]] = []

    def note(self, row: StoredEntry) -> None:
        """Keep an anchor."""
        anchor = read_sealed(row.sealed, row.sha256)
        if is_of(anchor, AnchorContent):
            self._found.append(anchor)

    def broken(self, links: Links, asked: frozenset[str], chains: Sequence[Named]) -> Iterator[Difference]:
        """Anchors that name an entry which is not there, and chains said to be anchored otherwise than they are."""
        names = {chain.uuid: chain for chain in chains}
        highest: defaultdict[str, int] = defaultdict(lambda: -1)
        for anchor in self._found:
            came = self._imports.came(anchor.chain, anchor.number)
            for uuid, (number, link) in anchor.content.heads.items():
                lacks = (uuid in asked or uuid not in names) and links.lacks(uuid, number, link)
                if lacks and not came:
                    yield self._difference(anchor, names.get(uuid), number)
                if not lacks or not came:
                    highest[uuid] = max(highest[uuid], number)
        if any(chain.kind == BENCH and chain.uuid in links.broken for chain in chains):
            return  # its anchors were not all read
        for chain in chains:
            if chain.uuid not in links.broken and chain.anchored != (there := highest[chain.uuid]):
                words = f"{chain.name} is said to be anchored at entry {chain.anchored}, it is at {there}."
                yield Difference(unit=chain.unit, entry=None, words=words)

    def _difference(self, anchor: Entry[AnchorContent], chain: Named | None, number: int) -> Difference:
        name = chain.name if chain else "a chain that is not there"
        words = f"Entry {number} of {name} is not the one that was anchored at {anchor.at} ({anchor.content.reason})."
        return Difference(unit=chain.unit if chain else "", entry=number, words=words)


class Seen(NamedTuple):
    """What the walk along the chains keeps of them."""

    links: Links
    cited: Cited
    anchors: Anchors


def _columns_differ(
    connection: sqlite3.Connection, chains: Iterable[Named], cancelled: Stop | None
) -> Iterator[Difference]:
    """Columns that say otherwise than the text, and texts in another spelling than they are recorded in."""
    for number, chain in enumerate(chains):
        if cancelled is not None and number % ENTRIES_BETWEEN_LOOKS == 0 and cancelled():
            raise Cancelled("Verifying")
        rows = connection.execute("SELECT * FROM entries WHERE chain_id = ? ORDER BY number, sha256", (chain.chain_id,))
        names = [column[0] for column in rows.description]
        for values in rows:
            row = dict(zip(names, values, strict=True))
            wrong = _column_fault(chain, row)
            if wrong:
                yield Difference(unit=chain.unit, entry=row["number"], words=wrong)
                break


def _column_fault(chain: Named, row: dict[str, Any]) -> str:
    entry = read_sealed(row["sealed"], row["sha256"])
    if f',"content":{canonical(content_json(entry.content))},"kind":' not in row["sealed"]:
        return f"Entry {entry.number} of {chain.name} is not in the form in which it was recorded."
    for name, said in columns_of(entry).items():
        if row[name] != said:
            return f"Entry {entry.number} of {chain.name}: its column {name} says {row[name]}, the record says {said}."
    return ""
