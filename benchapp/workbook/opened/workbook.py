"""The workbook as its users see it: open or make a file, ask, and record.

What needs SQLAlchemy is imported where it is used: a window shows its board without.
"""

import json
from collections.abc import Callable, Sequence
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Self

from benchapp.operating_system import may_write
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.workbook.file.sqlite import WAIT, Cancel, Progress
from benchapp.workbook.file.store import Store
from benchapp.workbook.model.problems import OlderWorkbook, ReadOnlyPlace
from benchapp.workbook.model.values import (
    BenchIdentity,
    BenchOpening,
    Grounds,
    JudgedRow,
    Lot,
    Run,
    SiblingRow,
    StageRow,
    TagPrinted,
    Unit,
)
from benchapp.workbook.opened.opening import HEAD, bring_up_to_date, check_header, create_file, revision_in
from benchapp.workbook.record import board
from benchapp.workbook.record.bench_identity import call_this_bench, this_bench

if TYPE_CHECKING:
    from benchapp.sequences.planning.chain_contents import ClosingContent, OpeningContent
    from benchapp.sequences.planning.entries import Entry
    from benchapp.workbook.exchange.day_file import DayFile
    from benchapp.workbook.exchange.merging import Merged, Summarise
    from benchapp.workbook.model.values import UnitSummary
    from benchapp.workbook.record.columns import JudgedColumns
    from benchapp.workbook.record.days import Days
    from benchapp.workbook.record.heads import ChainHead
    from benchapp.workbook.record.intake import Intake, NewUnits, Pins
    from benchapp.workbook.record.journal import Journal
    from benchapp.workbook.record.marking import Marking


class Workbook:
    """An open workbook file. Every method may be called from any thread; writers wait for each other.

    What is recorded is recorded at `bench`, by itself the bench of this computer's user.
    """

    def __init__(self, store: Store, *, bench: BenchIdentity | None = None, backup: Path | None = None) -> None:
        self.store = store
        self._bench = bench
        self.backup = backup
        """the copy made before an older file was migrated"""

    @classmethod
    def create(
        cls, path: Path, *, made: str, workshop: str = "{}", by: str = "", bench: BenchIdentity | None = None
    ) -> Self:
        """Make a file; `made` is the time, `workshop` its settings as JSON. Raises WorkbookProblem."""
        bench = bench or this_bench()
        create_file(path, made=made, settings=json.loads(workshop), by=by, bench=bench)
        return cls(Store(path), bench=bench)

    @classmethod
    def open(
        cls,
        path: Path,
        *,
        wait: float = WAIT,
        bench: BenchIdentity | None = None,
        before_migration: Callable[[Path], object] | None = None,
    ) -> Self:
        """Open a file, after a backup and a migration if it is older; what cannot be written is opened for looking.

        Raises WorkbookProblem.
        """
        if not may_write(path):
            return cls.look_at(path)
        try:
            backup = bring_up_to_date(path, before=before_migration)
            return cls(Store(path, wait=wait), bench=bench, backup=backup)
        except ReadOnlyPlace:  # where asking for leave does not tell
            return cls.look_at(path)

    @classmethod
    def look_at(cls, path: Path) -> Self:
        """Open a file for reading alone, also where nothing may be written."""
        check_header(path)
        store = Store(path, look_only=True)
        try:
            with store.looking() as connection:
                if (revision := revision_in(connection, store.name)) != HEAD:
                    raise OlderWorkbook(store.name, revision)
        except BaseException:
            store.close()
            raise
        return cls(store)

    @property
    def remarks(self) -> tuple[str, ...]:
        """What is to be told of the place of the file when it is opened, as sentences."""
        return self.store.remarks()

    def refuse_looking(self) -> None:
        """Raise ForLookingOnly where nothing can be recorded (see Store.refuse_looking)."""
        self.store.refuse_looking()

    def lost(self) -> str:
        """Why the file is not the one that was opened any more (see Store.lost)."""
        return self.store.lost()

    def copy_to(self, to: Path, progress: Progress | None = None, cancelled: Cancel | None = None) -> None:
        """Make a whole, checked copy (see Store.copy_to)."""
        self.store.copy_to(to, progress, cancelled)

    def close(self) -> None:
        """Close the file; what was recorded is in it."""
        self.store.close()

    @cached_property
    def _journal(self) -> "Journal":
        from benchapp.workbook.record.journal import Journal

        return Journal(self.store, self.bench)

    @cached_property
    def _days(self) -> "Days":
        from benchapp.workbook.record.days import Days

        return Days(self.store, self.bench)

    @cached_property
    def _intake(self) -> "Intake":
        from benchapp.workbook.record.intake import Intake

        return Intake(self.store, self.bench)

    @cached_property
    def _marking(self) -> "Marking":
        from benchapp.workbook.record.marking import Marking

        return Marking(self.store, self.bench)

    @property
    def bench(self) -> BenchIdentity:
        """The bench at which this is open."""
        if self._bench is None:
            self._bench = this_bench()
        return self._bench

    # what is there

    def lots(self) -> tuple[Lot, ...]:
        """All lots, newest first."""
        return board.read_lots(self.store)

    def lot(self, name: str) -> Lot:
        """One lot; raises NotInWorkbook."""
        return board.read_lot(self.store, name)

    def units(self, lot: str | None = None) -> tuple[Unit, ...]:
        """Units by shelf mark."""
        return board.read_units(self.store, lot)

    def units_moved(self, now: str) -> tuple[Unit, ...]:
        """Units that time alone may have changed since they were last worked out."""
        return board.read_units_moved(self.store, now)

    def units_of(self, disposition: str) -> tuple[Unit, ...]:
        """Units of one disposition by shelf mark."""
        return board.read_units_of(self.store, disposition)

    def counts(self) -> dict[str, int]:
        """How many units there are of each disposition."""
        return board.count_units(self.store)

    def marks(self) -> frozenset[str]:
        """Every name and shelf mark that is taken."""
        return board.read_marks(self.store)

    def unit(self, mark: str) -> Unit:
        """One unit; raises NotInWorkbook."""
        return board.read_unit(self.store, mark)

    def stages(self, lot: str | None = None) -> tuple[StageRow, ...]:
        """Stored stages by shelf mark and position."""
        return board.read_stages(self.store, lot)

    def stages_of(self, mark: str) -> tuple[StageRow, ...]:
        """Stored stages of one unit by position."""
        return board.read_stages_of(self.store, mark)

    def entries(self, mark: str, *, after: int = 0, chain: str = "") -> "tuple[Entry, ...]":
        """A unit's entries in order (see read_entries)."""
        from benchapp.workbook.record import reading

        return reading.read_entries(self.store, mark, after=after, chain=chain)

    def entries_of_kinds(self, *kinds: str) -> "tuple[Entry, ...]":
        """All entries of these kinds, chain by chain."""
        from benchapp.workbook.record import reading

        return reading.read_kinds(self.store, kinds)

    def siblings(self, lot: str, equipment: str, address: str) -> tuple[SiblingRow, ...]:
        """Readings at a step of a lot's units of one design that were not withdrawn, first to last of each unit."""
        from benchapp.workbook.record import reading

        withdrawn = reading.read_withdrawn(self.store, lot)
        found = reading.read_siblings(self.store, lot, equipment, address)
        return tuple(row for row in found if (row.mark, row.number) not in withdrawn)

    def given_here(self, most: int) -> tuple[tuple[str, int, str], ...]:
        """(shelf mark, number, initials) of what this bench gave last and can be taken back, newest first."""
        from benchapp.workbook.record import reading

        return reading.read_given_here(self.store, self.bench.uuid, most)

    def repaired(self, equipment: str) -> frozenset[str]:
        """Marks of the units of that design that were ever repaired."""
        from benchapp.workbook.record import reading

        return reading.read_repaired(self.store, equipment)

    def runs(self, mark: str) -> tuple[Run, ...]:
        """A unit's runs in order."""
        from benchapp.workbook.record import reading

        return reading.read_runs(self.store, mark)

    def current_run(self, mark: str) -> Run:
        """The run that a unit is in; raises NotInWorkbook."""
        from benchapp.workbook.record import reading

        return reading.read_current_run(self.store, mark)

    def runs_by_uuid(self) -> dict[str, Run]:
        """Every run of the workbook."""
        from benchapp.workbook.record import reading

        return reading.read_runs_by_uuid(self.store)

    def judged_groups(self) -> list[tuple[str, str]]:
        """(run's UUID, address) of every step at which a reading was judged."""
        from benchapp.workbook.record import columns

        return columns.read_judged_groups(self.store)

    def runs_stating(self, facts: Sequence[str]) -> frozenset[str]:
        """UUIDs of the runs in which one of these facts of the unit was stated."""
        from benchapp.workbook.record import columns

        return columns.read_runs_stating(self.store, facts)

    def judged_columns(self, runs: Sequence[str], address: str) -> "JudgedColumns":
        """The judged readings of these runs at a step, as columns of numbers."""
        from benchapp.workbook.record import columns

        return columns.read_judged_columns(self.store, runs, address)

    def judged_rows(self, ids: Sequence[int]) -> list[JudgedRow]:
        """Readings one by one, by the ids that the columns gave."""
        from benchapp.workbook.record import columns

        return columns.read_judged_rows(self.store, ids)

    def pinned_texts(self, run: Run) -> dict[str, str]:
        """The texts that a run pinned, by file name."""
        from benchapp.workbook.record import reading

        texts = reading.read_texts(self.store, tuple(run.texts.values()))
        return {name: texts[sha256] for name, sha256 in run.texts.items()}

    @cached_property
    def uuid(self) -> str:
        """The UUID of its own workshop."""
        return board.read_uuid(self.store)

    def benches(self) -> dict[str, str]:
        """The names of the benches that were met here, by UUID."""
        return board.read_benches(self.store)

    def workshop(self) -> str:
        """The workshop's settings as JSON."""
        return board.read_workshop(self.store)

    def grounds(self) -> Grounds:
        """What an entry made here and now rests on: the workshop's settings, this bench's last day."""
        return self._days.grounds()

    def opening_closed_by(self, closing: "Entry[ClosingContent]") -> "Entry | None":
        """The entry that a bench's closing closed, on its own side where the bench's chain has two."""
        from benchapp.workbook.record import days

        with self.store.looking() as connection:
            return days.opening_closed_by(connection, closing)

    def settings_of(self, entry: "Entry") -> str:
        """The workshop's settings (JSON) that an entry says, or cites first."""
        from benchapp.workbook.record import days

        with self.store.looking() as connection:
            return days.settings_of(connection, entry)

    def foundations(self) -> "tuple[ChainHead, ...]":
        """The newest entry of the chain of each bench and of the workshop."""
        from benchapp.workbook.record.heads import read_foundations

        return read_foundations(self.store)

    def unanchored(self) -> tuple[str, ...]:
        """Whose chains have entries behind the last anchor that names them, in words."""
        return board.read_unanchored(self.store)

    def tags_printed(self, mark: str) -> tuple[TagPrinted, ...]:
        """The tags printed for a unit, oldest first."""
        from benchapp.workbook.record import days

        return days.read_tags_printed(self.store, mark)

    def append(self, unit: str, entry: "Entry", summary: "UnitSummary", *, alone: bool = False) -> "Entry":
        """Record one entry of a unit durably (see Journal.append)."""
        return self._journal.append(unit, entry, summary, alone=alone)

    def keep_summary(self, unit: str, number: int, summary: "UnitSummary", *, at: str) -> bool:
        """Keep what time alone has moved of a unit (see Journal.keep_summary)."""
        return self._journal.keep_summary(unit, number, summary, at=at)

    def add_lot(self, lot: Lot, groups: "Sequence[NewUnits]", *, more: bool = False) -> None:
        """Record a lot, or `more` units of one, by design, with their first runs; raises TakenName, NotInWorkbook."""
        self._intake.add_lot(lot, groups, more=more)

    def move_units(self, marks: Sequence[str], lot: Lot, *, new: bool, at: str, by: str, why: str) -> None:
        """Put units into another lot (see Intake.move_units)."""
        self._intake.move_units(marks, lot, new=new, at=at, by=by, why=why)

    def add_run(self, mark: str, *, pins: "Pins", shown: "UnitSummary", at: str, by: str, why: str = "") -> None:
        """Start a further run of a unit, and show it as it stands under what the run pins."""
        self._intake.add_run(mark, pins=pins, shown=shown, at=at, by=by, why=why)

    def mark_anew(self, unit: str, shelf_mark: str, *, at: str, by: str, why: str = "") -> str:
        """Give a unit another shelf mark; what it is called from here on (see Marking.mark_anew)."""
        return self._marking.mark_anew(unit, shelf_mark, at=at, by=by, why=why)

    def lend(self, unit: str, to: str, *, at: str, by: str, why: str = "") -> None:
        """Lend a unit to a bench by its UUID, or to none (see Marking.lend)."""
        self._marking.lend(unit, to, at=at, by=by, why=why)

    def merge(self, file: "DayFile", name: str, *, at: str, by: str, summarise: "Summarise") -> "Merged":
        """Take a day file over (see Merging.merge)."""
        from benchapp.workbook.exchange.merging import Merging

        return Merging(self.store, self.bench).merge(file, name, at=at, by=by, summarise=summarise)

    def keep_workshop(self, workshop: str, *, at: str, by: str, reason: str = "") -> "Entry":
        """Keep other settings, given as JSON."""
        return self._days.keep_settings(json.loads(workshop), at=at, by=by, reason=reason)

    def name_bench(self, name: str, *, at: str, by: str) -> None:
        """Call the bench so from here on, here and in workbooks that have not met it."""
        self._days.name_bench(name, at=at, by=by)
        call_this_bench(self.bench.uuid, name)

    def bench_name(self) -> str:
        """What the bench is called in this workbook."""
        return self._days.bench_name()

    def add_opening(self, content: "OpeningContent", *, at: str, by: str) -> "Entry":
        """Record that this bench was opened; anchors what was recorded before."""
        kept = self._days.add_opening(content, at=at, by=by)
        self.remember_heads()
        return kept

    def add_closing(
        self, opening: BenchOpening, *, at: str, by: str, meters: Sequence[MeterProof] = (), note: str = ""
    ) -> None:
        """Record that this opening is closed; anchors the day's records."""
        self._days.add_closing(opening.number, at=at, by=by, meters=meters, note=note)
        self.remember_heads()

    def add_tags_printed(self, tags: Sequence[TagPrinted]) -> None:
        """Record what was put on paper; anchors the records quoted."""
        self._days.add_tags_printed(tags)
        self.remember_heads()

    def add_anchor(self, *, at: str, reason: str) -> None:
        """Anchor the newest entries of all chains."""
        self._days.add_anchor(at=at, reason=reason)
        self.remember_heads()

    def remember_heads(self, *, anew: bool = False) -> None:
        """Keep the heads of the bench's and the workshop's chain outside of the file (see remember_heads there)."""
        from benchapp.workbook.record.known_heads import remember_heads

        remember_heads(self.store, self.bench, anew=anew)
