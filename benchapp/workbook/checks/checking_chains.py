"""Whether one chain holds: each text fits its hash and its row, hangs on the one before it, and the last is the last.

This is the part that is asked of every entry of a file, so it builds nothing that it does not need.
"""

from collections.abc import Iterable, Iterator, Sequence
from hashlib import sha256
from itertools import groupby
from typing import Any, NamedTuple, Protocol

from benchapp.sequences.planning.contents import content_json
from benchapp.words import say
from benchapp.workbook.model.values import Difference
from benchapp.workbook.record.chains import UNIT
from benchapp.workbook.record.derived import columns_of
from benchapp.workbook.record.sealing import BEFORE_ALL, canonical, head_text, read_sealed, tail_text


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


class Listener(Protocol):
    """Who hears of each entry that holds, in order."""

    def note(self, chain: Named, row: StoredEntry) -> None:
        """Keep of it what is asked for later."""


NAMED = """
SELECT chains.id, chains.uuid, chains.kind, chains.last_entry, chains.last_at, chains.last_sha256, chains.anchored,
       chains.forked_at, coalesce(units.mark, benches.name, 'the ' || chains.kind) AS name
FROM chains LEFT JOIN units ON units.chain_id = chains.id LEFT JOIN benches ON benches.chain_id = chains.id
"""
STORED = """
SELECT number, uuid, kind, at, "by", bench, address, run, rules, sealed, sha256
FROM entries WHERE chain_id = ? ORDER BY number, sha256
"""


def check_chain(chain: Named, rows: Iterable[StoredEntry], listener: Listener) -> Iterator[Difference]:
    """The first link of a chain that does not hold, or where it does not end where it should."""
    number, forked = -1, None
    ends: dict[str, str] = {}
    before: Sequence[str] = (BEFORE_ALL,)
    for _, alike in groupby(rows, key=lambda row: row[0]):
        number += 1
        links = []
        for row in alike:
            wrong = _link_fault(chain, row, number, before)
            if wrong:
                yield Difference(unit=chain.unit, entry=number, words=wrong)
                return  # the links behind a broken one say nothing more
            links.append(row.sha256)
            if number == chain.last_entry:
                ends[row.sha256] = row.at
            listener.note(chain, row)
        if forked is None and len(links) > 1:
            forked = number
        before = links
    yield from _end_differs(chain, number, forked, ends)


def _link_fault(chain: Named, row: StoredEntry, number: int, before: Sequence[str]) -> str:
    found, uuid, kind, at, by, bench, address, run, rules, sealed, link = row
    if found != number:
        return say("Entry {number} of {name} is missing.", number=number, name=chain.name)
    if sha256(sealed.encode("utf-8", "surrogatepass")).hexdigest() != link:
        return say(
            "Entry {number} of {name} is not as it was recorded: its hash does not fit.", number=number, name=chain.name
        )
    if sealed.startswith(head_text(address, at, bench, by, chain.uuid)):
        for previous in before:
            if sealed.endswith(tail_text(kind, number, previous, rules, run, uuid)):
                return ""
    return _says_otherwise(chain, row)


def _says_otherwise(chain: Named, row: StoredEntry) -> str:
    """What of a sound text contradicts its row or its place."""
    said = read_sealed(row.sealed, row.sha256)
    for name in ("number", "uuid", "kind", "at", "by", "bench", "address", "run", "rules"):
        if getattr(said, name) != getattr(row, name):
            return say(
                "Entry {number} of {name}: its column {name_2} says {getattr}, the record says {getattr_2}.",
                number=row.number,
                name=chain.name,
                name_2=name,
                getattr=getattr(row, name),
                getattr_2=getattr(said, name),
            )
    if said.chain != chain.uuid:
        return say("Entry {number} of {name} belongs to another chain.", number=row.number, name=chain.name)
    return say("Entry {number} of {name} does not hang on the entry before it.", number=row.number, name=chain.name)


def _end_differs(chain: Named, number: int, forked: int | None, ends: dict[str, str]) -> Iterator[Difference]:
    """Whether the chain forks and ends where it is said to; `ends` are hash and time of the entries of that number."""
    goes_on = forked is not None and chain.kind != UNIT and forked <= chain.last_entry <= number  # on one of its sides
    if forked != chain.forked_at:
        words = say(
            "{name} is said to have two records from entry {forked_at} on, it has from {forked} on.",
            name=chain.name,
            forked_at=chain.forked_at,
            forked=forked,
        )
        yield Difference(unit=chain.unit, entry=forked, words=words)
    elif number != chain.last_entry and not goes_on:
        words = say(
            "{name} had {last_entry} entries, {number} are there.",
            name=chain.name,
            last_entry=chain.last_entry,
            number=number,
        )
        if number < 0:
            words = say("Nothing of the record of {name} is there, not even its beginning.", name=chain.name)
        yield Difference(unit=chain.unit, entry=number + 1, words=words)
    elif ends.get(chain.last_sha256) != chain.last_at or not (goes_on or chain.last_sha256 == min(ends)):
        words = say(
            "{name} is said to end with another entry {last_entry} than is there.",
            name=chain.name,
            last_entry=chain.last_entry,
        )
        yield Difference(unit=chain.unit, entry=chain.last_entry, words=words)


def column_fault(chain: Named, row: dict[str, Any]) -> str:
    """A column that says otherwise than the text, or a text in another spelling than it is recorded in, in words."""
    entry = read_sealed(row["sealed"], row["sha256"])
    if f',"content":{canonical(content_json(entry.content))},"kind":' not in row["sealed"]:
        return say(
            "Entry {number} of {name} is not in the form in which it was recorded.",
            number=entry.number,
            name=chain.name,
        )
    for name, said in columns_of(entry).items():
        if row[name] != said:
            return say(
                "Entry {number} of {name}: its column {name_2} says {row}, the record says {said}.",
                number=entry.number,
                name=chain.name,
                name_2=name,
                row=row[name],
                said=said,
            )
    return ""
