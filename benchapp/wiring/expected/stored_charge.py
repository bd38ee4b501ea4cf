"""Where charge may sit in a unit after power: which capacitors, how high at most, and how long they take to let go.

The wait follows from what is across a capacitor, t = RC ln(V0 / 42 V), with R and C at their upper tolerance
(any circuit text; 42.4 V DC is the accessible limit of IEC 60335-1 8.1.4, confirmed (std text on forum)). It never
stands in place of a reading: a resistor may be open.
"""

from dataclasses import dataclass
from math import inf, log, sqrt

from benchapp.wiring.model.circuit import Branch, Circuit, State
from benchapp.wiring.model.groups import groups_of
from benchapp.wiring.network.solve import network_of

HANDS_IN_BELOW = 42.0
"""V DC"""
WORTH_READING = 25.0
"""V: what is proved low on the way back in every region shipped"""
HOLDS_FROM = 1e-7
"""F: up to this a charge is exempt (IEC 60335-1 22.5 and 8.1.4, confirmed (std text on forum))"""
MAINS_HIGH = 1.1
"""of the rated supply: how far mains may stand above it (common practice, no source)"""
NO_PATH = 1e8
"""ohm: more than this across a capacitor lets nothing go while somebody waits (common practice, no source)"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reservoir:
    """A capacitor that may hold charge: V at most, F at most, and ohm across it at most (infinite: nothing known)."""

    part: str
    a: str
    b: str
    volts: float
    farads: float
    ohms: float

    @property
    def seconds(self) -> float:
        """Until it is below 42 V through what is across it; infinite where nothing is."""
        if self.volts <= HANDS_IN_BELOW:
            return 0.0
        return self.ohms * self.farads * log(self.volts / HANDS_IN_BELOW) if self.ohms < NO_PATH else inf


def longest_wait(circuit: Circuit) -> float:
    """Seconds until the slowest of its capacitors that let go is below 42 V."""
    return max((one.seconds for one in reservoirs(circuit) if one.seconds < inf), default=0.0)


def reservoirs(circuit: Circuit, above: float = WORTH_READING) -> tuple[Reservoir, ...]:
    """The capacitors on which more than `above` volts may sit, in the order of the file; none without a supply."""
    if circuit.supply is None:
        return ()
    island = groups_of(circuit, _joins)
    found = []
    bleeding = network_of(circuit, State(), _bleeding)
    for branch in circuit.branches:
        farads = _largest(branch)
        volts = _highest(circuit, island, branch)
        if branch.kind.charges and farads > HOLDS_FROM and volts > above:
            ohms = bleeding.resistance(branch.a, branch.b)
            found.append(Reservoir(part=branch.part, a=branch.a, b=branch.b, volts=volts, farads=farads, ohms=ohms))
    return tuple(found)


def _joins(branch: Branch) -> bool:
    return branch.kind.conducts or branch.kind.charges


def _bleeding(_number: int, branch: Branch) -> float | None:
    """What lets charge go, at its upper tolerance; a diode may block."""
    return None if branch.kind.one_way or branch.resistance is None else max(branch.resistance.high, 1e-6)


def _largest(branch: Branch) -> float:
    """At the upper end of its tolerance, which its tolerance range holds as a share of its impedance."""
    smallest = min((end.ohms for ends in branch.tolerance_ranges for end in ends), default=1.0)
    return (branch.farads or 0.0) / smallest


def _highest(circuit: Circuit, island: dict[str, int], branch: Branch) -> float:
    """The peak of all that feeds its part of the circuit, doubled where two diodes may add up."""
    here, supply = island[branch.a], circuit.supply
    assert supply is not None
    fed = supply.voltage if here in (island[supply.live], island[supply.neutral]) else 0.0
    wound = sum(abs(one.emf.high) for one in circuit.branches if one.emf is not None and island[one.a] == here)
    diodes = sum(one.kind.one_way and island[one.a] == here for one in circuit.branches)
    return sqrt(2) * MAINS_HIGH * max(fed, wound) * (2 if diodes > 1 else 1)
