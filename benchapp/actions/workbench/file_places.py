"""Where a file is to be written for people: what is wrong with the place, in a sentence, whatever the file holds."""

from pathlib import Path

from benchapp.actions.workbench.problems import ExportProblem
from benchapp.operating_system import is_disk_full, is_read_only
from benchapp.words import say


def refuse_folders(path: Path) -> None:
    """Raise ExportProblem where a folder is named in place of a file, or the file's folder is not there."""
    if path.is_dir():
        raise ExportProblem(say("{path} is a folder. Give the name of a file in it.", path=path))
    if not path.parent.is_dir():
        raise ExportProblem(
            say("There is no folder {parent}. Make it first, or choose another place.", parent=path.parent)
        )


def not_written(path: Path, error: OSError) -> ExportProblem:
    """Why the file could not be written, and what to do."""
    if is_disk_full(error):
        return ExportProblem(
            say(
                "The disk that holds {parent} is full: {name} was not written. Make room, then try again.",
                parent=path.parent,
                name=path.name,
            )
        )
    if is_read_only(error):
        return ExportProblem(
            say(
                "{name} cannot be written: the folder {parent} is read-only. Choose another folder.",
                name=path.name,
                parent=path.parent,
            )
        )
    return ExportProblem(
        say(
            "{name} could not be written to {parent} ({strerror}). Choose another place.",
            name=path.name,
            parent=path.parent,
            strerror=error.strerror or error,
        )
    )
