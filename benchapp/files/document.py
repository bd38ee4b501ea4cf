"""A file as it was read: its data, and the place of every value in its text."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from benchapp.files.locations import Complaint, Key, Location


@dataclass(frozen=True, kw_only=True)
class Document:
    """A file as read: its text, its data (dicts, lists, text, numbers, truth, None) and where each value stands.

    `spans` gives the offsets in the text at which each value begins and ends, `key_locations` where a key's
    name stands.
    """

    source: str
    text: str
    data: Any
    locations: Mapping[Key, Location]
    key_locations: Mapping[Key, Location]
    spans: Mapping[Key, tuple[int, int]]

    def location(self, key: Key) -> Location:
        """Where the value stands, or the nearest thing around it that is written down."""
        while key and key not in self.locations:
            key = key[:-1]
        return self.locations.get(key) or Location(file=self.source, line=1, column=1)

    def key_location(self, key: Key) -> Location:
        """Where the name of a key stands; for a list's entry, where the entry stands."""
        return self.key_locations.get(key) or self.location(key)

    def complaint(self, key: Key, what: str, expected: str = "", nearest: str = "") -> Complaint:
        """A complaint about the value there."""
        return Complaint(location=self.location(key), what=what, expected=expected, nearest=nearest)

    @cached_property
    def words(self) -> frozenset[Key]:
        """The keys whose value is a plain word on one line, so that a position inside it can be pointed at."""
        return frozenset(
            key
            for key, (start, end) in self.spans.items()
            if self.text[start : start + 1] not in ("'", '"', "|", ">", "[", "{") and "\n" not in self.text[start:end]
        )
