"""What an ohmmeter should read between two terminals, and why: a band with its derivation.

Isolation and unused pins get a band with a lower limit alone: open circuit (OL) meets it.
"""

from collections.abc import Mapping

from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.assembly.unit import OWN
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.assumptions import FILE
from benchapp.wiring.model.circuit import Barrier, Circuit, State, unknown
from benchapp.wiring.network.diodes import BEWARE, NOTICED, WHICH_PROBE, Polarity, diodes_between
from benchapp.wiring.network.solve import Corner, Network, dead_network
from benchapp.words import say

COUNTS = 0.02  # a part is named in the derivation from this share of the reading on
NEAR_NOTHING = 0.05  # ohm: a lower limit below it tells nothing on a hand meter and is left out; common practice


def expected_resistance(
    circuit: Circuit,
    a: str,
    b: str,
    *,
    state: State | None = None,
    temperature: float | None = None,
    lead_resistance: float = 0.0,
    red_on_b: bool = False,
) -> Band:
    """Band (ohm) for the dead reading between two terminals, whichever probe is on which; or with red on `b`.

    `temperature` in °C (None: 15 to 35 °C assumed), `lead_resistance` in ohm stays in the reading and is added.
    Raises WiringProblem for a terminal that does not exist.
    """
    state = state or State()
    check_terminals(circuit, a, b)
    ways = _ways(circuit, state, a, b, red_on_b=red_on_b)
    networks = {corner: dead_network(circuit, state, corner, temperature=temperature) for corner in Corner}
    if ways:
        lowest = [dead_network(circuit, state, Corner.low, temperature=temperature, forward=way) for way in ways]
        networks[Corner.low] = min(lowest, key=lambda network: network.resistance(a, b))
    low, high = (networks[corner].resistance(a, b) for corner in (Corner.low, Corner.high))
    if low == float("inf"):
        return _isolation(circuit, networks[Corner.low], a, b)
    reasons = _reasons(circuit, networks, (a, b), temperature, lead_resistance)
    lower = low + lead_resistance if low >= NEAR_NOTHING else None
    upper = None if high == float("inf") else high + lead_resistance + assumptions.PROBE_CONTACT
    expected = networks[Corner.nominal].resistance(a, b)
    return Band(
        kind=Kind.resistance,
        unit="ohm",
        lower=lower,
        upper=upper,
        expected=None if expected == float("inf") else expected + lead_resistance,
        derivation=(*reasons, _result(lower, upper)),
        cautions=(
            *_missing_cautions(circuit, networks[Corner.nominal], a, b),
            *_diode_cautions(circuit, state, a, b, red_on_b=red_on_b),
            *_charge_cautions(circuit, networks[Corner.low], a),
        ),
    )


def check_terminals(circuit: Circuit, *terminals: str) -> None:
    """Raise WiringProblem for the first name that is no terminal of the circuit."""
    for terminal in terminals:
        if terminal not in circuit.terminals:
            raise unknown("terminal", terminal, circuit.terminals)


def _isolation(circuit: Circuit, network: Network, a: str, b: str) -> Band:
    between = barriers_between(circuit, network, a, b)
    at_least = min((barrier.at_least for barrier in between), default=assumptions.OPEN_AT_LEAST)
    reasons = tuple(
        DerivationStep(what=circuit.part_names[barrier.part], value=_ohms(barrier.at_least), source=barrier.stated)
        for barrier in between
    )
    usual = DerivationStep(what="nothing joins the two", value=_ohms(at_least), source=assumptions.COMMON_PRACTICE)
    return Band(
        kind=Kind.resistance,
        unit="ohm",
        lower=at_least,
        upper=None,
        derivation=(*(reasons or (usual,)), _result(at_least, None)),
        cautions=("OL counts only with leads that were proved before and after.",),
    )


def barriers_between(circuit: Circuit, network: Network, a: str, b: str) -> list[Barrier]:
    """The barriers that keep the groups of two terminals apart."""
    one, other = (_fellows(network, terminal) for terminal in (a, b))
    return [
        barrier
        for barrier in circuit.barriers
        if (barrier.side_a & one and barrier.side_b & other) or (barrier.side_a & other and barrier.side_b & one)
    ]


def _fellows(network: Network, node: str) -> set[str]:
    group = network.group
    own = group[network.number[node]]
    return {name for name, number in network.number.items() if group[number] == own}


def _reasons(
    circuit: Circuit,
    networks: Mapping[Corner, Network],
    ends: tuple[str, str],
    temperature: float | None,
    lead_resistance: float,
) -> tuple[DerivationStep, ...]:
    """A line for every part that makes up a good part of the reading, then temperature and leads."""
    shares = networks[Corner.high].shares(*ends) or networks[Corner.low].shares(*ends)
    whole = sum(shares.values())
    lines = [
        DerivationStep(what=circuit.part_names[part], value=words, source=source)
        for part, share in sorted(shares.items(), key=lambda item: -item[1])
        for words, source in (_stated(circuit, part) if part else ())
        if share > COUNTS * whole or words.startswith(OWN)
    ]
    if any(branch.copper and shares.get(branch.part, 0) > COUNTS * whole for branch in circuit.branches):
        lines.append(_temperature(temperature))
    if whole < 100 * assumptions.PROBE_CONTACT:
        contact = f"0 ohm to {_ohms(assumptions.PROBE_CONTACT)}"
        lines.append(DerivationStep(what="contact of the probes", value=contact, source=assumptions.COMMON_PRACTICE))
    if lead_resistance:
        lines.append(DerivationStep(what="test leads", value=_ohms(lead_resistance), source="measured at the bench"))
    return tuple(lines)


def _stated(circuit: Circuit, part: str) -> list[tuple[str, str]]:
    ohms = [b.resistance for b in circuit.branches if b.part == part and b.resistance is not None]
    if not ohms:
        least = f"{_ohms(assumptions.DIODE_FORWARD)} or more the way it conducts, or nothing at all"
        blocking = f"{_ohms(assumptions.DIODE_BLOCKING)} or more the other way"
        return [(f"{least}; {blocking}", assumptions.COMMON_PRACTICE)]
    return [(stated, _source(stated)) for stated in dict.fromkeys(one.stated for one in ohms)]


def _source(stated: str) -> str:
    """Where a resistance comes from: what the unit has of its own, what is usual, else the file."""
    if stated.startswith(OWN):
        return "this unit's own facts"
    return assumptions.COMMON_PRACTICE if stated.startswith("a ") else FILE


def _temperature(temperature: float | None) -> DerivationStep:
    source = "copper 0.00393 per kelvin at 20 °C, IEC 60228 Annex B"
    if temperature is None:
        low, high = assumptions.ROOM
        return DerivationStep(what="winding temperature", value=f"assumed {low:g} °C to {high:g} °C", source=source)
    return DerivationStep(what="winding temperature", value=f"{temperature:g} °C", source=source)


def _result(lower: float | None, upper: float | None) -> DerivationStep:
    if upper is None:
        words = f"at least {_ohms(lower or 0.0)}"
    else:
        words = f"at most {_ohms(upper)}" if lower is None else f"{_ohms(lower)} to {_ohms(upper)}"
    return DerivationStep(what="so the reading should be", value=words, source="resistance of the network")


def _ways(circuit: Circuit, state: State, a: str, b: str, *, red_on_b: bool) -> tuple[frozenset[int], ...]:
    """Which diodes can conduct: with red on b, or with either probe there; none where no diode lies between."""
    if not diodes_between(circuit, state, a, b):
        return ()
    polarity = Polarity(circuit, state)
    return (polarity.forward(b, a),) if red_on_b else (polarity.forward(b, a), polarity.forward(a, b))


def _diode_cautions(circuit: Circuit, state: State, a: str, b: str, *, red_on_b: bool) -> tuple[str, ...]:
    """What to say where diodes move the reading by what a meter shows, and where the probes may not be exchanged."""
    ways = _ways(circuit, state, a, b, red_on_b=False)
    if not ways:
        return ()
    absent = dead_network(circuit, state, Corner.nominal).resistance(a, b)
    read = [dead_network(circuit, state, Corner.nominal, forward=way).resistance(a, b) for way in ways]
    if min(read) > (1 - NOTICED) * absent:
        return ()
    turned = red_on_b and min(read) < (1 - NOTICED) * max(read)
    return (BEWARE, WHICH_PROBE) if turned else (BEWARE,)


def _missing_cautions(circuit: Circuit, network: Network, a: str, b: str) -> tuple[str, ...]:
    """A path through what this unit does not have: it is asked for all the same."""
    shares = network.shares(a, b)
    names = [circuit.part_names[part] for part in sorted(circuit.missing) if shares.get(part, 0.0) > 0]
    return (
        (say("This unit has no {listed}: it must fail until it has one.", listed=", ".join(_bare(names))),)
        if names
        else ()
    )


def _bare(names: list[str]) -> list[str]:
    return [name.removeprefix("the ") for name in names]


def _charge_cautions(circuit: Circuit, network: Network, a: str) -> tuple[str, ...]:
    fellows = _fellows(network, a)
    if any(branch.kind.charges for branch in circuit.branches if {branch.a, branch.b} & fellows):
        return ("A capacitor lies on this side: discharge it first, and wait until the reading stands still.",)
    return ()


def _ohms(value: float) -> str:
    return show(value, Kind.resistance)
