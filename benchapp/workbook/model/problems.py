"""What can be wrong with a workbook, each as a sentence: what, where, what to do."""

import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from benchapp.errors import BenchError
from benchapp.words import say


class WorkbookProblem(BenchError):
    """The workbook cannot be used as asked; nothing in it was changed."""


class AlreadyThere(WorkbookProblem):
    """A new workbook was asked for where a file is."""

    def __init__(self, where: str) -> None:
        super().__init__(
            say("There is a file called {where} already. Choose another name, or open that one.", where=where)
        )


class NoSuchWorkbook(WorkbookProblem):
    """There is no file of that name."""

    def __init__(self, where: str) -> None:
        super().__init__(say("There is no file called {where}. Check the name, or make a new workbook.", where=where))


class NotAWorkbook(WorkbookProblem):
    """The file is something else."""

    def __init__(self, where: str) -> None:
        super().__init__(say("{where} is not a bench workbook. Choose a file that this program made.", where=where))


class NewerWorkbook(WorkbookProblem):
    """The file comes from a later version of this program."""

    def __init__(self, where: str, found: str, known: str) -> None:
        super().__init__(
            say(
                "{where} was written by a newer version of this program (its format is {found}, this "
                "version knows up to {known}). Update the program on this computer; the file is "
                "untouched.",
                where=where,
                found=found,
                known=known,
            )
        )


class OlderWorkbook(WorkbookProblem):
    """The file comes from an earlier version of this program and may not be changed here."""

    def __init__(self, where: str, found: str) -> None:
        super().__init__(
            say(
                "{where} was written by an earlier version of this program (its format is {found}). Open "
                "it once where it may be written: a copy of it is kept.",
                where=where,
                found=found,
            )
        )


class DamagedWorkbook(WorkbookProblem):
    """The file cannot be read as it should; `found` says what is wrong with it."""

    def __init__(self, where: str, found: str) -> None:
        self.found = found
        super().__init__(
            say(
                "{where} is damaged ({found}). Work on a backup copy, and keep this file: much of it can "
                "still be read.",
                where=where,
                found=found,
            )
        )


class ReadOnlyPlace(WorkbookProblem):
    """The file or its folder cannot be written."""

    def __init__(self, where: str) -> None:
        super().__init__(
            say(
                "{where} cannot be written: the file or its folder is read-only. Copy it to a folder of "
                "your own, or ask for permission to write there.",
                where=where,
            )
        )


class WorkbookGone(WorkbookProblem):
    """The file that was opened no longer stands where it was opened."""

    def __init__(self, path: Path, found: str) -> None:
        super().__init__(
            say(
                "{name} is no longer in {parent} as it was opened ({found}): nothing is recorded in it. "
                "Put it back, or make a copy of what is still open and go on in the copy.",
                name=path.name,
                parent=path.parent,
                found=found,
            )
        )


class ForLookingOnly(WorkbookProblem):
    """The file was opened without leave to write."""

    def __init__(self, where: str) -> None:
        super().__init__(
            say(
                "{where} is open for looking only, since the file or its folder is read-only: this was "
                "not recorded. Make a copy in a folder of your own, and open the copy.",
                where=where,
            )
        )


class LogInUse(WorkbookProblem):
    """On a network drive another program writes with a log that only programs of one computer can share."""

    def __init__(self, where: str) -> None:
        super().__init__(
            say(
                "{where} lies on a network drive and is in use there by a program that keeps a log "
                "beside it. Close it everywhere, then open it again.",
                where=where,
            )
        )


class StrangeLog(WorkbookProblem):
    """A log lies beside the file that is not its own, or something stands in the place of one."""

    def __init__(self, where: str, beside: str) -> None:
        super().__init__(
            say(
                "Beside {where} lies what another file of that name has left: {beside}. Opened with it, {where} "
                "would lose entries, so nothing was opened or changed. Move {beside} to another folder and keep "
                "it, then open {where} again.",
                where=where,
                beside=beside,
            )
        )


class UnreadablePlace(WorkbookProblem):
    """The file or its folder may not even be looked at."""

    def __init__(self, where: str, found: str) -> None:
        super().__init__(
            say(
                "{where} cannot be read ({found}). Ask for permission to read it, or choose another file.",
                where=where,
                found=found,
            )
        )


class DiskFull(WorkbookProblem):
    """No room is left; what was recorded before stays."""

    def __init__(self, where: str) -> None:
        super().__init__(
            say(
                "The disk that holds {where} is full: this was not recorded, all before it was. Make "
                "room, then record it again.",
                where=where,
            )
        )


class WorkbookBusy(WorkbookProblem):
    """Somebody else holds the file for longer than is sensible."""

    def __init__(self, where: str) -> None:
        super().__init__(
            say(
                "Another program is writing to {where} and does not finish: this was not recorded. Close "
                "the other window or wait for it, then record it again.",
                where=where,
            )
        )


class StorageTrouble(WorkbookProblem):
    """The disk reports an error that is none of the others."""

    def __init__(self, where: str, found: str) -> None:
        super().__init__(
            say(
                "{where} could not be read or written ({found}): this was not recorded. Check the disk, "
                "then try again.",
                where=where,
                found=found,
            )
        )


class CopyProblem(WorkbookProblem):
    """A copy cannot be written there; nothing is left of it."""

    def __init__(self, to: Path, found: str, *, full: bool = False) -> None:
        self.found, self.full = found, full
        if full:
            sentence = say(
                "The disk that holds {parent} is full: {name} was not made. Make room, then try again.",
                parent=to.parent,
                name=to.name,
            )
        else:
            sentence = say(
                "{name} could not be made in {parent} ({found}). Choose another place.",
                name=to.name,
                parent=to.parent,
                found=found,
            )
        super().__init__(sentence)


class CopyStopped(WorkbookProblem):
    """The person who asked for a copy stopped it."""

    def __init__(self) -> None:
        super().__init__("The copy was stopped; nothing was kept of it.")


class NotInWorkbook(WorkbookProblem):
    """A lot, unit or run of that name is not in this workbook."""

    def __init__(self, what: str, name: str, nearest: str = "") -> None:
        hint = f" Did you mean {nearest}?" if nearest else ""
        super().__init__(
            say("There is no {what} called {name!r} in this workbook.{hint}", what=what, name=name, hint=hint)
        )


class SeveralUnits(WorkbookProblem):
    """More than one unit bears a shelf mark: none is picked."""

    def __init__(self, mark: str, names: Sequence[str]) -> None:
        super().__init__(
            say(
                "{count} units bear the shelf mark {mark}: {listed}. Say which by these names; each is "
                "on hold until they are marked anew.",
                count=len(names),
                mark=mark,
                listed=", ".join(names),
            )
        )


class TakenName(WorkbookProblem):
    """A lot name or shelf mark is in use."""

    def __init__(self, what: str, name: str) -> None:
        super().__init__(say("There is a {what} called {name!r} already. Choose another name.", what=what, name=name))


class Overtaken(WorkbookProblem):
    """Another window recorded on this unit in the meantime; the draft's number is taken."""

    def __init__(self, unit: str, number: int) -> None:
        super().__init__(
            say(
                "Entry {number} of {unit} was recorded from another window in the meantime. Look at the "
                "unit again, then record yours.",
                number=number,
                unit=unit,
            )
        )


class AnotherUnit(WorkbookProblem):
    """Units were marked anew meanwhile, and the mark went from one to another."""

    def __init__(self, unit: str) -> None:
        super().__init__(
            say(
                "Another unit is called {unit} by now: units were marked anew meanwhile. Nothing was "
                "recorded. Go to the unit again, then record it.",
                unit=unit,
            )
        )


class Lent(WorkbookProblem):
    """Another bench has the unit."""

    def __init__(self, unit: str, bench: str) -> None:
        super().__init__(
            say(
                "{unit} is lent to another bench ({bench}): nothing is recorded on it here until that "
                "bench has given it back and its day file is imported.",
                unit=unit,
                bench=bench[:4],
            )
        )


class Held(WorkbookProblem):
    """A unit is on hold whatever its entries say: two records of it, or two units under one mark."""

    def __init__(self, unit: str, why: str) -> None:
        super().__init__(
            say("{unit} is on hold: {why} Nothing is recorded on it until that is settled.", unit=unit, why=why)
        )


_BY_CODE: dict[int, Callable[[str, str], WorkbookProblem]] = {
    sqlite3.SQLITE_FULL: lambda where, _: DiskFull(where),
    sqlite3.SQLITE_READONLY: lambda where, _: ReadOnlyPlace(where),
    sqlite3.SQLITE_PERM: lambda where, _: ReadOnlyPlace(where),
    sqlite3.SQLITE_BUSY: lambda where, _: WorkbookBusy(where),
    sqlite3.SQLITE_LOCKED: lambda where, _: WorkbookBusy(where),
    sqlite3.SQLITE_NOTADB: lambda where, _: NotAWorkbook(where),
    sqlite3.SQLITE_CORRUPT: lambda where, found: DamagedWorkbook(where, found),
    sqlite3.SQLITE_INTERRUPT: lambda where, _: DamagedWorkbook(where, "it takes too long to find out what is in it"),
    sqlite3.SQLITE_TOOBIG: lambda where, _: DamagedWorkbook(where, "it holds a value larger than any that is kept"),
    sqlite3.SQLITE_CANTOPEN: lambda where, _: ReadOnlyPlace(where),
}


def sentence_for(error: sqlite3.Error, where: str) -> WorkbookProblem:
    """The sentence for what SQLite reported about a file, by its primary result code."""
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    make = _BY_CODE.get(code)
    return make(where, str(error)) if make else StorageTrouble(where, str(error))


RUBBISH = (TypeError, AttributeError, KeyError, ValueError, OverflowError, RecursionError)
"""what rows raise that hold another thing than they should: bytes for text, text for a number, no JSON"""


@contextmanager
def rubbish_is_damage(where: str) -> Iterator[None]:
    """Turn what reading rows raises into a DamagedWorkbook: whoever wrote the file may have put anything into them."""
    try:
        yield
    except BenchError:
        raise
    except RUBBISH as error:
        raise DamagedWorkbook(where, f"something stands in it that does not belong there: {error}"[:200]) from error


@contextmanager
def as_sentences(where: str) -> Iterator[None]:
    """Turn what SQLite or SQLAlchemy reports into a WorkbookProblem with the file's name."""
    try:
        yield
    except WorkbookProblem:
        raise
    except sqlite3.IntegrityError:
        raise
    except sqlite3.Error as error:
        raise sentence_for(error, where) from error
    except Exception as error:
        origin = getattr(error, "orig", None)
        if isinstance(origin, sqlite3.Error) and not isinstance(origin, sqlite3.IntegrityError):
            raise sentence_for(origin, where) from error
        raise
