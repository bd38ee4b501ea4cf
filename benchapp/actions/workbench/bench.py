"""The opened workbook with what it takes to work on it: plans from pinned texts, unit states, one writer."""

from collections.abc import Callable, Sequence
from concurrent.futures import Future
from contextlib import suppress
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Concatenate, ParamSpec, Self, TypeVar

from benchapp.actions.workbench.against_siblings import siblings_of
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.histories import Histories, History
from benchapp.actions.workbench.just_recorded import JustRecorded
from benchapp.actions.workbench.plans import Plans, workshop_from, workshop_text
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.writer import Writer
from benchapp.sequences.planning.entries import Entry, StepAnswer
from benchapp.sequences.planning.planned import Workshop
from benchapp.sequences.planning.workshop_rules import refuse_workshop
from benchapp.workbook.model.problems import ForLookingOnly, WorkbookGone
from benchapp.workbook.model.values import BenchIdentity, BenchOpening, Grounds, Lot, SiblingRow, Unit
from benchapp.workbook.opened.workbook import Workbook

if TYPE_CHECKING:
    from benchapp.files.locations import Complaint
    from benchapp.judgement.meters.wire import Wire
    from benchapp.lots.board import Board
    from benchapp.sequences.history.unit_state import UnitState
    from benchapp.sequences.planning.catalogue import Catalogue
    from benchapp.sequences.planning.planned import Plan
    from benchapp.sequences.planning.state import Evaluation

CLOCK_PUT_RIGHT = 300.0
"""seconds by which a computer's clock may be set back in use without ageing what was just done (own choice)"""
P = ParamSpec("P")
T = TypeVar("T")


def utc_now() -> str:
    """The time of an entry: ISO 8601 in UTC, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def _back_up_first(path: Path) -> None:
    """An older file goes to the folder for backups before it is migrated."""
    from benchapp.actions.backups.keeping import back_up_before_migration

    back_up_before_migration(path, at=utc_now())


class Bench:
    """A workbook at work. Reads may come from any thread; writes go through one ordered writer thread.

    `clock` gives the time of each entry as ISO 8601 in UTC; `folders` hold the workshop's own sequences and
    resources beside the shipped ones.
    """

    def __init__(
        self, workbook: Workbook, path: Path, *, folders: Sequence[Path], clock: Callable[[], str] | None
    ) -> None:
        self.path = path
        self.clock = clock or utc_now
        self.workbook = workbook
        self._folders = tuple(folders)
        self._writer = Writer()
        self._closed = False
        self._histories = Histories(workbook)
        self._plans = Plans(workbook)
        self.just_recorded = JustRecorded()
        self._record_faults: dict[str, str] = {}
        self._catalogue: Catalogue | None = None
        self._wires: dict[str, Wire | None] = {}
        self.left_out: tuple[Complaint, ...] = ()
        self._workshop = ("", Workshop())

    @classmethod
    def create(
        cls,
        path: Path,
        *,
        workshop: Workshop | None = None,
        folders: Sequence[Path] = (),
        clock: Callable[[], str] | None = None,
        by: str = "",
        at_bench: BenchIdentity | None = None,
    ) -> Self:
        """Make a new workbook file and open it; raises WorkbookProblem when there is one already, Refused for
        settings that cannot be."""
        if complaint := refuse_workshop(workshop or Workshop()):
            raise Refused(complaint)
        made = (clock or utc_now)()
        settings = workshop_text(workshop or Workshop())
        workbook = Workbook.create(path, made=made, workshop=settings, by=by, bench=at_bench)
        return cls(workbook, path, folders=folders, clock=clock)

    @classmethod
    def open(
        cls,
        path: Path,
        *,
        folders: Sequence[Path] = (),
        clock: Callable[[], str] | None = None,
        at_bench: BenchIdentity | None = None,
    ) -> Self:
        """Open a workbook file; raises WorkbookProblem when it cannot be used, with the reason.

        What is recorded is recorded at that bench, by itself the bench of this computer's user.
        """
        workbook = Workbook.open(path, bench=at_bench, before_migration=_back_up_first)
        return cls(workbook, path, folders=folders, clock=clock)

    @classmethod
    def look_at(cls, path: Path, *, folders: Sequence[Path] = (), clock: Callable[[], str] | None = None) -> Self:
        """Open a workbook file for reading alone; what would record is refused. Raises WorkbookProblem."""
        return cls(Workbook.look_at(path), path, folders=folders, clock=clock)

    def open_instead(self, path: Path) -> Self:
        """Open another workbook file with the same own files and clock; raises WorkbookProblem."""
        return self.open(path, folders=self._folders, clock=self.clock)

    @property
    def looks_only(self) -> bool:
        """Whether the file was opened for reading alone."""
        return self.workbook.store.look_only

    def close(self, *, anchor: bool = True) -> None:
        """Finish what is being written, anchor it and close the file; closing again does nothing.

        Nothing is anchored in a file that turns out to be damaged.
        """
        if self._closed:
            return
        self._closed = True
        try:
            with suppress(ForLookingOnly, WorkbookGone):
                if anchor:
                    self.write(partial(self.workbook.add_anchor, at=self.clock(), reason="workbook closed"))
        finally:
            self._writer.close()
            self.workbook.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *exception: object) -> None:
        self.close()

    @property
    def remarks(self) -> tuple[str, ...]:
        """What is to be told of the file's place when it is opened (looking only, a network drive), as sentences."""
        return self.workbook.remarks

    def lost(self) -> str:
        """Why the file is not the one that was opened any more, as a sentence; empty while all is well."""
        return self.workbook.lost()

    # reading (cheap: no yaml, pint, numpy or pydantic)

    def lots(self) -> tuple[Lot, ...]:
        """All lots, newest first."""
        return self.workbook.lots()

    def lot(self, name: str) -> Lot:
        """The lot of that name; raises NotInWorkbook."""
        return self.workbook.lot(name)

    def units(self, lot: str | None = None) -> tuple[Unit, ...]:
        """The units of a lot (or of the workbook) by shelf mark."""
        return self.workbook.units(lot)

    def unit(self, mark: str) -> Unit:
        """The unit with that shelf mark; raises NotInWorkbook."""
        return self.workbook.unit(mark)

    def record_fault(self, mark: str, *, anew: bool = False) -> str:
        """What of a unit's record does not hold by itself, as a sentence; empty while it holds.

        Looked at when it is first asked for, and `anew` before anything is printed of it.
        """
        if anew or mark not in self._record_faults:
            from benchapp.workbook.checks.checking import check_unit

            found = check_unit(self.workbook.store, mark)
            self._record_faults[mark] = found[0].words if found else ""
        return self._record_faults[mark]

    def board(self, lot: str) -> "Board":
        """Units down, stages across, from the stored projection."""
        from benchapp.actions.workbench.unit_summary import board_of

        return board_of(self.workbook, lot)

    def opening(self) -> BenchOpening | None:
        """Today's opening of this bench, None when it has not been opened today or has been closed since."""
        last = self._last_opening()
        return last if last is not None and not last.closed else None

    def closing(self) -> BenchOpening | None:
        """Today's last bench opening when it has been closed since: no meter counts as proved after that."""
        last = self._last_opening()
        return last if last is not None and last.closed else None

    def _last_opening(self) -> BenchOpening | None:
        from benchapp.sequences.planning.entry_times import is_todays

        last = self.workbook.grounds().day
        return last if last is not None and is_todays(last.at, self.clock()) else None

    # working on a unit

    @property
    def catalogue(self) -> "Catalogue":
        """The shipped and the workshop's own files as they were when first asked for (for new lots and runs).

        Own files are those in `folders` and those beside the workbook; what is wrong with these is in `left_out`. The
        made-up examples are in it for a demo's workbook alone.
        """
        if self._catalogue is None:
            from benchapp.files.beside import own_folder
            from benchapp.sequences.checks.loading import load_with_own

            every, self.left_out = load_with_own(own_folder(self.path), *self._folders)
            self._catalogue = every if self.workshop.demo else every.without_examples()
        return self._catalogue

    def reread_files(self) -> "Catalogue":
        """Read the files again, after somebody changed one."""
        self._catalogue = None
        self._wires.clear()
        return self.catalogue

    def wire_of(self, meter: str) -> "Wire | None":
        """How the meter hangs on a wire, by the workshop's own record of it; None where it does not.

        No run pins that: a meter may get another address any day. Its record alone is looked for, when first asked for.
        """
        if meter not in self._wires:
            from benchapp.actions.workbench.wires_in_files import wire_in
            from benchapp.files.beside import own_folder

            self._wires[meter] = wire_in((own_folder(self.path), *self._folders), meter)
        return self._wires[meter]

    @property
    def workshop(self) -> Workshop:
        """The workshop's settings as the workbook keeps them now: another window may have changed them."""
        return self._settings(self.workbook.workshop())

    def grounds(self) -> Grounds:
        """What an entry made here and now rests on."""
        return self.workbook.grounds()

    def workshop_of(self, grounds: Grounds) -> Workshop:
        """The workshop's settings among these grounds."""
        return self._settings(grounds.settings)

    def _settings(self, kept: str) -> Workshop:
        if kept != self._workshop[0]:
            self._workshop = (kept, workshop_from(kept))
        return self._workshop[1]

    def history(self, mark: str) -> History:
        """The unit's entries, run and lot as the workbook has them now; raises NotInWorkbook."""
        return self._histories.of(mark)

    def forget(self, mark: str) -> None:
        """Read the unit anew next time."""
        self._histories.forget(mark)

    def forget_all(self) -> None:
        """Read every unit anew next time."""
        self._histories.forget_all()

    def plan(self, mark: str) -> "Plan":
        """The plan of the unit's current run, made from the texts that the run pinned."""
        return self._plans.of(self.history(mark).run, self.workshop)

    def plan_of(self, history: History, workshop: Workshop | None = None) -> "Plan":
        """The plan that this history is folded with, under these settings or those kept now."""
        return self._plans.of(history.run, workshop or self.workshop)

    def entries(self, mark: str) -> tuple[Entry, ...]:
        """The unit's whole history, oldest first."""
        return self.history(mark).entries

    def now(self, history: History) -> str:
        """The time of the unit's next entry: a clock put right by minutes never goes behind the entry before."""
        from benchapp.sequences.planning.entry_times import seconds_between

        at = self.clock()
        if not history.entries:
            return at
        last = history.entries[-1].at
        return last if 0 < seconds_between(at, last) <= CLOCK_PUT_RIGHT else at

    def state(
        self, mark: str, *, at: str | None = None, stage: str = "", address: str = "", by: str = ""
    ) -> "UnitState":
        """The unit's history folded at that time (now, if not given); due is what the stage or step chosen asks of the
        person with those initials."""
        history = self.history(mark)
        plan = self.plan_of(history)
        return self.state_of(history, plan, at=at or self.now(history), stage=stage, address=address, by=by)

    def state_of(
        self, history: History, plan: "Plan", *, at: str, stage: str = "", address: str = "", by: str = ""
    ) -> "UnitState":
        """The same of a history that was read, under that plan."""
        from benchapp.sequences.interlock.fold import fold

        known = self.just_recorded.state(history, plan, at=at, stage=stage, address=address, by=by)
        return known or fold(plan, history.entries, at=at, stage=stage, address=address, by=by)

    def evaluate(self, mark: str, address: str, given: StepAnswer) -> "Evaluation":
        """Try an answer without recording it: what the live gauge shows."""
        from benchapp.sequences.answering.evaluate import evaluate
        from benchapp.sequences.history.unit_history import UnitHistory
        from benchapp.sequences.interlock.fold import answering_state, look

        history = self.history(mark)
        plan, at = self.plan_of(history), self.now(history)
        state = answering_state(look(UnitHistory(plan, history.entries), at=at))
        return evaluate(plan, state, address, given, at=at)

    def siblings(self, mark: str, address: str) -> tuple[SiblingRow, ...]:
        """What the lot's other units of its design read last at that step, by shelf mark."""
        history = self.history(mark)
        return siblings_of(self.workbook, history.lot, history.run.equipment, mark, address)

    # writing

    def later(
        self, action: "Callable[Concatenate[Bench, P], ChangeSet]", *args: P.args, **kwargs: P.kwargs
    ) -> "Future[ChangeSet]":
        """Run an action on the writer thread, after those asked for before it.

        The action itself may also be called directly from any thread: it then waits for its turn.
        """
        return self._writer.later(partial(action, self, *args, **kwargs))

    def write(self, work: Callable[[], T]) -> T:
        """Do work on the writer thread and wait for it."""
        return self._writer.now(work)
