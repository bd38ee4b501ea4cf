"""One unit's reading beside those of its lot: as it was read, and as a share of its mains.

The share sees what a broad band hides: with it the mains of the day falls out, and what is left is the unit.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from statistics import median

from benchapp.lots.siblings import FEWEST, compare_siblings, ratios_to_mains
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.words import say

SHARE_STEP = 1e-4
"""Least spread of output over mains that counts as one: what the last digits of two meters make of it (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Likeness:
    """One value (SI) beside the lowest, middle and highest of the other units; `score` is None among too few."""

    value: float
    units: int
    lowest: float
    middle: float
    highest: float
    score: float | None
    worth_a_look: bool

    @property
    def telling(self) -> bool:
        """Whether there are enough others to say what is usual."""
        return self.score is not None or self.units >= FEWEST


def likeness(own: float, others: Mapping[str, float], *, step: float = 0.0) -> Likeness | None:
    """The value beside those of the other units by shelf mark; None where there is no other."""
    if not others:
        return None
    compared = compare_siblings({**others, "": own}, step=step)[-1]
    values = sorted(others.values())
    return Likeness(
        value=own,
        units=len(values),
        lowest=values[0],
        middle=median(values),
        highest=values[-1],
        score=compared.score,
        worth_a_look=compared.worth_a_look,
    )


def likeness_to_mains(
    own: float, mains: float | None, outputs: Mapping[str, float], of_mains: Mapping[str, float]
) -> Likeness | None:
    """Output over mains beside that of the other units; None where either is not known."""
    if not mains:
        return None
    return likeness(own / mains, ratios_to_mains(outputs, of_mains), step=SHARE_STEP * abs(own / mains))


def likeness_words(found: Likeness, kind: Kind, *, unit: str = "", step: float | None = None) -> str:
    """In a sentence: "This lot: 9.8 V to 10.3 V, middle 10.1 V (6 units)." and, where it is unlike them, that it is."""
    low, middle, high = (show(one, kind, unit=unit, step=step) for one in (found.lowest, found.middle, found.highest))
    return say(
        "This lot: {low} to {high}, middle {middle} ({units}).{unlike}",
        low=low,
        high=high,
        middle=middle,
        units=_units(found),
        unlike=_unlike(found),
    )


def mains_words(found: Likeness) -> str:
    """The same of output over mains: "Output over mains: 0.0431; this lot 0.0426 to 0.0429 (6 units)."."""
    return say(
        "Output over mains: {value:.4g}; this lot {lowest:.4g} to {highest:.4g}, middle {middle:.4g} "
        "({units}).{unlike}",
        value=found.value,
        lowest=found.lowest,
        highest=found.highest,
        middle=found.middle,
        units=_units(found),
        unlike=_unlike(found),
    )


def _units(found: Likeness) -> str:
    return "1 unit" if found.units == 1 else f"{found.units} units"


def _unlike(found: Likeness) -> str:
    if found.worth_a_look:
        return say(" This one is unlike them: worth a look, inside its band or not.")
    return "" if found.telling else say(" Too few to say what is usual.")
