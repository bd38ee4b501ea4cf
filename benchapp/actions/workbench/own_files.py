"""Files of the workshop's own, written by the program: whole or not at all, and never over one that is there."""

from pathlib import Path

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.files.locations import FileProblems
from benchapp.words import say


def write_own_file(bench: Bench, folder: str, name: str, text: str) -> Path:
    """Write the text into that folder beside the workbook; raises Refused where it cannot be, with what to do."""
    path = bench.path.parent / folder / f"{name}.yaml"
    if path.exists():
        raise Refused(say("{path} is there already. Give it another name.", path=path))
    try:
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise Refused(say("{path} could not be written: {why}.", path=path, why=error.strerror)) from error
    return path


def first_complaint(problems: FileProblems) -> str:
    """What is wrong first with a text that nobody has seen as a file, as a sentence."""
    first = problems.complaints[0]
    expected = say(" Expected: {expected}.", expected=first.expected) if first.expected else ""
    return f"{first.what.rstrip('.')}.{expected}"
