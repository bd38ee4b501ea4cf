"""What the entries of units rest on outside of their own chains, read through their citations."""

from collections.abc import Callable, Iterable

from benchapp.actions.workbench.bench_days import day_as_of
from benchapp.actions.workbench.plans import workshop_from
from benchapp.errors import BenchError
from benchapp.sequences.planning.bench_day import BenchDay
from benchapp.sequences.planning.chain_contents import ClosingContent, OpeningContent, SettingsContent
from benchapp.sequences.planning.entries import Citation, Entry, EntryKind, is_of
from benchapp.sequences.planning.planned import Workshop
from benchapp.workbook.model.values import BenchOpening
from benchapp.workbook.record.days import day_of
from benchapp.workbook.record.sealing import canonical

KINDS = (EntryKind.settings, EntryKind.opening, EntryKind.closing)
"""kinds of entry that an entry of a unit may rest on"""


class NoGrounds(BenchError):
    """An entry cites no settings of a workshop."""


class CitedGrounds:
    """Settings and days at the bench, as the entries that cite them were recorded under."""

    def __init__(self, entries: Iterable[Entry], opening_of: Callable[[Entry[ClosingContent]], Entry | None]) -> None:
        """`opening_of` finds what a closing closed, where a bench's chain has two entries of that number."""
        self._opening_of = opening_of
        self._cited = {(entry.chain, entry.number, entry.sha256): entry for entry in entries}
        self._by_number: dict[tuple[str, int], list[Entry]] = {}
        for entry in self._cited.values():
            self._by_number.setdefault((entry.chain, entry.number), []).append(entry)
        self._workshops: dict[str, Workshop] = {}
        self.brought_up = tuple(entry for entry in self._cited.values() if entry.kind is not EntryKind.closing)
        """openings and settings: at these the board is brought up to the day"""

    def workshop(self, entry: Entry) -> Workshop:
        """The workshop's settings that the entry says or cites; raises NoGrounds."""
        says = entry.kind is EntryKind.settings
        settings = entry if says else self._of_kind(entry.cites, EntryKind.settings)
        if settings is None or not is_of(settings, SettingsContent):
            raise NoGrounds("It cites no settings of the workshop.")
        known = self._workshops.get(settings.sha256)
        if known is None:
            known = workshop_from(canonical(settings.content.settings))
            self._workshops[settings.sha256] = known
        return known

    def day(self, entry: Entry) -> BenchDay:
        """The day at the entry's own bench, as its citation says; none where it cites none."""
        cited = tuple(one for one in entry.cites if one.chain == entry.bench)
        found = self._of_kind(cited, EntryKind.opening, EntryKind.closing)
        return day_as_of(None if found is None else self._opening(found), entry.at)

    def _of_kind(self, cites: Iterable[Citation], *kinds: EntryKind) -> Entry | None:
        found = (self._cited.get((one.chain, one.number, one.sha256)) for one in cites)
        return next((entry for entry in found if entry is not None and entry.kind in kinds), None)

    def _opening(self, found: Entry) -> BenchOpening | None:
        if is_of(found, OpeningContent):
            return day_of(found, None)
        if not is_of(found, ClosingContent):
            return None
        there = self._by_number.get((found.chain, found.content.opening), [])
        opening = there[0] if len(there) == 1 else self._opening_of(found)
        return day_of(opening, found) if opening is not None and is_of(opening, OpeningContent) else None
