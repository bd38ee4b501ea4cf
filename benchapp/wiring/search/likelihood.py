"""How well each hypothesis explains a reading.

With a hypothesis the true value lies somewhere between the two ends that tolerances, the size of the fault and the
leads allow; the meter blurs it. On a logarithmic scale (shifted by a tenth of an ohm, so that zero has a place) that
is a box blurred by a normal distribution. One reading in many is a slip (wrong pin, wrong digit) that can show
anything: so no single reading rules a hypothesis out for good, and a marginal one moves it only a little.
"""

from dataclasses import dataclass
from math import erfc, log, sqrt

import numpy as np
from numpy.typing import NDArray

from benchapp.wiring.faults.dictionary import OVER_RANGE
from benchapp.wiring.network.solve import Matrix
from benchapp.wiring.search.observations import Observation

SHIFT = 0.1  # ohm or V added before taking the logarithm
SPAN = log(OVER_RANGE / SHIFT)  # natural-log width of all that a slip could show


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """The meter and the hands: leads and contacts (ohm) in the reading, blur, and how often a reading is a slip."""

    leads: tuple[float, float] = (0.0, 0.6)  # common practice, no source
    share: float = 0.01  # of the reading, standard uncertainty where none is given
    least: float = 0.1  # ohm or V, standard uncertainty where none is given
    slip: float = 0.04
    slip_open: float = 0.3  # of the slips, those that show OL

    def blur(self, value: float | Matrix, uncertainty: float = 0.0) -> float | Matrix:
        """Standard uncertainty of a reading, ohm or V."""
        if uncertainty > 0:
            return uncertainty
        return np.sqrt((self.share * value) ** 2 + self.least**2)


def scale(value: Matrix) -> Matrix:
    """The logarithmic scale on which readings are compared."""
    shifted: Matrix = np.log(value + SHIFT)
    return shifted


def likelihood(low: Matrix, high: Matrix, observation: Observation, reader: Reader) -> Matrix:
    """Density of the reading for each hypothesis whose true value lies from `low` to `high` (ohm or V)."""
    value, open_share, slip = observation.value, _share_open(low, high), reader.slip**observation.times
    if value is None:
        return (1 - slip) * open_share + slip_density(observation, reader)
    blur = float(reader.blur(value, observation.uncertainty)) / (value + SHIFT)
    x, left, right = log(value + SHIFT), scale(low), scale(np.minimum(high, OVER_RANGE))
    width = np.maximum(right - left, 0.05 * blur)
    inside = (_below((x - left) / blur) - _below((x - left - width) / blur)) / width
    density: Matrix = (1 - slip) * (1 - open_share) * inside + slip_density(observation, reader)
    return density


def _below(deviations: Matrix) -> Matrix:
    """The normal distribution function; the standard library's own spares loading a large library for one function."""
    return np.fromiter((0.5 * erfc(-z / sqrt(2)) for z in deviations.tolist()), dtype=float, count=len(deviations))


def slip_density(observation: Observation, reader: Reader) -> float:
    """Density of the reading if it is a slip, each time that it was taken."""
    return reader.slip**observation.times * (
        reader.slip_open if observation.value is None else (1 - reader.slip_open) / SPAN
    )


def explains(low: Matrix, high: Matrix, observation: Observation, reader: Reader) -> NDArray[np.bool_]:
    """Whether each hypothesis makes the reading likelier than a slip would."""
    better: NDArray[np.bool_] = likelihood(low, high, observation, reader) > 2 * slip_density(observation, reader)
    return better


def _share_open(low: Matrix, high: Matrix) -> Matrix:
    """The share of the box that lies beyond the meter's range."""
    left, right, end = scale(low), scale(high), np.log(OVER_RANGE + SHIFT)
    width = np.maximum(right - left, 1e-12)
    share: Matrix = np.clip((right - end) / width, 0.0, 1.0)
    return share
