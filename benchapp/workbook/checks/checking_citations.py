"""What the entries rest on: each citation names an entry that stands there, of the right kind, and the newest one then.

Which entry was recorded before which is told by the anchors, without any clock: an opening or closing of a bench and
the anchor behind it are written in one go, and the anchor names the newest entry of every chain that moved. An entry
made at that bench behind the one named was recorded after; so it cannot rest on settings or on a day older than those.
"""

import json
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from benchapp.sequences.planning.chain_contents import AnchorContent
from benchapp.sequences.planning.entries import Citation, Entry, EntryKind, is_of
from benchapp.workbook.checks.checking_chains import Named, StoredEntry
from benchapp.workbook.model.values import Difference
from benchapp.workbook.record.chains import BENCH, UNIT, WORKSHOP
from benchapp.workbook.record.sealing import read_sealed

DAY = frozenset({EntryKind.opening, EntryKind.closing})


class Span(NamedTuple):
    """Entries of one chain, one after the other, that were made at one bench and cite the same."""

    chain: Named
    bench: str
    text: str
    first: int


class Kept:
    """What the walk along the chains keeps of them. Chains of benches and the workshop come before those of units."""

    def __init__(self) -> None:
        self.broken: set[str] = set()
        """UUIDs of the chains of which something was found already: what rests on these says nothing more"""
        self.anchors: list[Entry[AnchorContent]] = []
        self.spans: list[Span] = []
        self.ends: list[int] = []
        """the last number of each span"""
        self.days: defaultdict[str, list[int]] = defaultdict(list)
        self.settings: defaultdict[str, list[int]] = defaultdict(list)
        """by chain: the numbers of the entries that are openings or closings, and settings"""
        self._kinds: dict[tuple[str, int, str], str] = {}
        self._anchored: defaultdict[str, dict[int, str]] = defaultdict(dict)
        self._found: set[tuple[str, int, str]] = set()

    def note(self, chain: Named, row: StoredEntry) -> None:
        """Keep of an entry what is asked for later."""
        number = row.number
        if chain.kind != UNIT:
            self._note_foundation(chain, row)
        elif number in self._anchored.get(chain.uuid, ()):
            self._found.add((chain.uuid, number, row.sha256))
        sealed = row.sealed
        start = sealed.index(',"cites":') + 9
        text = sealed[start : sealed.index('],"content":', start) + 1]
        spans = self.spans
        if spans and spans[-1][2] == text and spans[-1][1] == row.bench and spans[-1][0] is chain:
            self.ends[-1] = number
        else:
            spans.append(Span(chain, row.bench, text, number))
            self.ends.append(number)

    def _note_foundation(self, chain: Named, row: StoredEntry) -> None:
        self._kinds[chain.uuid, row.number, row.sha256] = row.kind
        if row.kind in DAY:
            self.days[chain.uuid].append(row.number)
        elif row.kind == EntryKind.settings:
            self.settings[chain.uuid].append(row.number)
        elif row.kind == EntryKind.anchor:
            anchor = read_sealed(row.sealed, row.sha256)
            if not is_of(anchor, AnchorContent):
                return
            self.anchors.append(anchor)
            for uuid, (number, link) in anchor.content.heads.items():
                self._anchored[uuid][number] = link

    def kind_of(self, cited: Citation) -> str:
        """The kind of an entry of a bench or the workshop; empty where no such entry stands."""
        return self._kinds.get((cited.chain, cited.number, cited.sha256), "")

    def lacks(self, chain: str, number: int, link: str) -> bool:
        """Whether an entry that an anchor names does not stand there, though the chain holds."""
        key = (chain, number, link)
        return chain not in self.broken and key not in self._found and key not in self._kinds

    def last_numbers(self) -> dict[str, int]:
        """By chain: the highest number that is there."""
        return {span.chain.uuid: end for span, end in zip(self.spans, self.ends, strict=True)}


def citations_differ(kept: Kept, chains: Sequence[Named]) -> Iterator[Difference]:
    """Citations of what is not there, of what an entry cannot rest on, and of what was overtaken before the entry."""
    kinds = {chain.uuid: chain.kind for chain in chains}
    order = Order(kept, frozenset(chain.uuid for chain in chains if chain.forked_at is not None))
    read: dict[str, tuple[Citation, ...]] = {}
    for span, last in zip(kept.spans, kept.ends, strict=True):
        if span.chain.uuid in kept.broken:
            continue
        if span.text not in read:
            read[span.text] = tuple(Citation(**each) for each in json.loads(span.text))
        cites = read[span.text]
        number, wrong = span.first, _wrongly_cited(span, cites, kept, kinds)
        if not wrong and span.chain.kind == UNIT:
            number, wrong = order.overtaken(span, last, cites)
        if wrong:
            words = f"Entry {number} of {span.chain.name} {wrong}."
            yield Difference(unit=span.chain.unit, entry=number, words=words)


def _wrongly_cited(span: Span, cites: Sequence[Citation], kept: Kept, kinds: Mapping[str, str]) -> str:
    for one in cites:
        if one.chain in kept.broken:
            continue
        kind = kept.kind_of(one)
        if not kind:
            return f"rests on entry {one.number} of another chain that is not there"
        of = kinds.get(one.chain, "")
        fits = (
            (of == WORKSHOP and kind == EntryKind.settings)
            or (of == WORKSHOP and kind == EntryKind.lot and span.first == 0)
            or (of == BENCH and kind in DAY and one.chain == span.bench)
        )
        if not fits:
            return f"rests on entry {one.number} of another chain, which is nothing that it can rest on"
    return ""


class Moment(NamedTuple):
    """An entry of a bench's chain at which is known where other chains stood: those named moved since the one before.

    An anchor; or an opening or closing that needed none, because nothing had moved.
    """

    number: int
    heads: Mapping[str, Sequence[Any]]


def _moments(kept: Kept) -> dict[str, list[Moment]]:
    """The moments of each bench, in order."""
    found = defaultdict(list)
    for anchor in kept.anchors:
        found[anchor.chain].append(Moment(anchor.number, anchor.content.heads))
    for bench, days in kept.days.items():
        anchored = {moment.number for moment in found[bench]}
        found[bench] += [Moment(day, {}) for day in days if day + 1 not in anchored]
        found[bench].sort(key=lambda moment: moment.number)
    return found


class Order:
    """What was recorded before what, as far as the anchors say."""

    def __init__(self, kept: Kept, forked: frozenset[str]) -> None:
        self._kept = kept
        self._forked = forked
        """chains with two sides: which was newest at which side is not told"""
        self._moments = _moments(kept)
        self._named: defaultdict[tuple[str, str], list[tuple[int, int]]] = defaultdict(list)
        self._by_others: defaultdict[str, list[tuple[str, int]]] = defaultdict(list)
        for bench, moments in self._moments.items():
            for index, moment in enumerate(moments):
                for chain, (number, _) in moment.heads.items():
                    self._named[bench, chain].append((number, index))
                    self._by_others[chain].append((bench, number))

    def overtaken(self, span: Span, last: int, cites: Sequence[Citation]) -> tuple[int, str]:
        """The first entry of the span that rests on what had been replaced before it, and by what; else nothing."""
        wrong = self._overtaken_at(span, last, cites)
        if not wrong:
            return last, ""
        for number in range(span.first, last + 1):
            wrong = self._overtaken_at(span, number, cites)
            if wrong:
                return number, wrong
        return last, ""

    def _overtaken_at(self, span: Span, number: int, cites: Sequence[Citation]) -> str:
        if not cites or span.bench in self._forked:
            return ""  # that it rests on nothing is said where the gate is asked
        index = self._last_before(span.bench, span.chain.uuid, number)
        if index < 0:
            return ""
        cited = {one.chain: one.number for one in cites if self._kept.kind_of(one) != EntryKind.lot}
        day = _newest(self._kept.days[span.bench], self._moments[span.bench][index].number + 1)
        if day > cited.get(span.bench, -1):
            return f"rests on an older day at its bench than entry {day} there, which was recorded before it"
        for chain, numbers in self._kept.settings.items():
            if chain in cited and chain not in self._forked:
                newest = _newest(numbers, self._head(span.bench, chain, index) + 1)
                if newest > cited[chain]:
                    return f"rests on older settings than entry {newest} of the workshop, recorded before it"
        return ""

    def _last_before(self, bench: str, chain: str, number: int) -> int:
        """The last moment of the bench that was surely before that entry of the chain; -1 where none was."""
        named = self._named.get((bench, chain), [])
        place = bisect_left(named, (number, -1)) - 1
        following = named[place + 1] if place + 1 < len(named) else None
        limit = following[0] if following else float("inf")
        doubtful = any(other != bench and number <= found < limit for other, found in self._by_others[chain])
        if doubtful:
            return named[place][1] if place >= 0 else -1
        return (following[1] if following else len(self._moments.get(bench, ()))) - 1

    def _head(self, bench: str, chain: str, index: int) -> int:
        """The newest entry of a chain that the anchors of the bench up to that moment name."""
        named = self._named.get((bench, chain), [])
        return max((number for number, at in named if at <= index), default=-1)


def _newest(numbers: Sequence[int], before: int) -> int:
    """The highest of these numbers below the limit; -1 where there is none."""
    place = bisect_left(numbers, before) - 1
    return numbers[place] if place >= 0 else -1
