"""Lines, columns and offsets of a text; what ends a line is what YAML 1.2 and libyaml take for its end."""

import re

from benchapp.files.locations import Location

LINE_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")


class Lines:
    """Turns libyaml's line and column (from 0) into places and offsets."""

    def __init__(self, source: str, text: str) -> None:
        self.source = source
        self.starts = [0, *(found.end() for found in LINE_BREAK.finditer(text))]
        self.length = len(text)

    def location(self, line: int, column: int) -> Location:
        """The place of a line and column counted from 0."""
        return Location(file=self.source, line=line + 1, column=column + 1)

    def offset(self, line: int, column: int) -> int:
        """How many characters stand before a line and column counted from 0."""
        if line >= len(self.starts):
            return self.length
        return min(self.starts[line] + column, self.length)
