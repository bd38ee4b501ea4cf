"""Where something stands in a file, and what is wrong there.

Lines and columns count from 1, columns in characters, as editors show them.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from benchapp.errors import BenchError

Key = tuple[str | int, ...]
"""The way to a value from the top of a file: names of keys and positions in lists (from 0)."""
MOST_COMPLAINTS = 200
"""Mistakes of one file that are explained at once: a file with more is of another kind altogether (own choice)."""
_LONGEST_WORDS = 400
"""Characters of one complaint; what is longer quotes a text that nobody reads to its end (own choice)."""
AND_SO_ON = "more things are wrong from here on; mend the others first"


@dataclass(frozen=True, slots=True, kw_only=True)
class Location:
    """A point in a file."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"

    def moved(self, columns: int) -> "Location":
        """The place that many characters further along the same line."""
        return Location(file=self.file, line=self.line, column=self.column + columns)


@dataclass(frozen=True, slots=True, kw_only=True)
class Complaint:
    """One thing that is wrong in a file: where, what, and as far as known what should stand there."""

    location: Location
    what: str
    expected: str = ""
    nearest: str = ""

    def __str__(self) -> str:
        line = f"{self.location}: {_cut(self.what)}"
        if self.expected:
            line += f"; expected {_cut(self.expected)}"
        if self.nearest:
            line += f"; did you mean {self.nearest}?"
        return line


def _cut(words: str) -> str:
    return words if len(words) <= _LONGEST_WORDS else f"{words[:_LONGEST_WORDS]}…"


class Mistake(BenchError):
    """What a validator of a file's model found: what is wrong, what was expected, and the spelling probably meant.

    `key` leads from the value that was checked to the spot inside it that is wrong.
    """

    def __init__(self, what: str, *, expected: str = "", nearest: str = "", key: Key = ()) -> None:
        more = f"; expected {expected}" if expected else ""
        super().__init__(f"{what}{more}." + (f" Did you mean {nearest}?" if nearest else ""))
        self.what = what
        self.expected = expected
        self.nearest = nearest
        self.key = key


class FileProblems(BenchError):
    """Everything that is wrong with a file, in the order of its lines (a syntax error stands alone)."""

    def __init__(self, complaints: Iterable[Complaint]) -> None:
        ordered = sorted(complaints, key=lambda one: (one.location.file, one.location.line, one.location.column))
        self.complaints: tuple[Complaint, ...] = tuple(ordered)
        super().__init__("\n".join(str(complaint) for complaint in self.complaints))
