"""What can go wrong with a backup, as sentences. The workbook itself is as it was."""

from pathlib import Path

from benchapp.operating_system import is_disk_full, is_read_only
from benchapp.workbook.problems import CopyProblem, DiskFull, ReadOnlyPlace, WorkbookProblem


class BackupProblem(WorkbookProblem):
    """A backup could not be written, read or taken away; the workbook itself is as it was."""


class CheckStopped(BackupProblem):
    """Writing or checking a backup was stopped by the person, or because the window closes."""

    def __init__(self, name: str) -> None:
        super().__init__(
            f"Backing up to {name} was stopped. The workbook is as it was; back up again when there is time."
        )


def file_problem(folder: Path, error: OSError) -> BackupProblem:
    """The sentence for what the system met in the folder of backups."""
    if is_disk_full(error):
        return _full(folder)
    return _shut(folder) if is_read_only(error) else _gone(folder, error.strerror or str(error))


def copy_problem(folder: Path, problem: WorkbookProblem) -> BackupProblem:
    """The sentence for what SQLite met where it wrote the copy."""
    if isinstance(problem, CopyProblem):
        return _full(folder) if problem.full else _gone(folder, problem.found)
    if isinstance(problem, DiskFull):
        return _full(folder)
    return _shut(folder) if isinstance(problem, ReadOnlyPlace) else _gone(folder, str(problem.__cause__ or ""))


def _full(folder: Path) -> BackupProblem:
    return BackupProblem(f"The disk that holds {folder} is full: no backup was made. Make room, then back up again.")


def _shut(folder: Path) -> BackupProblem:
    return BackupProblem(f"{folder} cannot be written: no backup was made. Choose another folder for backups.")


def _gone(folder: Path, found: str) -> BackupProblem:
    return BackupProblem(f"{folder} cannot be used ({found}). Look whether the disk or stick of the backups is there.")
