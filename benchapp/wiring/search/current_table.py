"""The current that every hypothesis would draw at first power, through the limiter that was used.

A sound item draws what its kind of load draws. A fault adds what the circuit with it draws more, by the solver at mains
frequency, in phase where the iron's own current is a quarter turn behind. With the path from live to neutral open
nothing flows.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache, lru_cache, partial
from math import hypot, isfinite

import numpy as np

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.expected.limiters import Limiter
from benchapp.wiring.expected.sound_current import SoundCurrent, sound_current
from benchapp.wiring.faults.fault_modes import at_end, with_fault_modes
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.network.live import solve_live, supply_of
from benchapp.wiring.network.solve import Corner, Matrix, dead_network
from benchapp.wiring.search.hypotheses import Faults
from benchapp.wiring.search.observations import Observation

ROOM = 0.2  # share by which the current of a fault is taken to lie either way; common practice, no source
MORE = 0.05  # of the sound current: what adds less is as good as sound
IN_MILLI = 1e3  # currents are compared in mA, so that what a meter's last digit hides is near nothing
MOST_SOLVED = 4096


def as_compared(observation: Observation) -> Observation:
    """The observation in the unit in which its kind is compared: a current in mA."""
    if observation.kind is not Kind.current or observation.value is None:
        return observation
    value, blur = observation.value * IN_MILLI, observation.uncertainty * IN_MILLI
    return replace(observation, value=value, uncertainty=blur)


class CurrentTable:
    """The solved circuits of one search, kept for its next question."""

    def __init__(self, circuit: Circuit) -> None:
        self._circuit = circuit
        self._more = lru_cache(MOST_SOLVED)(self._more_drawn)
        self._own = cache(partial(self._drawn, circuit))

    def box(self, observation: Observation, hypotheses: Sequence[Faults]) -> tuple[Matrix, Matrix]:
        """The two ends (mA) of the current for every hypothesis."""
        limiter = observation.limiter
        assert limiter is not None
        sound = sound_current(self._circuit, limiter.mains)
        ends = np.array([self._ends(faults, observation.state, limiter, sound) for faults in hypotheses])
        return ends[:, 0] * IN_MILLI, ends[:, 1] * IN_MILLI

    def _ends(self, faults: Faults, state: State, limiter: Limiter, sound: SoundCurrent) -> tuple[float, float]:
        more = self._more(faults, state, limiter.mains)
        if more is None:
            return 0.0, 0.0
        low, high = limiter.least(sound.low), limiter.highest(sound.high)
        least, most = more
        if most > MORE * sound.low:
            high = limiter.highest(sound.high + most) * (1 + ROOM)
        if least > MORE * sound.low:
            low = max(low, limiter.resistive(hypot(sound.low, least)) * (1 - ROOM))
        return low, high

    def _more_drawn(self, faults: Faults, state: State, mains: float) -> tuple[float, float] | None:
        """How much more than a sound one it draws on full mains (A), at both ends of the sizes; None: nothing flows."""
        found = []
        for end in ("low", "high"):
            circuit = with_fault_modes(self._circuit, [at_end(one, end) for one in faults]) if faults else self._circuit
            if faults and not self._is_closed(circuit, state):
                return None
            found.append(abs(self._drawn(circuit, state, mains) - self._own(state, mains)))
        return min(found), max(found)

    def _is_closed(self, circuit: Circuit, state: State) -> bool:
        """Whether there is still a path from live to neutral, where a sound one has it."""
        supply = supply_of(circuit)
        return isfinite(dead_network(circuit, state, Corner.nominal).resistance(supply.live, supply.neutral))

    def _drawn(self, circuit: Circuit, state: State, mains: float) -> complex:
        return solve_live(circuit, supply_of(circuit), mains, state=state).current
