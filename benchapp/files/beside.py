"""Files by what they say they are: those that come with the program, and an author's own beside the file at hand.

The one place that knows: `check`, `expect`, `plan`, `locate`, `pins` and a workbook all look here. A file's own folder
is the one that holds it, or the one above where its folder is named after a kind ("equipment", "connectors").
"""

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from benchapp.errors import BenchError
from benchapp.files.shipped import shipped_folder
from benchapp.files.text import read_bytes

KIND_FOLDERS = ("cautions", "connectors", "equipment", "hazards", "labels", "limits", "meters", "repairs", "sequences")
"""Folders of one kind of file each, as what is shipped has them."""
_OUTER = ("resources", "routes")
KEYS = (
    "route",
    "sequence",
    "equipment",
    "connector",
    "meter",
    "limits",
    "caution",
    "repairs",
    "hazard",
    "label sheet",
    "stored readings",
)
"""What a file can be; of several such keys the first one here says it."""
_SAYS_WHAT_IT_IS = re.compile(rf"^(?P<kind>{'|'.join(KEYS)}) *:(?P<id>[^\n]{{0,200}})", re.MULTILINE)
_ID = re.compile(r"['\"]?([^'\"#]*)")


def own_folder(file: Path) -> Path:
    """The folder in which the author of this file (or folder) keeps what goes with it."""
    folder = (file if file.is_dir() else file.parent).absolute()
    while folder.name in (*KIND_FOLDERS, *_OUTER) and folder != folder.parent:
        folder = folder.parent
    return folder


def own_files(folder: Path) -> tuple[Path, ...]:
    """The files of ours in it and in its folders of one kind; other people's YAML is left alone."""
    return tuple(path for path, _ in _said_in(folder))


def files_by_id(kind: str, folders: Iterable[Path] = ()) -> dict[str, Path]:
    """The files of one kind of resource ("meter") by the ids that they state: the shipped ones, then the folders'.

    Of two with one id the last counts, so that an author's own file takes the place of a shipped one.
    """
    every = (shipped_folder("resources"), *folders)
    return {ident: path for folder in every for path, (said, ident) in _said_in(folder) if said == kind}


def _said_in(folder: Path) -> Iterator[tuple[Path, tuple[str, str]]]:
    """The files of ours in a folder and in its folders of one kind, each with what it says it is, and its id."""
    inside = [folder, folder / "sequences" / "routes"]
    for outer in (folder, folder / "resources"):
        inside += [outer / kind for kind in KIND_FOLDERS]
    found = (path for location in inside for ending in ("*.yaml", "*.yml") for path in sorted(location.glob(ending)))
    for path in dict.fromkeys(found):
        said = _said_of(path)
        if said is not None:
            yield path, said


def _said_of(path: Path) -> tuple[str, str] | None:
    """What a file says it is, and its id, by a look at its text alone; None for a file that is none of ours.

    What cannot be read says neither: it may be ours, and whoever reads it on will hear why it cannot be.
    """
    try:
        content = read_bytes(path)
    except BenchError:
        return "", ""
    plain = content.replace(b"\0", b"").replace(b"\r", b"\n")  # UTF-16 has a mark before and zeros between letters
    return said_in(plain.decode("utf-8-sig", errors="replace").lstrip("\ufffd"))


def said_in(text: str) -> tuple[str, str] | None:
    """What the text of a file says it is, and its id, without reading the rest; None for one that is none of ours."""
    found = min(_SAYS_WHAT_IT_IS.finditer(text), key=lambda one: KEYS.index(one["kind"]), default=None)
    if found is None:
        return None
    ident = _ID.match(found["id"].strip())
    return found["kind"], ident[1].strip() if ident else ""
