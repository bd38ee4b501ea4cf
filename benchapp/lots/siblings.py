"""Outliers among the units of a lot: a reading may be inside tolerance and still unlike the rest.

Modified z-score of Iglewicz and Hoaglin (How to Detect and Handle Outliers, ASQC vol. 16, 1993):
M = 0.6745 (x − median) / MAD, worth a look above 3.5. Where half the readings and more agree the MAD is zero; then the
meter's own step stands in for it, so that one digit of difference is no outlier (own choice).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import median

SCALE = 0.6745
"""The third quartile of the standard normal distribution: it makes the MAD of normal data a standard deviation."""
WORTH_A_LOOK = 3.5
FEWEST = 5
"""Readings below which nobody can say what is usual (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sibling:
    """One unit's reading (SI) and how far it lies from the middle of its lot; `score` is None among too few."""

    mark: str
    value: float
    score: float | None
    worth_a_look: bool


def compare_siblings(readings: Mapping[str, float], *, step: float = 0.0) -> tuple[Sibling, ...]:
    """Each unit's reading by shelf mark against its lot's; `step` is the weight of the meter's last digit (SI)."""
    values = list(readings.values())
    scores = robust_scores(values, step=step) if len(values) >= FEWEST else [None] * len(values)
    return tuple(
        Sibling(mark=mark, value=value, score=score, worth_a_look=score is not None and abs(score) > WORTH_A_LOOK)
        for (mark, value), score in zip(readings.items(), scores, strict=True)
    )


def robust_scores(values: Sequence[float], *, step: float = 0.0) -> list[float | None]:
    """The modified z-score of each value; None for all where neither spread nor `step` gives a measure."""
    if not values:
        return []
    middle = median(values)
    spread = max(median(abs(value - middle) for value in values), step)
    if spread <= 0.0:
        return [None] * len(values)
    return [SCALE * (value - middle) / spread for value in values]


def ratios_to_mains(outputs: Mapping[str, float], mains: Mapping[str, float]) -> dict[str, float]:
    """Output over mains by shelf mark, where both are known: it sees what a broad band hides."""
    return {mark: volts / mains[mark] for mark, volts in outputs.items() if mains.get(mark)}
