"""What units and lots are called, and which units are on hold whatever their entries say: from the whole workbook.

A unit goes by its shelf mark. Where two units bear the same, both get the start of their UUID beside it and are on hold
until one is marked anew; a unit of which there are two records is on hold until somebody settles which one stands. Two
lots of one name are told apart in the same way.
"""

from collections.abc import Mapping
from typing import NamedTuple

from benchapp.words import say

FEWEST_DIGITS = 4
"""of a UUID, to tell two of one name apart; more where these are alike"""


class Called(NamedTuple):
    """The name of a unit, and why it is on hold by itself (empty when it is not)."""

    mark: str
    held: str


def what_units_are_called(shelf_marks: Mapping[str, str], forked_at: Mapping[str, int]) -> dict[str, Called]:
    """By UUID; `shelf_marks` are those of all units, `forked_at` where a unit's record is forked."""
    bearers = _bearers(shelf_marks)
    names = tell_apart(shelf_marks)
    called = {}
    for uuid, shelf_mark in shelf_marks.items():
        alike = len(bearers[shelf_mark])
        held = (
            []
            if alike == 1
            else [say("{alike} units bear the shelf mark {shelf_mark}.", alike=alike, shelf_mark=shelf_mark)]
        )
        if uuid in forked_at:
            held.append(say("There are two records of it from entry {forked_at} on.", forked_at=forked_at[uuid]))
        called[uuid] = Called(names[uuid], " ".join(held))
    return called


def tell_apart(names: Mapping[str, str]) -> dict[str, str]:
    """A name for each UUID that no other has: its own, with the start of the UUID where others have the same."""
    bearers = _bearers(names)
    return {
        uuid: name if len(bearers[name]) == 1 else _with_digits(name, uuid, bearers) for uuid, name in names.items()
    }


def _bearers(names: Mapping[str, str]) -> dict[str, list[str]]:
    bearers: dict[str, list[str]] = {}
    for uuid, name in names.items():
        bearers.setdefault(name, []).append(uuid)
    return bearers


def _with_digits(name: str, uuid: str, bearers: Mapping[str, list[str]]) -> str:
    """The name with as many of the UUID's first digits as tell it from the others, and from a name given so."""
    digits = FEWEST_DIGITS
    while True:
        start = uuid[:digits] + "+" * (digits - len(uuid))
        told = f"{name} ({start})"
        if told not in bearers and sum(other.startswith(start) for other in bearers[name]) <= 1:
            return told
        digits += 1
