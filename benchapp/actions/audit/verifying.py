"""Whether a workbook is what it says: file, chains, anchors, what is made from them, and what only the engine can say.

Every entry of a unit is judged again and held before the gate again, under the settings and the day that it cites.
"""

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from benchapp.actions.audit.asking_again import ask_again
from benchapp.actions.audit.grounds_cited import KINDS, CitedGrounds, NoGrounds
from benchapp.actions.audit.heads import heads_differ
from benchapp.actions.audit.pinned import looser_pins
from benchapp.actions.audit.settings_again import settings_differ
from benchapp.actions.audit.shown_again import Shown, what_is_shown_wrong
from benchapp.actions.workbench.bench import CLOCK_PUT_RIGHT
from benchapp.actions.workbench.plans import Plans
from benchapp.errors import BenchError, Cancelled
from benchapp.sequences.interlock.power_spans import PowerSpan, power_spans, together
from benchapp.sequences.interlock.unit_walk import Standing
from benchapp.sequences.interlock.way_back import is_on_mains
from benchapp.sequences.kinds.photo import PhotoContent
from benchapp.sequences.planning.chain_contents import LentContent
from benchapp.sequences.planning.entries import Entry, EntryKind, is_of
from benchapp.sequences.planning.entry_contents import UnitPhotosContent
from benchapp.sequences.planning.entry_times import seconds_between
from benchapp.sequences.planning.planned import Plan
from benchapp.words import say
from benchapp.workbook.checks.checking import check_records
from benchapp.workbook.checks.projections import check_projections
from benchapp.workbook.model.values import Difference, Run, StageRow, Unit, UnitSummary
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.photos import photos_missing

Progress = Callable[[int, int], None]
Stop = Callable[[], bool]
RUBBISH = (ValueError, TypeError, KeyError, AttributeError, IndexError, ArithmeticError, RecursionError, AssertionError)
"""what the engine may raise on contents that no program of ours ever wrote"""


def verify_workbook(
    path: Path, *, units: Sequence[str] = (), progress: Progress | None = None, cancelled: Stop | None = None
) -> tuple[Difference, ...]:
    """Differences found, the first first; nothing when the workbook holds. Changes nothing.

    `units` are marks to which the check of units is confined. Raises WorkbookProblem, Cancelled.
    """
    workbook = Workbook.look_at(path)
    try:
        return tuple(differences_in(workbook, units=units, progress=progress, cancelled=cancelled))
    finally:
        workbook.close()


def differences_in(
    workbook: Workbook, *, units: Sequence[str] = (), progress: Progress | None = None, cancelled: Stop | None = None
) -> Iterator[Difference]:
    """The same of an open workbook, as they are found: the record, what is made from it, then unit by unit.

    A unit whose record does not hold is not judged again. Raises WorkbookProblem, Cancelled.
    """
    broken: set[str] = set()
    for mark in units:
        workbook.unit(mark)
    for found in check_records(workbook.store, units=units, cancelled=cancelled):
        broken.add(found.unit)
        yield found
    yield from check_projections(workbook.store)
    yield from heads_differ(workbook)
    yield from settings_differ(workbook)
    yield from _check_units(workbook, frozenset(units), broken, progress, cancelled)
    try:
        yield from looser_pins(workbook)
    except (BenchError, *RUBBISH) as error:
        yield Difference(unit="", entry=None, words=say("The pinned texts cannot be read ({error}).", error=error))


def _check_units(
    workbook: Workbook, asked: frozenset[str], broken: set[str], progress: Progress | None, cancelled: Stop | None
) -> Iterator[Difference]:
    try:
        again = UnitsAgain(workbook)
        units = [unit for unit in workbook.units() if not asked or unit.mark in asked]
    except (BenchError, *RUBBISH) as error:
        yield Difference(unit="", entry=None, words=f"The units cannot be worked out again: {error}")
        return
    for number, unit in enumerate(units):
        if cancelled is not None and cancelled():
            raise Cancelled("Verifying")
        if unit.mark not in broken:
            yield from again.differences(unit)
        if progress is not None:
            progress(number + 1, len(units))
    yield from again.under_power_together()


class UnitsAgain:
    """The units of one workbook, worked out again from their entries."""

    def __init__(self, workbook: Workbook) -> None:
        self._workbook = workbook
        self._plans = Plans(workbook)
        self._grounds = CitedGrounds(workbook.entries_of_kinds(*KINDS), workbook.opening_closed_by)
        self._stages: dict[str, list[StageRow]] = {}
        for row in workbook.stages():
            self._stages.setdefault(row.unit, []).append(row)
        self._runs: dict[str, dict[str, Run]] = {}
        for run in workbook.runs_by_uuid().values():
            self._runs.setdefault(run.unit, {})[run.uuid] = run
        self._spans: list[PowerSpan] = []

    def differences(self, unit: Unit) -> Iterator[Difference]:
        """What of the unit does not come out again; its chain must hold."""
        try:
            entries = self._workbook.entries(unit.mark, after=-1)
            yield from self._entries_differ(unit, entries)
            yield from self._shown_otherwise(unit, entries)
        except BenchError as problem:
            yield Difference(unit=unit.mark, entry=None, words=f"{unit.mark}: {problem.sentence}")
        except RUBBISH as error:
            words = say(
                "{mark}: its record cannot be worked out again ({name}: {error}).",
                mark=unit.mark,
                name=type(error).__name__,
                error=error,
            )
            yield Difference(unit=unit.mark, entry=None, words=words)

    def _entries_differ(self, unit: Unit, entries: Sequence[Entry]) -> Iterator[Difference]:
        place = _Place(entries[0])

        def plan_of(entry: Entry) -> Plan:
            return self._plans.of(self._run(unit, entry.run), self._grounds.workshop(entry), again=True)

        on: dict[int, bool] = {}

        def note_power(entry: Entry, before: Standing) -> None:
            on[entry.number] = is_on_mains(before.engine.evaluation)

        for entry, wrong in ask_again(plan_of, entries[1:], day_of=self._grounds.day, beside=note_power):
            said = [*place.what_is_wrong(entry), *self._photos_missing(entry), *wrong]
            if said:
                where = f" ({entry.address})" if entry.address else ""
                words = f"Entry {entry.number} of {unit.mark}{where}: {'; '.join(said)}."
                yield Difference(unit=unit.mark, entry=entry.number, words=words)
        self._spans.extend(power_spans(unit.mark, entries[1:], on, on_after=unit.live == "mains"))

    def under_power_together(self) -> Iterator[Difference]:
        """Of the units asked for so far, which two were under power at one bench at one time."""
        for one, other in together(self._spans):
            where = f"Entry {other.number} of {other.unit}: mains came on at {other.since}"
            words = say(
                "{where} while {unit} was under power at the same bench since {since}: one unit at a time.",
                where=where,
                unit=one.unit,
                since=one.since,
            )
            yield Difference(unit=other.unit, entry=other.number, words=words)

    def _photos_missing(self, entry: Entry) -> Iterator[str]:
        if isinstance(entry.content, PhotoContent | UnitPhotosContent):
            for link in photos_missing(self._workbook.store, entry.content.photos):
                yield f"the photo {link[:8]} that it names is not in this workbook"

    def _shown_otherwise(self, unit: Unit, entries: Sequence[Entry]) -> Iterator[Difference]:
        begun = [entry.run for entry in entries if entry.kind in (EntryKind.beginning, EntryKind.run)]
        run = self._run(unit, begun[-1])
        summary = UnitSummary(
            disposition=unit.disposition,
            due=unit.due,
            grade=unit.grade,
            price=unit.price,
            stages=tuple(self._stages.get(unit.mark, ())),
            moves_at=unit.moves_at,
            live=unit.live,
        )

        def plan_of(moment: Entry) -> Plan:
            return self._plans.of(run, self._grounds.workshop(moment), again=True)

        shown = Shown(at=unit.shown_at, summary=summary)
        for words in what_is_shown_wrong(unit.mark, shown, entries, self._grounds.brought_up, plan_of):
            yield Difference(unit=unit.mark, entry=None, words=f"{words}.")

    def _run(self, unit: Unit, uuid: str) -> Run:
        found = self._runs.get(unit.mark, {}).get(uuid)
        if found is None:
            raise NoGrounds("It belongs to no run of this unit.")
        return found


class _Place:
    """Where in its unit's history an entry stands: in the run begun last, at a time that the program can have given, at
    the bench to which the unit was lent."""

    def __init__(self, beginning: Entry) -> None:
        self._run = beginning.run
        self._last_at = ""
        self._lent_to = ""

    def what_is_wrong(self, entry: Entry) -> Iterator[str]:
        """In words; to be asked of each entry in order."""
        if entry.kind is EntryKind.run:
            self._run = entry.run
        elif entry.run != self._run:
            yield "it belongs to another run than the one begun last"
        if self._last_at and 0 < seconds_between(entry.at, self._last_at) <= CLOCK_PUT_RIGHT:
            yield "its time lies before that of the entry before it, by less than a clock put right explains"
        self._last_at = entry.at
        if self._lent_to not in ("", entry.bench):
            yield "it was made at another bench than the one that the unit was lent to"
        if is_of(entry, LentContent):
            self._lent_to = entry.content.to
