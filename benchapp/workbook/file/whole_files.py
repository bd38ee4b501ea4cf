"""Small files beside a workbook or in the user's data folder, written whole or not at all."""

import os
from contextlib import suppress
from pathlib import Path

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
