"""Where something stands in a file, and what is wrong there.

Lines and columns count from 1, columns in characters, as editors show them.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from benchapp.errors import BenchError

Key = tuple[str | int, ...]
"""The way to a value from the top of a file: names of keys and positions in lists (from 0)."""


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
        line = f"{self.location}: {self.what}"
        if self.expected:
            line += f"; expected {self.expected}"
        if self.nearest:
            line += f"; did you mean {self.nearest}?"
        return line


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
