"""The text of a YAML file read into data, with the place of every value.

libyaml splits the text into events (it knows quoting, indentation and block text); what the words mean is decided by
`scalars`. Left out of YAML on purpose, because they surprise people who write files by hand: aliases, tags, tabs,
repeated keys, several documents in one file.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import yaml

from benchapp.files.document import Document
from benchapp.files.lines import Lines, count_lines
from benchapp.files.locations import MOST_COMPLAINTS, Complaint, FileProblems, Location
from benchapp.files.syntax import syntax_complaint
from benchapp.files.text import LONGEST_TEXT, read_text
from benchapp.files.tree import TreeBuilder
from benchapp.words import say

MOST_LINES = 100_000
"""A file of the bench has a few hundred (own choice)."""


def read_document(path: Path) -> Document:
    """Read a file; raises BenchError when it cannot be opened, FileProblems when it is not as it should be."""
    return parse_document(read_text(path), str(path))


def parse_document(text: str, source: str) -> Document:
    """Read the text of a file; raises FileProblems with all that is wrong (a syntax error alone)."""
    lines = _lines_of(text, source)
    _refuse_unreadable(text, lines)
    builder = TreeBuilder(lines)
    try:
        for event in yaml.parse(text, Loader=yaml.CBaseLoader):
            builder.take(event)
    except yaml.YAMLError as error:
        raise FileProblems([syntax_complaint(error, lines)]) from error
    if builder.complaints:
        raise FileProblems(builder.complaints)
    return Document(
        source=source,
        text=text,
        data=builder.result,
        locations=builder.locations,
        key_locations=builder.key_locations,
        spans=builder.spans,
    )


_TAB = re.compile("\t")
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


def _lines_of(text: str, source: str) -> Lines:
    """The lines of a text that is no longer than a file of the bench may be."""
    if len(text) > LONGEST_TEXT:
        raise _too_much(source, say("{count} character(s)", count=len(text)), f"at most {LONGEST_TEXT}")
    if (lines := count_lines(text)) > MOST_LINES:
        raise _too_much(source, say("{count} line(s)", count=lines), f"at most {MOST_LINES}")
    return Lines(source, text)


def _too_much(source: str, what: str, expected: str) -> FileProblems:
    location = Location(file=source, line=1, column=1)
    said = say("{what} are more than a file of the bench may have", what=what)
    return FileProblems([Complaint(location=location, what=said, expected=expected)])


def _refuse_unreadable(text: str, lines: Lines) -> None:
    """Complain about the first tab and the first character that cannot be shown of each line."""
    complaints = [
        Complaint(location=location, what="a tab stands here", expected="spaces")
        for location, _ in _first_of_each_line(_TAB, text, lines)
    ]
    for location, letter in _first_of_each_line(_UNPRINTABLE, text, lines):
        what = f"the character U+{ord(letter):04X} cannot be shown"
        complaints.append(Complaint(location=location, what=what, expected="plain text"))
    if complaints:
        raise FileProblems(complaints)


def _first_of_each_line(pattern: re.Pattern[str], text: str, lines: Lines) -> Iterator[tuple[Location, str]]:
    """Where the pattern is found first in each line, and what; no more of them than are explained at once."""
    start = 0
    for _ in range(MOST_COMPLAINTS):
        found = pattern.search(text, start)
        if found is None:
            return
        location = lines.location_at(found.start())
        yield location, found.group()
        start = lines.offset(location.line, 0)
