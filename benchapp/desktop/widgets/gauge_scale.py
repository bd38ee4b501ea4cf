"""Where a value stands on the gauge: the scale chosen from the band; Qt-free.

A band with two limits, or an upper one, gets a linear scale; a band with only a lower limit (insulation, an open
circuit) a logarithmic one, since good readings lie decades above it. Position 0 is the left end, 1 the right; None
of a band means that there is nothing to place.
"""

import math
from dataclasses import dataclass

_MARGIN = 0.6  # of the band's width shown on either side of it
_DECADES_BELOW, _DECADES_ABOVE = 1.5, 3.0
_WIDE = 50.0  # limits further apart than this ratio need a logarithmic scale


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """From `left` to `right` (SI), linear or logarithmic."""

    left: float
    right: float
    logarithmic: bool = False

    def position(self, value: float) -> float:
        """Where the value stands, 0 to 1; values beyond an end stand at that end."""
        if self.logarithmic:
            if value <= self.left:
                return 0.0
            share = math.log(value / self.left) / math.log(self.right / self.left)
        else:
            share = (value - self.left) / (self.right - self.left)
        return min(1.0, max(0.0, share))

    def beyond(self, value: float) -> int:
        """-1 when the value lies left of the scale, 1 when right of it, else 0."""
        return (value > self.right) - (value < self.left)


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A stretch of the gauge, by position, and what it means: `fail`, `guard` or `pass`."""

    start: float
    end: float
    meaning: str


def scale_for(lower: float | None, upper: float | None) -> Scale | None:
    """The scale that shows a band with room on either side; None when the band has no limit."""
    if lower is None and upper is None:
        return None
    if upper is None:
        return _above(float(lower or 0.0))
    if lower is None:
        return _below(upper)
    if lower > 0 and upper / lower > _WIDE:
        return Scale(left=lower / 10, right=upper * 10, logarithmic=True)
    room = _MARGIN * ((upper - lower) or abs(upper) or 1.0)
    left = lower - room
    return Scale(left=max(0.0, left) if lower >= 0 else left, right=upper + room)


def zones(scale: Scale, lower: float | None, upper: float | None, guard: float = 0.0) -> tuple[Zone, ...]:
    """The stretches of the gauge from left to right; the guard zone lies `guard` on either side of each limit."""
    edges: list[tuple[float, str]] = []
    if lower is not None:
        edges += [(lower - guard, "guard"), (lower + guard, "pass")] if guard else [(lower, "pass")]
    if upper is not None:
        edges += [(upper - guard, "guard"), (upper + guard, "fail")] if guard else [(upper, "fail")]
    meaning = "fail" if lower is not None else "pass"
    start, out = 0.0, []
    for edge, following in edges:
        end = scale.position(edge)
        if end > start:
            out.append(Zone(start=start, end=end, meaning=meaning))
            start = end
        meaning = following
    if start < 1.0:
        out.append(Zone(start=start, end=1.0, meaning=meaning))
    return tuple(out)


def _above(lower: float) -> Scale:
    if lower <= 0:
        return Scale(left=lower - 1.0, right=lower + 1.0)
    return Scale(left=lower / 10**_DECADES_BELOW, right=lower * 10**_DECADES_ABOVE, logarithmic=True)


def _below(upper: float) -> Scale:
    if upper <= 0:
        return Scale(left=upper - 1.0, right=upper + 1.0)
    return Scale(left=0.0, right=2 * upper)
