"""The text of a YAML file read into data, with the place of every value.

libyaml splits the text into events (it knows quoting, indentation and block text); what the words mean is decided by
`scalars`. Left out of YAML on purpose, because they surprise people who write files by hand: aliases, tags, tabs,
repeated keys, several documents in one file.
"""

import re
from pathlib import Path

import yaml

from benchapp.errors import BenchError
from benchapp.files.document import Document
from benchapp.files.lines import LINE_BREAK, Lines
from benchapp.files.locations import Complaint, FileProblems, Location
from benchapp.files.syntax import syntax_complaint
from benchapp.files.tree import TreeBuilder

LONGEST_TEXT = 2_000_000
"""Characters; a file of the bench has a few thousand (own choice)."""
_MOST_BYTES = 4 * LONGEST_TEXT + 4


def read_document(path: Path) -> Document:
    """Read a file; raises BenchError when it cannot be opened, FileProblems when it is not as it should be."""
    try:
        with path.open("rb") as file:
            content = file.read(_MOST_BYTES)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise BenchError(f"{path} cannot be read: {reason}. Check the name and who may read it.") from error
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        column = error.start - content.rfind(b"\n", 0, error.start)
        complaint = Complaint(
            location=Location(file=str(path), line=line, column=column),
            what="this character is not UTF-8 text",
            expected="a text file saved as UTF-8",
        )
        raise FileProblems([complaint]) from error
    return parse_document(text, str(path))


def parse_document(text: str, source: str) -> Document:
    """Read the text of a file; raises FileProblems with all that is wrong (a syntax error alone)."""
    lines = Lines(source, text)
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


_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


def _refuse_unreadable(text: str, lines: Lines) -> None:
    if len(text) > LONGEST_TEXT:
        what = f"{len(text)} characters are more than a file of the bench may have"
        raise FileProblems([Complaint(location=lines.location(0, 0), what=what, expected=f"at most {LONGEST_TEXT}")])
    complaints = []
    for number, line in enumerate(LINE_BREAK.split(text)):
        if "\t" in line:
            location = lines.location(number, line.index("\t"))
            complaints.append(Complaint(location=location, what="a tab stands here", expected="spaces"))
        if found := _UNPRINTABLE.search(line):
            location = lines.location(number, found.start())
            what = f"the character U+{ord(found.group()):04X} cannot be shown"
            complaints.append(Complaint(location=location, what=what, expected="plain text"))
    if complaints:
        raise FileProblems(complaints)
