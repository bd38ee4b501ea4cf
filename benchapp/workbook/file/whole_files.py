"""Small files beside a workbook or in the user's data folder, written whole or not at all, and read again."""

import json
import os
import stat
from contextlib import suppress
from pathlib import Path
from typing import Any

from benchapp.operating_system import sync_folder


def write_whole(path: Path, content: bytes) -> None:
    """Put the content on disk under that name, in the place of an earlier one; raises OSError, then nothing is left."""
    draft = path.with_name(f".{path.name}.{os.getpid()}.draft")
    try:
        with draft.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        draft.replace(path)
        sync_folder(path.parent)
    finally:
        with suppress(OSError):
            draft.unlink(missing_ok=True)


def read_regular(path: Path) -> bytes:
    """A file's bytes; raises OSError, also for a pipe or a device, at which reading might never end."""
    mode = path.stat().st_mode
    if not stat.S_ISREG(mode) and not stat.S_ISDIR(mode):
        raise OSError("it is a pipe or a device, no file")
    return path.read_bytes()


def read_json(path: Path) -> Any:  # noqa: ANN401 (any JSON value)
    """What a JSON file says; raises OSError, and ValueError for what is no JSON or nested without end."""
    try:
        return json.loads(read_regular(path).decode("utf-8"))
    except RecursionError as error:
        raise ValueError("it is nested deeper than anything that is kept") from error
