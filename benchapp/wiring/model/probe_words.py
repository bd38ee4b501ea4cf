"""Which probe goes where, in words; red and black are named only where they say which way round.

On DC, resistance and diodes the colours mean polarity. On AC they mean nothing, and on mains pins a colour would be
taken for that of a core (red was live once): there it is one probe and the other.
"""

from benchapp.wiring.model.circuit import Circuit
from benchapp.words import say


def has_mains_pin(circuit: Circuit, *terminals: str) -> bool:
    """Whether one of them is a pin of a mains connector."""
    return any(one in plug.terminals for plug in circuit.connectors.values() if plug.mains for one in terminals)


def are_coloured(circuit: Circuit, *terminals: str, alternating: bool = False) -> bool:
    """Whether the probes on these terminals are called by their colours."""
    return not alternating and not has_mains_pin(circuit, *terminals)


def say_probes(circuit: Circuit, a: str, b: str, *, alternating: bool = False, far: str = "") -> str:
    """Where the two probes go, black first; `far` says the second where it has other words than its terminal."""
    first, second = circuit.say(a), far or circuit.say(b)
    if are_coloured(circuit, a, b, alternating=alternating):
        return say("Black probe on {first}, red probe on {second}.", first=first, second=second)
    return say("One probe on {first}, the other on {second}.", first=first, second=second)
