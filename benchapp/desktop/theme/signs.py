"""Which sign stands for which state: a shape, a word and a colour together, so that none carries the meaning alone.

Qt-free: `widgets/sign.py` draws the shapes, tables show the words.
"""

from dataclasses import dataclass
from enum import StrEnum


class Shape(StrEnum):
    """The outline of a sign; each is told apart without colour and at 12 pixels."""

    ring = "ring"  # nothing done yet
    half = "half"  # begun
    tick = "tick"  # holds
    cross = "cross"  # does not hold
    wave_up = "wave up"  # inside the limit, within the guard zone
    wave_down = "wave down"  # outside the limit, within the guard zone
    gate = "gate"  # shut
    turn = "turn"  # to be taken again
    dash = "dash"  # does not apply
    query = "query"  # no judgement
    coin = "coin"  # for sale
    bolt = "bolt"  # spares or repair
    hand = "hand"  # hold
    flash = "flash"  # mains or charge may be on it


class Tone(StrEnum):
    """The colour token of a sign."""

    good = "good"
    doubt = "doubt"
    bad = "bad"
    quiet = "quiet"
    ink = "ink"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """A shape with its word and tone; the word is English and passes through `tr` where it is shown."""

    shape: Shape
    word: str
    tone: Tone


def _sign(shape: Shape, word: str, tone: Tone) -> Sign:
    return Sign(shape=shape, word=word, tone=tone)


STAGES = {
    "not started": _sign(Shape.ring, "to do", Tone.quiet),
    "in progress": _sign(Shape.half, "begun", Tone.ink),
    "done": _sign(Shape.tick, "done", Tone.good),
    "failed": _sign(Shape.cross, "failed", Tone.bad),
    "shut": _sign(Shape.gate, "shut", Tone.quiet),
    "stale": _sign(Shape.turn, "again", Tone.doubt),
    "skipped": _sign(Shape.dash, "n/a", Tone.quiet),
}

JUDGEMENTS = {
    "pass": _sign(Shape.tick, "pass", Tone.good),
    "conditional pass": _sign(Shape.wave_up, "conditional pass", Tone.doubt),
    "conditional fail": _sign(Shape.wave_down, "conditional fail", Tone.bad),
    "fail": _sign(Shape.cross, "fail", Tone.bad),
    "not judged": _sign(Shape.query, "not judged", Tone.quiet),
}

CHECKED = {"checked": _sign(Shape.half, "to be settled", Tone.doubt)}
"""a unit in quarantine of which everything is done: what becomes of it is still to be said"""

DISPOSITIONS = {
    "quarantine": _sign(Shape.gate, "not tested", Tone.doubt),
    "for sale": _sign(Shape.coin, "for sale", Tone.good),
    "spares or repair": _sign(Shape.bolt, "spares or repair", Tone.doubt),
    "scrap": _sign(Shape.cross, "scrap", Tone.bad),
    "keep": _sign(Shape.tick, "keep", Tone.ink),
    "hold": _sign(Shape.hand, "hold", Tone.bad),
}

LIVE = {"mains": _sign(Shape.flash, "LIVE", Tone.bad), "charge": _sign(Shape.flash, "may be charged", Tone.doubt)}

_ALL = LIVE | CHECKED | STAGES | JUDGEMENTS | DISPOSITIONS


def sign_for(state: str) -> Sign:
    """The sign of a stage's status, a judgement or a disposition; a state without one gets the query."""
    return _ALL.get(str(state), _sign(Shape.query, str(state), Tone.quiet))
