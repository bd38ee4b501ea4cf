"""Backups in a folder: written whole or not at all, never in the place of another file, dropped by the age ladder.

A backup is a workbook like any other, named after the workbook and the time in UTC.
"""

import time
from contextlib import suppress
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

from benchapp.workbook.backup.ladder import Rung, backups_to_drop
from benchapp.workbook.backup.receipts import TIME, list_backups, receipt_of
from benchapp.workbook.file.sqlite import DRAFT, Cancel, Progress, copy_database
from benchapp.workbook.model.problems import AlreadyThere


def write_backup(
    source: Path, folder: Path, *, at: str, progress: Progress | None = None, cancelled: Cancel | None = None
) -> Path:
    """Copy the workbook into the folder by SQLite's online backup; the new file's path.

    It stands there whole or not at all, and never in the place of another. Raises WorkbookProblem.
    """
    when = datetime.fromisoformat(at).astimezone(UTC)
    name = f"{source.stem} {when.strftime(TIME)}Z"
    for number in count(1):
        target = folder / (f"{name}.workbook" if number == 1 else f"{name} {number}.workbook")
        with suppress(AlreadyThere):
            copy_database(source, target, progress, cancelled)
            return target
    raise AssertionError(name)


def drop_backups(folder: Path, *, workbook: str, now: str) -> tuple[Path, ...]:
    """Take away those backups of one workbook that the ladder no longer keeps; their paths."""
    backups = [one for one in list_backups(folder, workbook=workbook) if one.receipt is not None]
    rungs = [Rung(name=one.path.name, at=one.at, sound=one.sound) for one in backups]
    gone = backups_to_drop(datetime.fromisoformat(now), rungs)
    dropped = tuple(one.path for one in backups if one.path.name in gone)
    for path in dropped:
        _remove(path)
        _remove(receipt_of(path))
    return dropped


def remove_left_drafts(folder: Path) -> None:
    """Take away what a copy that was cut off has left; one younger than a day may still be being written."""
    for draft in folder.glob(f"{DRAFT[0]}*{DRAFT[1]}"):
        with suppress(OSError):
            if time.time() - draft.stat().st_mtime > 24 * 3600:
                draft.unlink()


def _remove(path: Path) -> None:
    with suppress(OSError):
        path.unlink(missing_ok=True)
