"""What has not been tested yet: while a sound unit explains the readings, the pair that would show most faults.

An expected gain in bits is the wrong measure here: each of many faults is unlikely, so that none is ever worth a
probe. A search that ends with "nothing wrong" must have read, for every fault that still fits, a pair that would have
shown it.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from benchapp.wiring.faults.dictionary import OVER_RANGE
from benchapp.wiring.network.solve import Matrix
from benchapp.wiring.search.hypotheses import Boxes
from benchapp.wiring.search.likelihood import Reader, scale
from benchapp.wiring.search.next_probe import seconds_for

APART = 3.0  # standard uncertainties beyond the sound circuit's box from which on a reading speaks of a fault
SHOWS = 0.15  # of a fault's box must lie out there, so that it counts as shown


def untested_pair(
    boxes: Boxes, fitting: Sequence[int], barred: set[frozenset[str]], last: frozenset[str], reader: Reader
) -> tuple[int, float] | None:
    """The column of the pair that shows most further faults per second, and its seconds; None when all were shown.

    `fitting` are the rows of the hypotheses that the readings leave; `barred` the pairs that were read.
    """
    if not len(fitting):
        return None
    shown = outside(boxes, fitting, reader)
    read = np.array([frozenset(pair) in barred for pair in boxes.pairs])
    tested = shown[:, read].max(axis=1, initial=0.0)
    further = np.where(read[None, :], 0.0, np.maximum(shown - tested[:, None], 0.0))
    further[further < SHOWS] = 0.0
    if not further.any():
        return None
    seconds = np.array([seconds_for(pair, last) for pair in boxes.pairs])
    best = int(np.argmax(further.sum(axis=0) / seconds))
    return best, float(seconds[best])


def outside(boxes: Boxes, rows: Sequence[int], reader: Reader) -> Matrix:
    """The share of each row's box that lies outside the sound circuit's, rows × pairs, on the scale of likelihoods."""
    low, high = (np.minimum(ends[[0, *rows]].astype(float), OVER_RANGE) for ends in (boxes.low, boxes.high))
    least, most = _moved(low[0], -1.0, reader), _moved(high[0], 1.0, reader)
    left, right = scale(low[1:]), scale(high[1:])
    width = np.maximum(right - left, 1e-9)
    share: Matrix = np.clip((least - left) / width, 0.0, 1.0) + np.clip((right - most) / width, 0.0, 1.0)
    return share


def _moved(ohms: Matrix, sign: float, reader: Reader) -> NDArray[np.float64]:
    """The sound circuit's end on the scale, moved out by what the meter blurs; nothing lies beyond over-range."""
    moved = np.maximum(ohms + sign * APART * np.asarray(reader.blur(ohms)), 0.0)
    return scale(np.where(ohms >= OVER_RANGE, OVER_RANGE, np.minimum(moved, OVER_RANGE)))
