"""What has been read so far: the readings that the search for a fault rests on, dead and live."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from math import isfinite

from benchapp.errors import BenchError
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.quantities.entry import read_reading
from benchapp.quantities.quantity import Bound
from benchapp.wiring.expected.dead import barriers_between, check_terminals
from benchapp.wiring.expected.limiters import Limiter
from benchapp.wiring.model.assumptions import OPEN_AT_LEAST
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.network.solve import Corner, dead_network
from benchapp.words import say

TWICE = " twice"
"""behind a reading that was taken again and came out alike"""


class ObservationProblem(BenchError):
    """A reading that cannot be used: unknown terminals, the wrong kind, or given twice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One reading between two terminals: ohm, V or A (r.m.s.), None for OL; its standard uncertainty in the same unit.

    A current is that of first power, between live and neutral, through its `limiter`.

    A reading that was taken again and came out alike says so in `times`: two slips in a row are rare.
    """

    a: str
    b: str
    kind: Kind
    value: float | None
    uncertainty: float = 0.0
    mains: float | None = None  # V, for a live reading
    state: State = field(default_factory=State)
    times: int = 1
    limiter: Limiter | None = None
    shown: float | None = None  # ohm that the meter showed of insulation that is sound, and so counts as OL

    @property
    def pair(self) -> frozenset[str]:
        """The two terminals, in no order."""
        return frozenset({self.a, self.b})

    def words(self, circuit: Circuit) -> str:
        """ "OL between pin 1 and pin 4"."""
        shown = self.shown if self.value is None else self.value
        value = "OL" if shown is None else show(shown, self.kind)
        return f"{value} between {circuit.say(self.a)} and {circuit.say(self.b)}"


def read_observation(text: str, circuit: Circuit, *, mains: float | None = None) -> Observation:
    """Read "outlet.1,outlet.4=OL", "outlet.1,outlet.2=1.3 ohm", "outlet.1,outlet.2=7.1 V" or "… = 1.3 ohm twice".

    A live reading needs the mains voltage (V). Raises ObservationProblem or WiringProblem with a sentence.
    """
    ends, equals, typed = text.partition("=")
    terminals = [name.strip() for name in ends.split(",")]
    if not equals or len(terminals) != 2 or terminals[0] == terminals[1]:
        raise ObservationProblem(
            say("'{text}' is no reading; write it like 'outlet.1,outlet.4=OL' with two terminals.", text=text)
        )
    check_terminals(circuit, *terminals)
    shown = typed.strip().removesuffix(TWICE).strip()
    times = 2 if shown != typed.strip() else 1
    kind = Kind.voltage if shown.endswith("V") else Kind.resistance
    value = _value(text, shown, kind)
    if kind is Kind.voltage and mains is None:
        raise ObservationProblem(
            say("'{text}' was read with mains on; give the mains voltage too, like '--mains 243 V'.", text=text)
        )
    observation = Observation(a=terminals[0], b=terminals[1], kind=kind, value=value, mains=mains, times=times)
    return counted_as_open(observation, circuit)


def counted_as_open(observation: Observation, circuit: Circuit) -> Observation:
    """The observation, as OL where it reads as much as the insulation between the two terminals must have at least.

    Sound insulation is no open circuit: what the design's own limit passes is no evidence of a leak.
    """
    if observation.kind is not Kind.resistance or observation.value is None:
        return observation
    network = dead_network(circuit, observation.state, Corner.low)
    if isfinite(network.resistance(observation.a, observation.b)):
        return observation
    limits = [barrier.at_least for barrier in barriers_between(circuit, network, observation.a, observation.b)]
    return (
        replace(observation, value=None, shown=observation.value)
        if observation.value >= min(limits, default=OPEN_AT_LEAST)
        else observation
    )


def _value(text: str, shown: str, kind: Kind) -> float | None:
    """What the meter showed, in ohm or V; None for OL, which only an ohmmeter shows of a fault."""
    reading = read_reading(shown, kind=kind, unit="V" if kind is Kind.voltage else "ohm")
    if reading.bound is Bound.below:
        raise ObservationProblem(say("'{text}' is a limit, no reading; write what the meter shows.", text=text))
    if reading.bound is Bound.above or reading.si is None:
        if kind is Kind.voltage:
            raise ObservationProblem(
                say("'{text}': no output is over a voltmeter's range. Choose a larger range and read again.", text=text)
            )
        return None
    return float(reading.si)


def check_observations(observations: Iterable[Observation]) -> None:
    """Refuse two readings that say different things about the same pair in the same set-up."""
    seen: dict[tuple[frozenset[str], Kind, State], Observation] = {}
    for observation in observations:
        key = (observation.pair, observation.kind, observation.state)
        if key in seen:
            raise ObservationProblem(
                say(
                    "There are two readings between {a} and {b}: keep the one you trust and leave the other "
                    "out; where it came out the same again, write it once, with 'twice' behind it.",
                    a=observation.a,
                    b=observation.b,
                )
            )
        seen[key] = observation
