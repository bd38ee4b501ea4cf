"""The probe that is expected to tell most per second of work.

For each pair of terminals the reading is sorted into classes on a logarithmic scale, and OL. What a probe tells is the
mutual information between that class and the replaceable part at fault. The likeliest hypotheses stand for all.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import log

import numpy as np
from numpy.typing import NDArray

from benchapp.wiring.faults.dictionary import OVER_RANGE
from benchapp.wiring.network.solve import Matrix
from benchapp.wiring.search.bayes import best_question, information
from benchapp.wiring.search.hypotheses import Boxes
from benchapp.wiring.search.likelihood import SHIFT, Reader, scale

MOST_HYPOTHESES = 200  # that stand for all of them
MOST_PAIRS = 40  # compared closely, after a cruder sorting
LEAST_CHANCE = 1e-5  # of the likeliest hypothesis' chance: less stands for nothing
CLASSES = 96  # of readings on the logarithmic scale: each about a fifth above the last
SAME_STAND, MOVED, FAR = 4.0, 6.0, 10.0  # seconds per probe: one tip stays, both move, two connectors; common practice
WAY_BACK = 90.0  # seconds from mains to an ohmmeter: plug out, discharged, proved low; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class NextProbe:
    """The pair to probe next, what it is expected to tell (bits) and to take (seconds).

    A `live` one reads volts, with mains on. One that is taken `again` was read before: what is left hangs on whether
    that was a slip.
    """

    a: str
    b: str
    say: str
    bits: float
    seconds: float
    live: bool = False
    again: bool = False


def best_pair(
    boxes: Boxes,
    chances: Matrix,
    groups: Sequence[int],
    barred: set[frozenset[str]],
    last: frozenset[str],
    reader: Reader,
) -> tuple[int, float, float] | None:
    """The column of the best pair, its bits and seconds; None when no pair is left.

    `chances` and `groups` have one entry per hypothesis; hypotheses of one group are one replaceable part.
    """
    kept = likeliest(chances)
    weight = chances[kept] / chances[kept].sum()
    columns = _farthest_apart(boxes, kept, weight, barred)
    if not columns.size:
        return None
    shares = _classes(boxes.low[np.ix_(kept, columns)], boxes.high[np.ix_(kept, columns)], reader)
    numbers = {group: index for index, group in enumerate(dict.fromkeys(groups[h] for h in kept))}
    member = np.array([numbers[groups[h]] for h in kept])
    bits = information(shares, weight, member, len(numbers))
    seconds = np.array([seconds_for(boxes.pairs[column], last) for column in columns])
    best = best_question(bits, seconds)
    return int(columns[best]), float(bits[best]), float(seconds[best])


def _farthest_apart(
    boxes: Boxes, kept: NDArray[np.int64], weight: Matrix, barred: set[frozenset[str]]
) -> NDArray[np.int64]:
    """The columns in which the hypotheses lie farthest apart, by weighted variance of the middle of their boxes."""
    middle = (scale(boxes.low[kept]) + scale(np.minimum(boxes.high[kept], OVER_RANGE))) / 2
    mean = weight @ middle
    variance = weight @ (middle - mean) ** 2
    allowed = [c for c in np.argsort(-variance, kind="stable") if frozenset(boxes.pairs[c]) not in barred]
    return np.array(allowed[:MOST_PAIRS], dtype=np.int64)


def _classes(low: Matrix, high: Matrix, reader: Reader) -> Matrix:
    """Share of each class of reading, hypotheses × pairs × classes; the last class is OL."""
    edges = np.linspace(log(SHIFT), log(OVER_RANGE + SHIFT), CLASSES + 1)
    blur = np.asarray(reader.blur(low)) / (low + SHIFT)
    left, right = scale(low) - blur, scale(high) + blur
    below = np.clip((edges - left[..., None]) / (right - left)[..., None], 0.0, 1.0)
    below[..., 0] = 0.0
    shares = np.diff(below, axis=-1, append=1.0)
    return (1 - reader.slip) * shares + reader.slip / (CLASSES + 1)


def likeliest(chances: Matrix) -> NDArray[np.int64]:
    """The numbers of the hypotheses that stand for all of them."""
    order = np.argsort(-chances, kind="stable")[:MOST_HYPOTHESES]
    kept: NDArray[np.int64] = order[chances[order] > LEAST_CHANCE * chances[order[0]]]
    return kept


def seconds_for(pair: Collection[str], last: frozenset[str]) -> float:
    """How long a probe of this pair takes after the last one."""
    if set(pair) & last:
        return SAME_STAND
    homes = {name.partition(".")[0] for name in pair}
    return FAR if len(homes) > 1 else MOVED
