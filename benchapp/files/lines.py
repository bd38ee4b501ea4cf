"""Lines, columns and offsets of a text; what ends a line is what YAML 1.2 and libyaml take for its end."""

import re
from bisect import bisect_right

from benchapp.files.locations import Location

LINE_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")


def count_lines(text: str) -> int:
    """How many lines a text has."""
    return 1 + sum(map(text.count, "\n\r\x85\u2028\u2029")) - text.count("\r\n")


class Lines:
    """Turns libyaml's line and column (from 0) into places and offsets."""

    def __init__(self, source: str, text: str) -> None:
        self.source = source
        self.starts = [0, *(found.end() for found in LINE_BREAK.finditer(text))]
        self.length = len(text)

    def location(self, line: int, column: int) -> Location:
        """The place of a line and column counted from 0."""
        return Location(file=self.source, line=line + 1, column=column + 1)

    def location_at(self, offset: int) -> Location:
        """The place of the character before which so many others stand."""
        line = bisect_right(self.starts, offset) - 1
        return self.location(line, offset - self.starts[line])

    def offset(self, line: int, column: int) -> int:
        """How many characters stand before a line and column counted from 0."""
        if line >= len(self.starts):
            return self.length
        return min(self.starts[line] + column, self.length)
