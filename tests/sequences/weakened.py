"""The shipped files with one of them written otherwise, as an author or an attacker might."""

from pathlib import Path

from benchapp.files.locations import FileProblems
from benchapp.sequences.planning.catalogue import Catalogue
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Plan
from tests.people import staffed
from tests.sequences.loaded import load_catalogue

ROOT = Path(__file__).parents[2]


def rewritten(folder: Path, name: str, *edits: tuple[str, str]) -> Catalogue:
    """The catalogue with these words of one shipped file replaced; its worked cases are left out."""
    text = (ROOT / name).read_text(encoding="utf-8").partition("\nworked cases:")[0] + "\n"
    for before, after in edits:
        assert before in text, before
        text = text.replace(before, after, 1)
    (folder / Path(name).name).write_text(text, encoding="utf-8")
    return load_catalogue(folder)


def complaints(folder: Path, name: str, *edits: tuple[str, str]) -> str:
    """What the check of the files says of the change, one complaint a line; empty when it finds nothing."""
    try:
        rewritten(folder, name, *edits)
    except FileProblems as problems:
        return "\n".join(str(one) for one in problems.complaints)
    return ""


def plan_with(
    folder: Path, name: str, *edits: tuple[str, str], route: str = "mains-unit", equipment: str = "tb-mu1"
) -> Plan:
    """The plan of a shipped route with one file changed."""
    return make_plan(rewritten(folder, name, *edits), route, equipment, staffed())
