"""What can go wrong with a backup, as sentences. The workbook itself is as it was."""

from pathlib import Path

from benchapp.operating_system import is_disk_full, is_read_only
from benchapp.words import say
from benchapp.workbook.model.problems import WorkbookProblem


class BackupProblem(WorkbookProblem):
    """A backup could not be written, read or taken away."""


class CheckStopped(WorkbookProblem):
    """Checking a backup was stopped by the person, or because the window closes."""

    def __init__(self, name: str) -> None:
        super().__init__(
            say("Checking {name} was stopped. It does not count as a backup until it has been checked.", name=name)
        )


def file_problem(folder: Path, error: OSError) -> BackupProblem:
    """The sentence for what the system met in the folder of backups."""
    if is_disk_full(error):
        return BackupProblem(say("The disk that holds {folder} is full. Make room, then back up again.", folder=folder))
    if is_read_only(error):
        return BackupProblem(say("{folder} cannot be written. Choose another folder for backups.", folder=folder))
    found = error.strerror or str(error)
    return BackupProblem(
        say(
            "{folder} cannot be used ({found}). Look whether the disk or stick of the backups is there.",
            folder=folder,
            found=found,
        )
    )
