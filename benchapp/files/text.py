"""The text of a file on disk, bounded: what is no plain file, too large or no UTF-8 is refused with a sentence."""

import stat
from pathlib import Path

from benchapp.errors import BenchError
from benchapp.files.locations import Complaint, FileProblems, Location
from benchapp.words import say

LONGEST_TEXT = 2_000_000
"""Characters; a file of the bench has a few thousand (own choice)."""
_MOST_BYTES = 4 * LONGEST_TEXT + 4
"""UTF-8 has at most four bytes for a character; the four more hold a byte order mark."""


def read_bytes(path: Path) -> bytes:
    """The bytes of a file, and no more of a larger one than shows it to be too large; raises BenchError.

    What is no plain file is never opened: a pipe would be waited for.
    """
    try:
        mode = path.stat().st_mode
        if not stat.S_ISREG(mode):
            raise OSError("is a directory" if stat.S_ISDIR(mode) else "is no plain file")
        with path.open("rb") as file:
            return file.read(_MOST_BYTES + 1)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise BenchError(
            say("{path} cannot be read: {reason}. Check the name and who may read it.", path=path, reason=reason)
        ) from error


def read_text(path: Path) -> str:
    """The text of a file; raises BenchError when it cannot be opened, FileProblems for one that is no text of ours."""
    content = read_bytes(path)
    if len(content) > _MOST_BYTES:
        what = f"more than {LONGEST_TEXT} characters are more than a file of the bench may have"
        raise _problem(path, 1, 1, what, f"at most {LONGEST_TEXT}")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        column = error.start - content.rfind(b"\n", 0, error.start)
        expected = "a text file saved as UTF-8"
        raise _problem(path, line, column, "this character is not UTF-8 text", expected) from error


def _problem(path: Path, line: int, column: int, what: str, expected: str) -> FileProblems:
    location = Location(file=str(path), line=line, column=column)
    return FileProblems([Complaint(location=location, what=what, expected=expected)])
