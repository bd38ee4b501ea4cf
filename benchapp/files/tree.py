"""Builds data, places and spans out of libyaml's events, and complains about what is left out of YAML on purpose."""

from typing import Any

import yaml

from benchapp.files.lines import Lines
from benchapp.files.locations import AND_SO_ON, MOST_COMPLAINTS, Complaint, FileProblems, Key, Location
from benchapp.files.scalars import read_plain

DEEPEST = 40
"""Levels of nesting; a file of the bench has about six (own choice)."""
MOST_VALUES = 5_000
"""Values, groups and lists in one file; the largest that is shipped has some 300 (own choice)."""
MOST_ENTRIES = 250
"""Entries of one list or group; the longest that is shipped has some 30 (own choice)."""


class _Open:
    """A mapping or list whose end has not come yet."""

    __slots__ = ("key", "name", "value")

    def __init__(self, key: Key, value: dict[str, Any] | list[Any]) -> None:
        self.key = key
        self.value = value
        self.name: str | None = None


class TreeBuilder:
    """Takes libyaml's events one by one and keeps data, places, spans and complaints."""

    def __init__(self, lines: Lines) -> None:
        self.lines = lines
        self.result: Any = None
        self.locations: dict[Key, Location] = {}
        self.key_locations: dict[Key, Location] = {}
        self.spans: dict[Key, tuple[int, int]] = {}
        self.complaints: list[Complaint] = []
        self._open: list[_Open] = []
        self._documents = 0
        self._values = 0
        self._skipping = 0

    def take(self, event: yaml.Event) -> None:
        """Take the next event; raises FileProblems when the rest of the file is not worth reading."""
        if len(self.complaints) > MOST_COMPLAINTS:
            raise FileProblems([*self.complaints[:MOST_COMPLAINTS], self._at(event, AND_SO_ON)])
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
            self._count(event)
            self._refuse_extras(event)
            if self._skipping:
                self._skipping += isinstance(event, yaml.CollectionStartEvent)
            elif self._awaits_name():
                self._take_name(event)
            elif isinstance(event, yaml.CollectionStartEvent):
                self._begin(event)
            else:
                self._store(event, self._scalar(event))

    def _count(self, event: yaml.NodeEvent) -> None:
        self._values += not self._awaits_name()
        if self._values > MOST_VALUES:
            what = f"more than {MOST_VALUES} values stand in this file"
            raise FileProblems([*self.complaints, self._at(event, what, "a file with fewer, or several files")])

    def _refuse_extras(self, event: yaml.NodeEvent) -> None:
        if isinstance(event, yaml.AliasEvent):
            self._complain(event, f"*{_short(event.anchor)} points to another place", "the value itself, written again")
        elif event.anchor is not None:
            self._complain(event, f"&{_short(event.anchor)} marks a value for reuse", "the value alone")
        tag = getattr(event, "tag", None)
        if tag is not None:
            self._complain(event, f"the tag {_short(tag)} stands here", "the value alone")

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
        location = self._location(event)
        key = (*inside.key, name)
        if name and name in inside.value:
            first = self.key_locations[key]
            self._complain(event, f"{_quoted(name)} was already given on line {first.line}", "each key once")
        else:
            self.key_locations[key] = location
        inside.name = name

    def _begin(self, event: yaml.CollectionStartEvent) -> None:
        value: dict[str, Any] | list[Any] = {} if isinstance(event, yaml.MappingStartEvent) else []
        key = self._store(event, value)
        if len(self._open) >= DEEPEST:
            what = f"this is nested more than {DEEPEST} levels deep"
            raise FileProblems([*self.complaints, self._at(event, what)])
        self._open.append(_Open(key, value))

    def _close(self, event: yaml.Event) -> None:
        if self._skipping:
            self._skipping -= 1
            return
        closed = self._open.pop()
        if (entries := len(closed.value)) > MOST_ENTRIES:
            what = f"{entries} entries are more than a list or group may have"
            location, expected = self.locations[closed.key], f"at most {MOST_ENTRIES}"
            self.complaints.append(Complaint(location=location, what=what, expected=expected))
        start, _ = self.spans[closed.key]
        self.spans[closed.key] = (start, self.lines.offset(*mark_position(event.end_mark)))

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
        self.locations.setdefault(key, self._location(event))
        begin, end = mark_position(event.start_mark), mark_position(event.end_mark)
        self.spans.setdefault(key, (self.lines.offset(*begin), self.lines.offset(*end)))
        return key

    def _location(self, event: yaml.Event) -> Location:
        return self.lines.location(*mark_position(event.start_mark))

    def _complain(self, event: yaml.Event, what: str, expected: str) -> None:
        self.complaints.append(self._at(event, what, expected))

    def _at(self, event: yaml.Event, what: str, expected: str = "") -> Complaint:
        return Complaint(location=self._location(event), what=what, expected=expected)


def mark_position(mark: Any) -> tuple[int, int]:  # noqa: ANN401 - yaml has a class of marks for each of its readers
    """Line and column of a mark, from 0."""
    return mark.line, mark.column


def _quoted(name: str) -> str:
    return f'"{_short(name)}"'


def _short(name: str | None) -> str:
    words = name or ""
    return words if len(words) <= 60 else f"{words[:60]}…"
