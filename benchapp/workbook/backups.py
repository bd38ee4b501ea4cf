"""Backups in a folder: written whole or not at all, never in the place of another file, dropped by the age ladder.

A backup is a workbook like any other, named after the workbook and the time in UTC.
"""

import os
from datetime import UTC, datetime
from pathlib import Path

from benchapp.workbook.backup_ladder import Rung, backups_to_drop
from benchapp.workbook.backup_problems import copy_problem, file_problem
from benchapp.workbook.backup_receipts import TIME, Cancelled, list_backups, receipt_of, stop_if
from benchapp.workbook.opening import back_up
from benchapp.workbook.problems import CopyProblem, DiskFull, ReadOnlyPlace, StorageTrouble
from benchapp.workbook.whole_files import sync_folder


def write_backup(source: Path, folder: Path, *, at: str, cancelled: Cancelled | None = None) -> Path:
    """Copy the workbook into the folder by SQLite's online backup; the new file's path.

    It stands there whole or not at all, and never in the place of another. Raises WorkbookProblem, CheckStopped.
    """
    when = datetime.fromisoformat(at).astimezone(UTC)
    target = folder / f"{source.stem} {when.strftime(TIME)}Z.workbook"
    draft = folder / f".{target.name}.{os.getpid()}.draft"
    try:
        folder.stat()
        draft.unlink(missing_ok=True)
        back_up(source, draft)
        stop_if(target, cancelled)
        with draft.open("rb+") as file:
            os.fsync(file.fileno())
        target = _put_in_place(draft, target)
        sync_folder(folder)
    except OSError as error:
        raise file_problem(folder, error) from error
    except (CopyProblem, DiskFull, ReadOnlyPlace, StorageTrouble) as problem:  # what SQLite met where it wrote the copy
        raise copy_problem(folder, problem) from problem
    finally:
        _remove(draft)
    return target


def _put_in_place(draft: Path, target: Path) -> Path:
    """Give the draft its name without ever replacing a file; another number behind it where the name is taken."""
    number, wanted = 1, target
    while True:
        try:
            os.link(draft, target)  # fails where there is a file, unlike a rename
        except FileExistsError:
            number += 1
            target = wanted.with_name(f"{wanted.stem} {number}{wanted.suffix}")
        except OSError:  # a stick formatted with FAT has no second names
            if not target.exists():
                return draft.rename(target)
            number += 1
            target = wanted.with_name(f"{wanted.stem} {number}{wanted.suffix}")
        else:
            return target


def remove_old_drafts(folder: Path, *, now: datetime) -> None:
    """Take away what a backup that was cut off has left; a draft younger than a day may still be being written."""
    for draft in folder.glob(".*.workbook.*.draft"):
        if now.timestamp() - draft.stat().st_mtime > 24 * 3600:
            _remove(draft)


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


def _remove(path: Path) -> None:
    try:
        path.unlink(missing_ok=True)
    except OSError:
        return
