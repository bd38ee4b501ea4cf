"""The pairs of terminals that are probed, in which order, and what should be read there.

Earth, isolation and unused pins are always probed. Continuity takes the fewest probes that together reveal every
single fault that this connector can show at all; a probe reveals a fault only where its faulty and its sound band
do not overlap. Black stays put while red walks.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from benchapp.judgement.statements.band import Band
from benchapp.wiring.assembly.lead import cores_of, far_ends, parts_of_unit
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.model.circuit import Circuit, Plug, State, unknown
from benchapp.wiring.model.probe_words import say_probes
from benchapp.wiring.model.remembered import remembered
from benchapp.wiring.network.diodes import WHICH_PROBE
from benchapp.wiring.network.solve import Corner, Network, dead_network

if TYPE_CHECKING:
    from benchapp.wiring.probing.coverage import Ohmmeter

Pair = tuple[str, str]
MANY = 12
"""Groups apart on one connector from which on nobody walks every pair (66 of them): own choice"""


class ProbeKind(StrEnum):
    """Why a probe is taken: each kind answers another question."""

    earth = "earth"
    isolation = "isolation"
    unused = "unused"
    continuity = "continuity"
    lead = "lead"


ALL_KINDS = frozenset(ProbeKind)


@dataclass(frozen=True, slots=True, kw_only=True)
class Probe:
    """One reading of the plan: black probe on `a`, red probe on `b`, the words to say and the band to meet."""

    id: str
    kind: ProbeKind
    a: str
    b: str
    say: str
    band: Band
    why: str

    @property
    def fixed(self) -> bool:
        """Whether a diode makes it count which probe is on which end."""
        return WHICH_PROBE in self.band.cautions


@remembered
def probe_plan(
    circuit: Circuit,
    connector: str,
    what: frozenset[ProbeKind] = ALL_KINDS,
    *,
    state: State | None = None,
    meter: "Ohmmeter | None" = None,
) -> tuple[Probe, ...]:
    """The probes of one connector, in the order of ProbeKind and then easy on the hand.

    With another `meter` than a usual hand meter other probes may be the fewest that reveal.
    Raises WiringProblem for a connector that the circuit does not have.
    """
    from benchapp.wiring.probing.coverage import continuity_pairs

    if connector not in circuit.connectors:
        raise unknown("connector", connector, tuple(circuit.connectors))
    state, plug = state or State(), circuit.connectors[connector]
    network = dead_network(circuit, state, Corner.low)
    finders = {ProbeKind.earth: _earth, ProbeKind.isolation: _isolation, ProbeKind.unused: _unused}
    probes: list[Probe] = []
    for kind, find in finders.items():
        if kind in what:
            probes += _probes(circuit, kind, find(circuit, plug, network), state)
    if ProbeKind.continuity in what:
        shown = continuity_pairs(circuit, plug, state, [(probe.a, probe.b) for probe in probes], meter)
        whys = {pair: f"shows {parts}" for pair, parts in shown.items()}
        probes += _probes(circuit, ProbeKind.continuity, whys, state)
    if ProbeKind.lead in what:
        probes += _lead(circuit, plug)
    return tuple(probes)


def _lead(circuit: Circuit, plug: Plug) -> Iterator[Probe]:
    """A lead that can be taken off, by itself: each core from its pin of the plug to its far end."""
    if circuit.cord is None or not circuit.cord.detachable:
        return
    state, words = State(open_parts=parts_of_unit(circuit)), far_ends(circuit)
    for core in cores_of(circuit):
        if core.pin in plug.terminals:
            yield Probe(
                id=f"{core.pin}-{core.far}",
                kind=ProbeKind.lead,
                a=core.pin,
                b=core.far,
                say=say_probes(circuit, core.pin, core.far, far=words[core.far]),
                band=expected_resistance(circuit, core.pin, core.far, state=state, red_on_b=True),
                why=f"lead off the unit: shows {circuit.part_names[core.part]} whole, and at its own contact",
            )


def _probes(circuit: Circuit, kind: ProbeKind, whys: dict[Pair, str], state: State) -> list[Probe]:
    """Probes that may be exchanged first, turned so that black stays put; then those that a diode fixes."""
    probes = {pair: _probe(circuit, kind, pair, why, state) for pair, why in whys.items()}
    fixed = [probe for probe in probes.values() if probe.fixed]
    free = {frozenset(pair): whys[pair] for pair, probe in probes.items() if not probe.fixed}
    turned = in_order([(min(pair), max(pair)) for pair in free], circuit)
    place = {terminal: index for index, terminal in enumerate(circuit.terminals)}
    return [
        *(_probe(circuit, kind, pair, free[frozenset(pair)], state) for pair in turned),
        *sorted(fixed, key=lambda probe: (place[probe.a], place[probe.b])),
    ]


def _probe(circuit: Circuit, kind: ProbeKind, pair: Pair, why: str, state: State) -> Probe:
    a, b = pair
    return Probe(
        id=f"{a}-{b}",
        kind=kind,
        a=a,
        b=b,
        say=say_probes(circuit, a, b),
        band=expected_resistance(circuit, a, b, state=state, red_on_b=True),
        why=why,
    )


def _earth(circuit: Circuit, plug: Plug, network: Network) -> dict[Pair, str]:
    """From the connector's earth pin to every bonded touchable point."""
    pin = f"{plug.name}.E"
    if pin not in plug.terminals or pin in plug.unused:
        return {}
    return {
        (pin, point): f"the protective path reaches {circuit.say(point)}; its safety limit has a step of its own"
        for point in circuit.exposed
        if _together(network, pin, point)
    }


def _isolation(circuit: Circuit, plug: Plug, network: Network) -> dict[Pair, str]:
    """One probe between each group on this connector and each other group that a terminal reaches.

    Of many groups, as in a harness, only those with pins side by side, those that a barrier of the file keeps apart,
    and mains and bare metal from all.
    """
    groups = _groups(circuit, network)
    here = {_group(network, terminal) for terminal in plug.terminals if terminal not in plug.unused}
    wanted = _may_meet(circuit, network) if len(here) > MANY else None
    outputs = {pin for other in circuit.output_connectors for pin in other.terminals}
    apart = {_group(network, terminal) for terminal in circuit.terminals if terminal not in outputs}
    pairs: dict[Pair, str] = {}
    done: set[frozenset[int]] = set()
    for terminal in (t for t in plug.terminals if t not in plug.unused):
        own = _group(network, terminal)
        for other, members in groups.items():
            pair = frozenset({own, other})
            if other != own and pair not in done and (wanted is None or pair & apart or pair in wanted):
                done.add(pair)
                far = _handiest(members, circuit, plug)
                pairs[terminal, far] = f"{circuit.say(terminal)} and {circuit.say(far)} must stay apart"
    return pairs


def _may_meet(circuit: Circuit, network: Network) -> set[frozenset[int]]:
    """Groups that a bridge between neighbouring pins or a leak in a barrier would join."""
    beside = {
        frozenset({_group(network, a), _group(network, b)})
        for plug in circuit.connectors.values()
        for a, b in plug.neighbours
        if not {a, b} & plug.unused
    }
    walls = {
        frozenset({_group(network, a), _group(network, b)})
        for barrier in circuit.barriers
        for a in barrier.side_a
        for b in barrier.side_b
    }
    return beside | walls


def _unused(circuit: Circuit, plug: Plug, network: Network) -> dict[Pair, str]:
    """From each unused pin to every group on the connector, at its nearest pin; of many only to those beside it."""
    pairs: dict[Pair, str] = {}
    for pin in (terminal for terminal in plug.terminals if terminal in plug.unused | _left_over(circuit)):
        near = [other for pair in plug.neighbours if pin in pair for other in pair if other != pin]
        used = [t for t in (*near, *plug.terminals) if t not in plug.unused and t != pin]
        if len({_group(network, t) for t in plug.terminals}) > MANY:
            beside = [t for t in near if t not in plug.unused]
            used = beside or [t for t in plug.terminals if t not in plug.unused and t != pin]
        first_of_group = {_group(network, t): t for t in reversed(used)}
        pairs |= {
            (pin, terminal): f"{circuit.say(pin)} is connected to nothing" for terminal in first_of_group.values()
        }
    return pairs


def _left_over(circuit: Circuit) -> set[str]:
    """Terminals at which every part is one that this unit does not have."""
    ends = [(end, branch.part) for branch in circuit.branches for end in (branch.a, branch.b)]
    kept = {end for end, part in ends if part not in circuit.missing}
    return {end for end, _ in ends} - kept if circuit.missing else set()


def _groups(circuit: Circuit, network: Network) -> dict[int, list[str]]:
    """Terminals that hang together, by group; pins with nothing on them are left out."""
    unused = {pin for plug in circuit.connectors.values() for pin in plug.unused}
    groups: dict[int, list[str]] = {}
    for terminal in circuit.terminals:
        if terminal not in unused:
            groups.setdefault(_group(network, terminal), []).append(terminal)
    return groups


def _group(network: Network, terminal: str) -> int:
    return int(network.group[network.number[terminal]])


def _together(network: Network, a: str, b: str) -> bool:
    return _group(network, a) == _group(network, b)


def _handiest(members: list[str], circuit: Circuit, plug: Plug) -> str:
    """Of a group's terminals the one that is easiest to reach: bare metal, then this connector, then the first."""
    points = [t for t in members if t in circuit.exposed]
    here = [t for t in members if t in plug.terminals]
    return (points or here or members)[0]


def in_order(pairs: list[Pair], circuit: Circuit) -> list[Pair]:
    """Pairs turned and sorted so that black stays on the terminal that most of them share while red walks."""
    left, ordered = list(pairs), []
    place = {terminal: index for index, terminal in enumerate(circuit.terminals)}
    while left:
        count = {t: sum(t in pair for pair in left) for pair in left for t in pair}
        black = min(count, key=lambda t: (-count[t], place[t]))
        walk = [pair for pair in left if black in pair]
        reds = sorted((pair[1] if pair[0] == black else pair[0] for pair in walk), key=place.__getitem__)
        ordered += [(black, red) for red in reds]
        left = [pair for pair in left if black not in pair]
    return ordered
