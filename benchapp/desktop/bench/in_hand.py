"""Which unit the person has in hand, and what of another unit's mark is enough to show that it was taken; Qt-free."""

from dataclasses import dataclass

LAST = 2
"""signs of a mark's end that have to be typed, at least: one could be struck by a slip (own choice)"""


@dataclass(slots=True)
class UnitInHand:
    """The unit that was last taken in hand at this window; none is before the first one."""

    mark: str = ""
    wanted: str = ""
    """a unit whose tag was scanned while this one may be live: it comes after the way back"""
    left_live: bool = False
    """this one was left as it is, and may be live"""

    def is_other(self, mark: str) -> bool:
        """Whether another unit than that one is in hand, so that it has to be put away first."""
        return bool(self.mark) and self.mark != mark

    def take(self, mark: str) -> None:
        """That unit is in hand now."""
        self.mark, self.wanted, self.left_live = mark, "", False

    def rename(self, before: str, now: str) -> None:
        """A unit has another mark; where it is in hand, it stays so."""
        if self.mark == before:
            self.mark = now


def last_signs(mark: str) -> str:
    """The end of a mark as it is asked for: its last digits, or its last signs where it ends in none."""
    digits = len(mark) - len(mark.rstrip("0123456789"))
    return mark[-max(LAST, min(digits, 3)) :]


def is_end_of(typed: str, mark: str, other: str) -> bool:
    """Whether what was typed is the end of this mark, long enough, and not of the other one too."""
    end = "".join(typed.split()).casefold()
    long_enough = len(end) >= min(LAST, len(mark))
    return long_enough and mark.casefold().endswith(end) and not other.casefold().endswith(end)
