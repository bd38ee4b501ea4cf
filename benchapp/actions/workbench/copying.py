"""A copy of a workbook in use: whole, with what stands in the log, and read again before it counts."""

from collections.abc import Callable
from pathlib import Path

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.errors import BenchError, Cancelled
from benchapp.words import say
from benchapp.workbook.file.sqlite import copy_database
from benchapp.workbook.opened.opening import revision_of
from benchapp.workbook.opened.workbook import Workbook

Progress = Callable[[int, int], None]
Cancel = Callable[[], bool]


class UnsoundCopy(BenchError):
    """The copy is there and says what the workbook says, but that does not hold."""


def copy_bench(
    bench: Bench, to: Path, *, progress: Progress | None = None, cancelled: Cancel | None = None
) -> ChangeSet:
    """Copy an open workbook into a new file, also when its own file was moved or deleted since.

    Raises WorkbookProblem and Cancelled: then there is no copy; UnsoundCopy.
    """
    bench.workbook.copy_to(to, progress, cancelled)
    return _read_again(to, bench.path.name, cancelled)


def copy_workbook(
    path: Path, to: Path, *, progress: Progress | None = None, cancelled: Cancel | None = None
) -> ChangeSet:
    """The same of a workbook file, whoever has it open; `to` may be a folder. Raises the same."""
    revision_of(path)
    target = to / path.name if to.is_dir() else to
    copy_database(path, target, progress, cancelled)
    return _read_again(target, path.name, cancelled)


def _read_again(copy: Path, name: str, cancelled: Cancel | None) -> ChangeSet:
    """Hold the copy against its own hashes."""
    from benchapp.workbook.checks.checking import check_records

    book = Workbook.look_at(copy)
    try:
        wrong = next(iter(check_records(book.store, cancelled=cancelled)), None)
        entries = sum(unit.last_entry for unit in book.units())
    except Cancelled:
        book.close()
        copy.unlink(missing_ok=True)
        raise
    finally:
        book.close()
    if wrong is not None:
        raise UnsoundCopy(
            say(
                "{copy} is a copy of {name}, but what it says does not hold: {words}",
                copy=copy,
                name=name,
                words=wrong.words,
            )
        )
    return ChangeSet(
        files=(copy,),
        words=say(
            "{copy} is a whole copy of {name}: {count} entr(y|ies), and its chains hold.",
            copy=copy,
            name=name,
            count=entries,
        ),
    )
