"""What units are called, and which are on hold whatever their entries say: worked out from the whole workbook.

A unit goes by its shelf mark. Where two units bear the same, both get the start of their UUID beside it and are on hold
until one is marked anew; a unit of which there are two records is on hold until somebody settles which one stands.
"""

from collections.abc import Mapping
from typing import NamedTuple

FEWEST_DIGITS = 4
"""of a UUID, to tell two units of one mark apart; more where these are alike"""


class Called(NamedTuple):
    """The name of a unit, and why it is on hold by itself (empty when it is not)."""

    mark: str
    held: str


def what_units_are_called(shelf_marks: Mapping[str, str], forked_at: Mapping[str, int]) -> dict[str, Called]:
    """By UUID; `shelf_marks` are those of all units, `forked_at` where a unit's record is forked."""
    bearers: dict[str, list[str]] = {}
    for uuid, shelf_mark in shelf_marks.items():
        bearers.setdefault(shelf_mark, []).append(uuid)
    called: dict[str, Called] = {}
    for shelf_mark, uuids in bearers.items():
        for uuid in uuids:
            held = [] if len(uuids) == 1 else [f"{len(uuids)} units bear the shelf mark {shelf_mark}."]
            if uuid in forked_at:
                held.append(f"There are two records of it from entry {forked_at[uuid]} on.")
            mark = shelf_mark if len(uuids) == 1 else f"{shelf_mark} ({_start_of(uuid, uuids)})"
            called[uuid] = Called(mark, " ".join(held))
    return called


def _start_of(uuid: str, all_of_them: list[str]) -> str:
    """As many of the UUID's first digits as tell it from the others."""
    digits = FEWEST_DIGITS
    while sum(other.startswith(uuid[:digits]) for other in all_of_them) > 1:
        digits += 1
    return uuid[:digits]
