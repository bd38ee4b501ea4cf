"""The size of the fault that leads the search: which share of the turns, how many ohm.

The hypotheses of the search stand for ranges, and within the tolerances of a design several ranges explain a reading
equally well. So once a suspect leads, its size is moved over the whole span of its mode, and the likeliest is taken:
the one whose nominal readings lie nearest to what was read, each deviation weighed by the meter's uncertainty and by
what tolerances allow (a rectangle of that half width has a standard deviation of its half width / √3; JCGM 100, 4.3.7).
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache, partial

import numpy as np

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.dictionary import OVER_RANGE, fault_dictionary
from benchapp.wiring.faults.fault_modes import FaultMode, with_fault_modes
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import NO_SIZE, Mode, Range
from benchapp.wiring.network.live import solve_live, supply_of
from benchapp.wiring.network.solve import Corner, Matrix, Network, dead_network
from benchapp.wiring.search.hypotheses import LIVE_SHARE, Faults, Networks
from benchapp.wiring.search.likelihood import SHIFT, Reader, scale
from benchapp.wiring.search.observations import Observation

STEPS, CLOSER = 33, 17  # sizes tried over the whole span, then between the neighbours of the best of them
RATIO = math.sqrt(3.0)  # half width of a rectangle over its standard deviation
FAR = 3.0  # standard deviations beyond which a reading counts in proportion, not squared: it may be a slip (Huber)


class MagnitudeEstimator:
    """Estimates sizes on one circuit; the sound circuit's networks are worked out once."""

    def __init__(self, circuit: Circuit, spans: Mapping[Mode, Sequence[Range]], reader: Reader) -> None:
        self._circuit, self._spans, self._reader = circuit, spans, reader
        self._networks: Networks = cache(partial(dead_network, circuit))

    def likeliest(self, faults: Faults, observations: Sequence[Observation]) -> Faults:
        """The same faults, the first that has a size with its likeliest one; unchanged where none has a size."""
        sized = next((one for one in faults if one.size != NO_SIZE and one.mode in self._spans), None)
        if sized is None or not observations:
            return faults
        others = tuple(fault_mode for fault_mode in faults if fault_mode is not sized)
        at = _sizes(self._spans[sized.mode])
        for _ in range(2):
            tried = tuple(replace(sized, size=Range(low=float(size), high=float(size))) for size in at)
            misfit = self._misfit(others, tried, observations)
            size, at = _lowest(at, misfit), _around(at, int(np.argmin(misfit)))
        return (replace(sized, size=Range(low=size, high=size)), *others)

    def _misfit(self, others: Faults, tried: Sequence[FaultMode], observations: Sequence[Observation]) -> Matrix:
        """How far each of the sizes tried is from all readings together: squared standard deviations."""
        total = np.zeros(len(tried))
        for state, some in _by_state(observations).items():
            dead = [observation for observation in some if observation.kind is Kind.resistance]
            if dead:
                total += self._dead(state, others, tried, dead)
            for observation in some:
                if observation.kind is Kind.voltage:
                    total += self._live(others, tried, observation)
        return total

    def _dead(
        self, state: State, others: Faults, tried: Sequence[FaultMode], observations: Sequence[Observation]
    ) -> Matrix:
        """Squared deviations of all dead readings in one set-up, for each size."""
        names = tuple(dict.fromkeys(end for observation in observations for end in (observation.a, observation.b)))
        tables = {
            corner: fault_dictionary(
                self._circuit, state, corner, tried, terminals=names, network=self._network(state, corner, others)
            )
            for corner in Corner
        }
        pairs = [frozenset({names[i], names[j]}) for i, j in tables[Corner.nominal].pairs]
        total, leads = np.zeros(len(tried)), sum(self._reader.leads) / 2
        for observation in observations:
            column = pairs.index(observation.pair)
            middle, low, high = (
                scale(np.minimum(tables[corner].faulty[:, column] + leads, OVER_RANGE))
                for corner in (Corner.nominal, Corner.low, Corner.high)
            )
            total += _squared(observation, middle, np.abs(high - low) / 2, self._reader)
        return total

    def _network(self, state: State, corner: Corner, others: Faults) -> Network:
        if others:
            return dead_network(with_fault_modes(self._circuit, others), state, corner)
        return self._networks(state, corner)

    def _live(self, others: Faults, tried: Sequence[FaultMode], observation: Observation) -> Matrix:
        supply, mains = supply_of(self._circuit), observation.mains or 0.0
        volts = []
        for one in tried:
            broken = with_fault_modes(self._circuit, (*others, one))
            solved = solve_live(broken, replace(supply, voltage=mains), mains, state=observation.state)
            volts.append(abs(solved.between(observation.a, observation.b) or 0.0))
        return _squared(observation, scale(np.array(volts)), np.full(len(tried), LIVE_SHARE), self._reader)


def _squared(observation: Observation, middle: Matrix, half: Matrix, reader: Reader) -> Matrix:
    """Squared deviation of one reading in standard deviations; `half` is the half width that tolerances allow."""
    value = OVER_RANGE if observation.value is None else observation.value
    blur = float(reader.blur(value, observation.uncertainty)) / (value + SHIFT)
    off: Matrix = (math.log(value + SHIFT) - middle) / np.sqrt(blur**2 + (half / RATIO) ** 2)
    return np.where(np.abs(off) <= FAR, off**2, FAR * (2 * np.abs(off) - FAR))


def _by_state(observations: Sequence[Observation]) -> dict[State, list[Observation]]:
    groups: dict[State, list[Observation]] = {}
    for observation in observations:
        groups.setdefault(observation.state, []).append(observation)
    return groups


def _sizes(ranges: Sequence[Range]) -> Matrix:
    """Sizes over the whole span of a mode."""
    low, high = min(one.low for one in ranges), max(one.high for one in ranges)
    return _evenly(low if high <= 1.0 else max(low, 0.1), high, STEPS)


def _around(at: Matrix, best: int) -> Matrix:
    return _evenly(float(at[max(best - 1, 0)]), float(at[min(best + 1, len(at) - 1)]), CLOSER)


def _evenly(low: float, high: float, count: int) -> Matrix:
    """Shares evenly; ohms and factors, which span decades, in equal ratios."""
    return np.linspace(low, high, count) if high <= 1.0 else np.geomspace(low, high, count)


def _lowest(at: Matrix, misfit: Matrix) -> float:
    """The size of least misfit: the vertex of the parabola through the least of those tried and its neighbours."""
    best = int(np.argmin(misfit))
    if not 0 < best < len(at) - 1:
        return float(at[best])
    left, middle, right = misfit[best - 1 : best + 2]
    bend = left - 2 * middle + right
    step = 0.0 if bend <= 0 else 0.5 * (left - right) / bend
    below, here, above = at[best - 1 : best + 2]
    return float(here + step * ((above - here) if step > 0 else (here - below)))
