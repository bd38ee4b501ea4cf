"""Day files out: the whole records of some units, in one sealed file."""

import json
from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, datetime
from functools import partial
from itertools import count
from pathlib import Path
from uuid import UUID

from benchapp.actions.backups.settings import read_settings, usable_folder
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.file_places import not_written, refuse_folders
from benchapp.actions.workbench.problems import ExportProblem, Refused
from benchapp.operating_system import data_folder
from benchapp.words import say
from benchapp.workbook.exchange.day_file import DayFileProblem, read_day_file, write_day_file
from benchapp.workbook.exchange.gathering import gather, has_entry, head_of, units_to_send
from benchapp.workbook.file.whole_files import read_json, write_whole
from benchapp.workbook.model.problems import WorkbookProblem

ENDING = ".dayfile"
MEMORY = "day-files.json"
"""in the bench's own data folder: where its chain stood at the last day file of each workbook"""


def export_day_file(
    bench: Bench, *, out: Path, units: Sequence[str] = (), since: str = "", lend_to: str = "", by: str = ""
) -> ChangeSet:
    """Write a day file of these units, of those with an entry since that day, or of all; never over another file.

    With `lend_to` (a bench's name or UUID) the units are lent to that bench first: from then on it alone may record on
    them. Raises Refused, ExportProblem, SeveralUnits, NotInWorkbook, Held, Lent.
    """
    _refuse_place(out)
    chosen = [bench.unit(mark).uuid for mark in units]
    if not units:
        chosen = units_to_send(bench.workbook.store, since=_moment(since) if since else "")
    if not chosen:
        raise ExportProblem("There is no unit to export: nothing was recorded since then.")
    if lend_to:
        if not units:
            raise Refused("Say which units are lent, by their marks: --unit MARK.")
        _lend(bench, units, lend_to, by=by)
    _write(bench, out, chosen)
    words = f"{'1 unit is' if len(chosen) == 1 else f'{len(chosen)} units are'} in {out}."
    lent = (
        say(" Lent to {lend_to}: nothing is recorded on them here until they are back.", lend_to=lend_to)
        if lend_to
        else ""
    )
    return ChangeSet(units=frozenset(units) if lend_to else frozenset(), files=(out,), words=words + lent)


def write_at_closing(bench: Bench) -> str:
    """The day file of a bench that was closed, in the folder for backups where one is named; a sentence on it.

    It holds the units that moved since the last one. What keeps it from being written is told, and written next time.
    """
    if not read_settings().folder:
        return ""
    store, own = bench.workbook.store, bench.workbook.bench
    try:
        folder = usable_folder()
        workbook = bench.workbook.uuid
        number, link = _last(workbook)
        after = number if number >= 0 and has_entry(store, own.uuid, number, link) else -1
        units = units_to_send(store, bench=own.uuid, after=after)
        if not units:
            return ""
        out = _free_name(folder, bench)
        _write(bench, out, units)
    except (WorkbookProblem, ExportProblem) as problem:
        return say("The day file was not written. {sentence}", sentence=problem.sentence)
    if (head := head_of(store, own.uuid)) is not None:
        _remember(workbook, head)
    return say("The day file {name} is in {folder}.", name=out.name, folder=folder)


def _lend(bench: Bench, units: Sequence[str], lend_to: str, *, by: str) -> None:
    to = _bench_called(bench, lend_to)
    for mark in units:
        bench.write(partial(bench.workbook.lend, mark, to, at=bench.now(bench.history(mark)), by=by))


def _bench_called(bench: Bench, called: str) -> str:
    """The UUID of the bench of that name or UUID; raises Refused."""
    known = bench.workbook.benches()
    found = [uuid for uuid, name in known.items() if called in (uuid, name)]
    if len(found) == 1:
        return found[0]
    with suppress(ValueError):
        return str(UUID(called))  # a bench that was never met here
    raise Refused(
        say(
            "{value} known here as {called!r}. Give the bench's whole UUID: it stands in bench.json, "
            "in the data folder of that bench's computer.",
            value="Several benches are" if found else "No bench is",
            called=called,
        )
    )


def _write(bench: Bench, out: Path, units: Sequence[str]) -> None:
    workbook = bench.workbook
    if not bench.looks_only:
        bench.write(partial(workbook.add_anchor, at=bench.clock(), reason="day file"))
    content = _sealed(bench, out, units)
    try:
        out.open("xb").close()  # the name is claimed first: what came meanwhile is nobody's to replace
        write_whole(out, content)
    except FileExistsError as error:
        raise ExportProblem(_taken(out)) from error
    except OSError as error:
        with suppress(OSError):
            if out.stat().st_size == 0:
                out.unlink()
        raise not_written(out, error) from error


def _sealed(bench: Bench, out: Path, units: Sequence[str]) -> bytes:
    """The file's bytes, read again: what would not be taken over anywhere is not handed out."""
    workbook = bench.workbook
    try:
        content = write_day_file(gather(workbook.store, workbook.bench, units))
        read_day_file(content, out.name)
    except (DayFileProblem, LookupError, TypeError, ValueError) as error:
        if isinstance(error, WorkbookProblem) and not isinstance(error, DayFileProblem):
            raise
        name = bench.path.name
        raise ExportProblem(
            say(
                "The record in {name} does not hold, so no day file was written. Verify it: benchapp "
                "verify says where.",
                name=name,
            )
        ) from error
    return content


def _refuse_place(out: Path) -> None:
    refuse_folders(out)
    if out.exists() or out.is_symlink():
        raise ExportProblem(_taken(out))


def _taken(out: Path) -> str:
    return say(
        "There is a file {out} already, and a day file never takes the place of one. Choose another name.", out=out
    )


def _free_name(folder: Path, bench: Bench) -> Path:
    when = datetime.fromisoformat(bench.clock()).astimezone(UTC).strftime("%Y-%m-%d %H%M%S")
    stem = f"{bench.path.stem} {when}Z"
    names = (folder / (f"{stem}{ENDING}" if number == 1 else f"{stem} {number}{ENDING}") for number in count(1))
    return next(name for name in names if not name.exists())


def _moment(since: str) -> str:
    """A day or moment as it was typed, local where it names no zone, as entries write their time."""
    try:
        return datetime.fromisoformat(since).astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    except (ValueError, OverflowError) as error:
        raise Refused(say("{since!r} is no day. Write it as 2026-05-04.", since=since)) from error


def _last(workbook: str) -> tuple[int, str]:
    """Number and hash of the bench's entry at which the last day file was written; -1 where none is known."""
    try:
        number, link = read_json(data_folder() / MEMORY)[workbook]
        return int(number), str(link)
    except (OSError, ValueError, TypeError, KeyError):
        return -1, ""


def _remember(workbook: str, head: tuple[int, str]) -> None:
    path = data_folder() / MEMORY
    kept: dict[str, object] = {}
    with suppress(OSError, ValueError, TypeError):
        kept = dict(read_json(path))
    with suppress(OSError):  # the next day file then holds this day too
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, json.dumps(kept | {workbook: list(head)}, indent=1).encode())
