"""Papers as files: whole or not at all, and never in the place of what is not a paper of this program."""

import os
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import TYPE_CHECKING

from benchapp.actions.workbench.file_places import not_written, refuse_folders
from benchapp.actions.workbench.problems import ExportProblem
from benchapp.operating_system import sync_folder
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.paper.content import PaperKind

KEPT_ENDINGS = (".workbook", "-wal", "-shm", "-journal")
"""how the names of workbooks end, and of what SQLite keeps beside them: no paper is called so, there or not"""


def write_whole(path: Path, content: bytes, kind: "PaperKind") -> Path:
    """Put a paper on disk under that name; an earlier one of its kind there stays until the new one is complete.

    Raises ExportProblem with a sentence; then nothing is left behind and what stood there is as it was.
    """
    stood_there = refuse_place(path, kind)
    draft: Path | None = None
    try:
        with NamedTemporaryFile(dir=path.parent, prefix=".paper-", delete=False) as file:
            draft = Path(file.name)
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        draft.chmod(0o644)
        if not stood_there:
            path.open("xb").close()  # a file that came meanwhile is nobody's to replace
        draft.replace(path)
        sync_folder(path.parent)
    except FileExistsError as error:
        raise ExportProblem(_foreign(path, kind)) from error
    except OSError as error:
        raise not_written(path, error) from error
    finally:
        if draft is not None:
            with suppress(OSError):
                draft.unlink(missing_ok=True)
    return path


def refuse_place(path: Path, kind: "PaperKind") -> bool:
    """Raise ExportProblem where a paper of that kind may not stand; whether an earlier one of its kind stands there."""
    try:
        return _refuse_place(path, kind)
    except OSError as error:
        raise not_written(path, error) from error


def _refuse_place(path: Path, kind: "PaperKind") -> bool:
    refuse_folders(path)
    if path.is_symlink():
        raise ExportProblem(
            say(
                "{path} is a link to {readlink}. Give the name of a file, not of a link to one.",
                path=path,
                readlink=path.readlink(),
            )
        )
    if path.name.endswith(KEPT_ENDINGS):
        raise ExportProblem(
            say(
                "{name} would be the name of a workbook, or of what belongs to one. Give a name that ends in .pdf.",
                name=path.name,
            )
        )
    if _is_within_program(path):
        raise ExportProblem(say("{path} is among the files of this program. Choose a place of your own.", path=path))
    if not path.exists():
        return False
    from benchapp.paper.drawing.pictures import is_document

    if not path.is_file() or not is_document(path, kind):
        raise ExportProblem(_foreign(path, kind))
    return True


def _is_within_program(path: Path) -> bool:
    import benchapp
    from benchapp.files.shipped import shipped_folder

    own = (Path(benchapp.__file__).parent, shipped_folder("sequences"), shipped_folder("resources"))
    return any(path.parent.resolve().is_relative_to(folder.resolve()) for folder in own)


def _foreign(path: Path, kind: "PaperKind") -> str:
    return say(
        "There is a file {path} already that is no {kind} of this program: it was left as it is. "
        "Choose another name, or put that file elsewhere.",
        path=path,
        kind=kind,
    )
