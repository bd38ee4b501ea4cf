"""What does the text of a YAML file hold, and where does each value stand?

libyaml splits the text into events (it knows quoting, indentation and block text); what the words mean is decided by
`scalars`. Left out of YAML on purpose, because they surprise people who write files by hand: aliases, tags, tabs,
repeated keys, several documents in one file.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import yaml

from benchapp.errors import BenchError
from benchapp.files.places import Complaint, FileProblems, Key, Place
from benchapp.files.scalars import read_plain

LONGEST_TEXT = 2_000_000
"""Characters; a file of the bench has a few thousand (own choice)."""
DEEPEST = 40
"""Levels of nesting; a file of the bench has about six (own choice)."""
_LINE_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")


@dataclass(frozen=True, kw_only=True)
class Document:
    """A file as read: its text, its data (dicts, lists, text, numbers, truth, None) and where each value stands.

    `spans` gives the offsets in the text at which each value begins and ends, `key_places` where a key's name stands.
    """

    source: str
    text: str
    data: Any
    places: Mapping[Key, Place]
    key_places: Mapping[Key, Place]
    spans: Mapping[Key, tuple[int, int]]

    def place(self, key: Key) -> Place:
        """Where the value stands, or the nearest thing around it that is written down."""
        while key and key not in self.places:
            key = key[:-1]
        return self.places.get(key) or Place(file=self.source, line=1, column=1)

    def key_place(self, key: Key) -> Place:
        """Where the name of a key stands; for a list's entry, where the entry stands."""
        return self.key_places.get(key) or self.place(key)

    @cached_property
    def words(self) -> frozenset[Key]:
        """The keys whose value is a plain word on one line, so that a position inside it can be pointed at."""
        return frozenset(
            key
            for key, (start, end) in self.spans.items()
            if self.text[start : start + 1] not in ("'", '"', "|", ">", "[", "{") and "\n" not in self.text[start:end]
        )


def read_document(path: Path) -> Document:
    """Read a file; raises BenchError when it cannot be opened, FileProblems when it is not as it should be."""
    try:
        content = path.read_bytes()
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise BenchError(f"{path} cannot be read: {reason}. Check the name and who may read it.") from error
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        column = error.start - content.rfind(b"\n", 0, error.start)
        complaint = Complaint(
            place=Place(file=str(path), line=line, column=column),
            what="this character is not UTF-8 text",
            expected="a text file saved as UTF-8",
        )
        raise FileProblems([complaint]) from error
    return parse_document(text, str(path))


def parse_document(text: str, source: str) -> Document:
    """Read the text of a file; raises FileProblems with all that is wrong (a syntax error alone)."""
    lines = _Lines(source, text)
    _refuse_unreadable(text, lines)
    builder = _Builder(lines)
    try:
        for event in yaml.parse(text, Loader=yaml.CBaseLoader):
            builder.take(event)
    except yaml.YAMLError as error:
        raise FileProblems([_syntax_complaint(error, lines)]) from error
    if builder.complaints:
        raise FileProblems(builder.complaints)
    return Document(
        source=source,
        text=text,
        data=builder.result,
        places=builder.places,
        key_places=builder.key_places,
        spans=builder.spans,
    )


def _syntax_complaint(error: yaml.YAMLError, lines: "_Lines") -> Complaint:
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    place = lines.place(*_position(mark)) if mark else lines.place(0, 0)
    what = str(getattr(error, "problem", None) or error)
    return Complaint(place=place, what=f"the text breaks off here: {what}", expected=_SYNTAX_HELP.get(what, ""))


_SYNTAX_HELP = {
    "mapping values are not allowed in this context": "quotes round a text that holds a colon and a space",
    "did not find expected key": "the same indentation as the lines above",
    "did not find expected '-' indicator": "the same indentation as the other entries of this list",
    "found character that cannot start any token": "quotes round a text that begins with @, ` or %",
    "could not find expected ':'": "a colon and a space after the name of a key",
}


class _Lines:
    """Turns libyaml's line and column (from 0) into places and offsets."""

    def __init__(self, source: str, text: str) -> None:
        self.source = source
        self.starts = [0, *(found.end() for found in _LINE_BREAK.finditer(text))]
        self.length = len(text)

    def place(self, line: int, column: int) -> Place:
        return Place(file=self.source, line=line + 1, column=column + 1)

    def offset(self, line: int, column: int) -> int:
        if line >= len(self.starts):
            return self.length
        return min(self.starts[line] + column, self.length)


_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


def _refuse_unreadable(text: str, lines: _Lines) -> None:
    if len(text) > LONGEST_TEXT:
        what = f"{len(text)} characters are more than a file of the bench may have"
        raise FileProblems([Complaint(place=lines.place(0, 0), what=what, expected=f"at most {LONGEST_TEXT}")])
    complaints = []
    for number, line in enumerate(_LINE_BREAK.split(text)):
        if "\t" in line:
            place = lines.place(number, line.index("\t"))
            complaints.append(Complaint(place=place, what="a tab stands here", expected="spaces"))
        if found := _UNPRINTABLE.search(line):
            place = lines.place(number, found.start())
            what = f"the character U+{ord(found.group()):04X} cannot be shown"
            complaints.append(Complaint(place=place, what=what, expected="plain text"))
    if complaints:
        raise FileProblems(complaints)


class _Open:
    """A mapping or list whose end has not come yet."""

    __slots__ = ("key", "name", "value")

    def __init__(self, key: Key, value: dict[str, Any] | list[Any]) -> None:
        self.key = key
        self.value = value
        self.name: str | None = None


class _Builder:
    """Takes libyaml's events one by one and keeps data, places, spans and complaints."""

    def __init__(self, lines: _Lines) -> None:
        self.lines = lines
        self.result: Any = None
        self.places: dict[Key, Place] = {}
        self.key_places: dict[Key, Place] = {}
        self.spans: dict[Key, tuple[int, int]] = {}
        self.complaints: list[Complaint] = []
        self._open: list[_Open] = []
        self._documents = 0
        self._skipping = 0

    def take(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.DocumentStartEvent):
            self._documents += 1
            if self._documents > 1:
                self._complain(event, "a second document begins here", "one document in a file")
        elif self._documents == 1:
            self._take_node(event)

    def _take_node(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.CollectionEndEvent):
            self._close(event)
        elif isinstance(event, yaml.NodeEvent):
            self._refuse_extras(event)
            if self._skipping:
                self._skipping += isinstance(event, yaml.CollectionStartEvent)
            elif self._awaits_name():
                self._take_name(event)
            elif isinstance(event, yaml.CollectionStartEvent):
                self._begin(event)
            else:
                self._store(event, self._scalar(event))

    def _refuse_extras(self, event: yaml.NodeEvent) -> None:
        if isinstance(event, yaml.AliasEvent):
            self._complain(event, f"*{event.anchor} points to another place", "the value itself, written again")
        elif event.anchor is not None:
            self._complain(event, f"&{event.anchor} marks a value for reuse", "the value alone")
        tag = getattr(event, "tag", None)
        if tag is not None:
            self._complain(event, f"the tag {tag} stands here", "the value alone")

    def _awaits_name(self) -> bool:
        return bool(self._open) and isinstance(self._open[-1].value, dict) and self._open[-1].name is None

    def _take_name(self, event: yaml.NodeEvent) -> None:
        inside = self._open[-1]
        if isinstance(event, yaml.CollectionStartEvent):
            self._complain(
                event, "a list or mapping stands where a key's name should be", "a name, a colon and a space"
            )
            self._skipping = 1
            inside.name = ""
            return
        name = event.value if isinstance(event, yaml.ScalarEvent) else ""
        if name == "" and isinstance(event, yaml.ScalarEvent):
            self._complain(event, "a key has no name", "a name before the colon")
        place = self._place(event)
        key = (*inside.key, name)
        if name and name in inside.value:
            first = self.key_places[key]
            self._complain(event, f"{_quoted(name)} was already given on line {first.line}", "each key once")
        else:
            self.key_places[key] = place
        inside.name = name

    def _begin(self, event: yaml.CollectionStartEvent) -> None:
        value: dict[str, Any] | list[Any] = {} if isinstance(event, yaml.MappingStartEvent) else []
        key = self._store(event, value)
        if len(self._open) >= DEEPEST:
            place = self._place(event)
            what = f"this is nested more than {DEEPEST} levels deep"
            raise FileProblems([*self.complaints, Complaint(place=place, what=what)])
        self._open.append(_Open(key, value))

    def _close(self, event: yaml.Event) -> None:
        if self._skipping:
            self._skipping -= 1
            return
        closed = self._open.pop()
        start, _ = self.spans[closed.key]
        self.spans[closed.key] = (start, self.lines.offset(*_position(event.end_mark)))

    def _scalar(self, event: yaml.NodeEvent) -> Any:  # noqa: ANN401 - any scalar
        if not isinstance(event, yaml.ScalarEvent):
            return None
        if not event.implicit[0]:
            return event.value
        try:
            return read_plain(event.value)
        except ValueError as error:
            self._complain(event, str(error), "a number")
            return None

    def _store(self, event: yaml.NodeEvent, value: Any) -> Key:  # noqa: ANN401 - any value
        key: Key = ()
        if not self._open:
            self.result = value
        else:
            inside = self._open[-1]
            if isinstance(inside.value, list):
                key = (*inside.key, len(inside.value))
                inside.value.append(value)
            else:
                key = (*inside.key, inside.name or "")
                inside.value.setdefault(inside.name or "", value)
                inside.name = None
        self.places.setdefault(key, self._place(event))
        begin, end = _position(event.start_mark), _position(event.end_mark)
        self.spans.setdefault(key, (self.lines.offset(*begin), self.lines.offset(*end)))
        return key

    def _place(self, event: yaml.Event) -> Place:
        return self.lines.place(*_position(event.start_mark))

    def _complain(self, event: yaml.Event, what: str, expected: str) -> None:
        self.complaints.append(Complaint(place=self._place(event), what=what, expected=expected))


def _position(mark: Any) -> tuple[int, int]:  # noqa: ANN401 - yaml has one class of marks for each of its two readers
    return mark.line, mark.column


def _quoted(name: str) -> str:
    return f'"{name[:60]}"'
