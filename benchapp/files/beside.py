"""Where are an author's own files: those beside the file at hand, that fit together with it?

The one place that knows: `check`, `expect`, `plan`, `locate`, `pins` and a workbook all look here. A file's own folder
is the one that holds it, or the one above where its folder is named after a kind ("equipment", "connectors").
"""

import re
from collections.abc import Iterable
from pathlib import Path

KIND_FOLDERS = ("cautions", "connectors", "equipment", "limits", "meters", "repairs", "sequences")
"""Folders of one kind of file each, as what is shipped has them."""
_OUTER = ("resources", "routes")
_KEYS = ("route", "sequence", "equipment", "connector", "meter", "limits", "caution", "repairs")
"""What a file can be; of several such keys the first one here says it."""
_SAYS_WHAT_IT_IS = re.compile(
    rf"^(?P<kind>{'|'.join(_KEYS)}) *: *['\"]?(?P<id>[^'\"#\n]*?)['\"]? *(?:#.*)?$", re.MULTILINE
)


def own_folder(file: Path) -> Path:
    """The folder in which the author of this file (or folder) keeps what goes with it."""
    folder = (file if file.is_dir() else file.parent).absolute()
    while folder.name in (*KIND_FOLDERS, *_OUTER) and folder != folder.parent:
        folder = folder.parent
    return folder


def own_files(folder: Path) -> tuple[Path, ...]:
    """The files of ours in it and in its folders of one kind; other people's YAML is left alone."""
    inside = [folder, folder / "sequences" / "routes"]
    for outer in (folder, folder / "resources"):
        inside += [outer / kind for kind in KIND_FOLDERS]
    found = (path for location in inside for ending in ("*.yaml", "*.yml") for path in sorted(location.glob(ending)))
    return tuple(path for path in dict.fromkeys(found) if said_of(path) is not None)


def said_of(path: Path) -> tuple[str, str] | None:
    """What a file says it is, and its id, by a look at its text alone; None for a file that is none of ours."""
    try:
        text = path.read_text(encoding="utf-8-sig", errors="replace") if path.is_file() else ""
    except OSError:
        return None
    found = min(_SAYS_WHAT_IT_IS.finditer(text), key=lambda one: _KEYS.index(one["kind"]), default=None)
    return (found["kind"], found["id"].strip()) if found else None


def own_by_id(kind: str, folders: Iterable[Path]) -> dict[str, Path]:
    """The author's own files of one kind by their ids; of two with one id the last."""
    found: dict[str, Path] = {}
    for folder in folders:
        for path in own_files(folder):
            said = said_of(path)
            if said is not None and said[0] == kind:
                found[said[1]] = path
    return found
