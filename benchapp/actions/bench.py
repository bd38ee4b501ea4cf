"""The opened workbook with what it takes to work on it: plans from pinned texts, unit states, one writer."""

from collections.abc import Callable, Sequence
from concurrent.futures import Future
from pathlib import Path
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec, Self

from benchapp.actions.changes import Changes
from benchapp.workbook.values import BenchOpening, Lot, Unit

if TYPE_CHECKING:
    from benchapp.lots import Board
    from benchapp.sequences import Attempt, Catalogue, Entry, Plan, UnitState, Workshop

P = ParamSpec("P")


class Bench:
    """A workbook at work. Reads may come from any thread; writes go through one ordered writer thread.

    `clock` gives the time of each entry as ISO 8601 in UTC; `folders` hold the workshop's own sequences and
    resources beside the shipped ones.
    """

    path: Path
    clock: Callable[[], str]

    @classmethod
    def create(
        cls,
        path: Path,
        *,
        workshop: "Workshop | None" = None,
        folders: Sequence[Path] = (),
        clock: Callable[[], str] | None = None,
    ) -> Self:
        """Make a new workbook file and open it; raises WorkbookProblem when there is one already."""

    @classmethod
    def open(cls, path: Path, *, folders: Sequence[Path] = (), clock: Callable[[], str] | None = None) -> Self:
        """Open a workbook file; raises WorkbookProblem when it cannot be used, with the reason."""

    def close(self) -> None:
        """Finish what is being written and close the file."""

    # reading (cheap: no yaml, pint, numpy or pydantic)
    def lots(self) -> tuple[Lot, ...]:
        """All lots, newest first."""

    def lot(self, name: str) -> Lot:
        """The lot of that name; raises NotInWorkbook."""

    def units(self, lot: str | None = None) -> tuple[Unit, ...]:
        """The units of a lot (or of the workbook) by shelf mark."""

    def unit(self, mark: str) -> Unit:
        """The unit with that shelf mark; raises NotInWorkbook."""

    def board(self, lot: str) -> "Board":
        """Units down, stages across, from the stored projection."""

    def opening(self) -> BenchOpening | None:
        """Today's bench opening, None when the bench has not been opened today (or has been closed)."""

    # working on a unit
    @property
    def catalogue(self) -> "Catalogue":
        """The shipped and the workshop's own files as they are now (for new lots and runs)."""

    @property
    def workshop(self) -> "Workshop":
        """The workshop's settings kept in this workbook."""

    def plan(self, mark: str) -> "Plan":
        """The plan of the unit's current run, made from the texts that the run pinned."""

    def entries(self, mark: str) -> "tuple[Entry, ...]":
        """The unit's whole history, oldest first."""

    def state(self, mark: str, *, at: str | None = None) -> "UnitState":
        """The unit's history folded at that time (now, if not given)."""

    def attempt(self, mark: str, address: str, given: object) -> "Attempt":
        """Try an answer without recording it: what the live gauge shows."""

    def siblings(self, mark: str, address: str) -> tuple[tuple[str, float], ...]:
        """What the lot's other units read at that step: (shelf mark, SI value), by shelf mark."""

    # writing
    def later(
        self, action: "Callable[Concatenate[Bench, P], Changes]", *args: P.args, **kwargs: P.kwargs
    ) -> "Future[Changes]":
        """Run an action on the writer thread, after those asked for before it.

        The action itself may also be called directly from any thread: it then waits for its turn.
        """

    def write(self, work: Callable[[], Any]) -> Any:  # noqa: ANN401
        """Do work on the writer thread and wait for it."""
