"""Strokes told apart by their times alone: those of a person's fingers, and those of a device that types; Qt-free."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from itertools import pairwise

AT_ONCE = 35.0
"""milliseconds from key to key of a device, at most; a scanner needs 1 to 30, a person at 120 words a minute
about 100 (common practice, no source)"""
SLOW = 45.0
"""milliseconds from key to key of a device that stumbles: over the air, or on a busy machine (own choice)"""
WITH_CARE = 100.0
"""the same where one key settles what becomes of a unit: nobody strikes two keys so soon there (own choice)"""
SURE = 6
"""so many keys with no more than `SLOW` between them are a device's: no hand strikes 22 keys a second (own choice)"""
LEAST = 3
"""keys of a burst, its Enter among them: two may be struck at once by a hand that rolls, or by a glove"""
ENDS = ("\r", "\t")
"""the keys that a scanner adds behind what it read: Enter, Tab"""


@dataclass(frozen=True, slots=True)
class Stroke:
    """One key, the sign that it types (one of `ENDS` for Enter and Tab) and when it went down, in milliseconds."""

    sign: str
    at: float
    repeat: bool = False
    """the keyboard says that the key is held down"""


class Hand(Enum):
    """Whose strokes these are."""

    person = auto()
    two_at_once = auto()
    """two keys in one: a hand that rolls over a word, or one that meant a single key"""
    device = auto()


@dataclass(frozen=True, slots=True)
class Run:
    """Strokes with no more than `SLOW` between them, and whose they are."""

    strokes: tuple[Stroke, ...]
    hand: Hand

    @property
    def text(self) -> str:
        """What they type, Enter and Tab left out."""
        return text_of(self.strokes)


def text_of(strokes: Iterable[Stroke]) -> str:
    """What these strokes type, Enter and Tab left out."""
    return "".join(stroke.sign for stroke in strokes if stroke.sign not in ENDS)


def goes_on(before: Stroke, stroke: Stroke, slow: float = SLOW) -> bool:
    """Whether a stroke belongs to the one before it; what a held key repeats belongs to nothing."""
    return not stroke.repeat and not before.repeat and 0 <= stroke.at - before.at <= slow


def hand_of(strokes: Sequence[Stroke], at_once: float = AT_ONCE) -> Hand:
    """Whose a run is: by how many keys came at once in it, and how many there are."""
    together = most = 1
    for before, stroke in pairwise(strokes):
        together = together + 1 if stroke.at - before.at <= at_once else 1
        most = max(most, together)
    if most >= LEAST or len(strokes) >= SURE:
        return Hand.device
    return Hand.two_at_once if len(strokes) == most == LEAST - 1 else Hand.person


def runs_of(strokes: Iterable[Stroke]) -> Iterator[Run]:
    """All strokes in their order, cut where a pause lies between two; none is left out."""
    run: list[Stroke] = []
    for stroke in strokes:
        if run and not goes_on(run[-1], stroke):
            yield Run(tuple(run), hand_of(run))
            run = []
        run.append(stroke)
    if run:
        yield Run(tuple(run), hand_of(run))
