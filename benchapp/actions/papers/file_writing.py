"""Files written whole or not at all: beside their place first, then moved into it."""

import errno
import os
from contextlib import suppress
from pathlib import Path
from tempfile import NamedTemporaryFile

from benchapp.actions.workbench.problems import ExportProblem

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_FORBIDDEN = {errno.EACCES, errno.EPERM, errno.EROFS}


def write_whole(path: Path, content: bytes) -> Path:
    """Put the content on disk under that name; an earlier file there stays until the new one is complete.

    Raises ExportProblem with a sentence; then nothing is left behind.
    """
    draft: Path | None = None
    try:
        _refuse_place(path)
        with NamedTemporaryFile(dir=path.parent, prefix=f".{path.name}.", delete=False) as file:
            draft = Path(file.name)
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        draft.chmod(0o644)
        draft.replace(path)
    except OSError as error:
        raise ExportProblem(_sentence(path, error)) from error
    finally:
        if draft is not None:
            with suppress(OSError):
                draft.unlink(missing_ok=True)
    return path


def _refuse_place(path: Path) -> None:
    if path.is_dir():
        raise ExportProblem(f"{path} is a folder. Give the name of a file in it.")
    if not path.parent.is_dir():
        raise ExportProblem(f"There is no folder {path.parent}. Make it first, or choose another place.")


def _sentence(path: Path, error: OSError) -> str:
    if error.errno in _FULL:
        return f"The disk that holds {path.parent} is full: {path.name} was not written. Make room, then try again."
    if error.errno in _FORBIDDEN:
        return f"{path.name} cannot be written: the folder {path.parent} is read-only. Choose another folder."
    return f"{path.name} could not be written to {path.parent} ({error.strerror}). Choose another place."
