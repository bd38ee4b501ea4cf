"""Where this computer's bench keeps its backups, and the last sound one of each workbook; outside of every workbook.

The folder bears a mark of its own, a small file. A stick that is not there, or another one in its place, is told by
it: an empty mount point is a folder too, and takes what was meant for the stick.
"""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any
from uuid import uuid4

from benchapp.operating_system import data_folder
from benchapp.words import say
from benchapp.workbook.backup.problems import BackupProblem, file_problem
from benchapp.workbook.file.whole_files import read_json, write_whole

FILE = "backups.json"
MARK = "benchapp-backups.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class LastBackup:
    """The last sound backup of one workbook: when, where, and what it holds."""

    at: str
    folder: str
    name: str
    entries: int
    recorded: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BackupSettings:
    """The folder that the workshop has named (empty: none yet), the marks it knows, last backups by workbook UUID."""

    folder: str = ""
    marks: tuple[str, ...] = ()
    last: Mapping[str, LastBackup] = field(default_factory=dict)


def read_settings() -> BackupSettings:
    """This bench's settings; those of a new one where there are none, or none that can be read."""
    try:
        kept: dict[str, Any] = read_json(data_folder() / FILE)
        last = {str(workbook): LastBackup(**fields) for workbook, fields in kept["last"].items()}
        return BackupSettings(folder=str(kept["folder"]), marks=tuple(map(str, kept["marks"])), last=last)
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return BackupSettings()


def keep_settings(settings: BackupSettings) -> None:
    """Keep them for this computer's user; raises BackupProblem."""
    path = data_folder() / FILE
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, json.dumps(asdict(settings), indent=1, ensure_ascii=False).encode())
    except OSError as error:
        found = error.strerror or str(error)
        raise BackupProblem(
            say("{path} cannot be written ({found}): where backups go is not kept.", path=path, found=found)
        ) from error


def remember(workbook: str, last: LastBackup) -> None:
    """Keep which backup of a workbook was the last sound one."""
    settings = read_settings()
    keep_settings(replace(settings, last={**settings.last, workbook: last}))


def name_folder(folder: Path, *, workbook: Path) -> str:
    """Let backups go to that folder from now on; it is made where only itself is missing. A sentence for the person.

    Raises BackupProblem.
    """
    folder = folder.expanduser().absolute()
    if folder.exists() and not folder.is_dir():
        raise BackupProblem(say("{folder} is a file. Name a folder for backups.", folder=folder))
    if not folder.parent.is_dir():
        raise BackupProblem(
            say("There is no folder {parent}. Look whether the disk or stick is there.", parent=folder.parent)
        )
    try:
        folder.mkdir(exist_ok=True)
        mark = _mark_of(folder) or str(uuid4())
        write_whole(folder / MARK, json.dumps({"folder": mark}).encode())
    except OSError as error:
        raise file_problem(folder, error) from error
    settings = read_settings()
    marks = (*(known for known in settings.marks if known != mark), mark)
    keep_settings(replace(settings, folder=str(folder), marks=marks))
    words = f"Backups go to {folder}."
    return words + (
        " It is on the workbook's own disk: a broken disk takes both." if _one_disk(folder, workbook) else ""
    )


def usable_folder() -> Path:
    """The folder that was named; raises BackupProblem where none is, or where it cannot be used now."""
    settings = read_settings()
    if not settings.folder:
        raise BackupProblem("No folder for backups is named on this computer. Name one: a second disk, or a stick.")
    if gone := missing(settings):
        raise BackupProblem(gone)
    return Path(settings.folder)


def missing(settings: BackupSettings) -> str:
    """Why the named folder cannot be used now, as a sentence; empty where it can, or where none is named."""
    if not settings.folder:
        return ""
    folder = Path(settings.folder)
    try:
        if not folder.is_dir():
            return say(
                "The folder for backups, {folder}, is not there: plug the disk or stick in, or name another folder.",
                folder=folder,
            )
        mark = _mark_of(folder)
    except OSError as error:
        return say(
            "The folder for backups, {folder}, cannot be read ({strerror}). Look at the disk or stick.",
            folder=folder,
            strerror=error.strerror,
        )
    if mark in settings.marks:
        return ""
    return say(
        "{folder} is there, but it is not the folder that was named for backups: the stick is "
        "not in, or it is another one. Plug it in, or name this folder again.",
        folder=folder,
    )


def _mark_of(folder: Path) -> str:
    """The mark of a folder, empty where it has none; raises OSError for one that cannot be read."""
    try:
        return str(read_json(folder / MARK)["folder"])
    except (FileNotFoundError, ValueError, TypeError, KeyError):
        return ""


def _one_disk(folder: Path, workbook: Path) -> bool:
    try:
        return folder.stat().st_dev == workbook.stat().st_dev
    except OSError:
        return False
