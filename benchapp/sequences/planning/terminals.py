"""The terminals of a circuit that a step means, and the state that the circuit is in while the step is done.

A step written for many designs says supply.L, supply.N, supply.E, case or outputs; one for a single design names the
terminal itself ("outlet.3"). A set-up may say: switch on, switch off, fuse in, fuse out, L and N joined, lead off,
selector at 240 V, a switch of the circuit by its own name (speed at 19), load of 15 ohm on outlet.1 and outlet.2 for at
most 20 s.
What changes no circuit is confirmed by hand and begins with "see that": see that the cover is closed.
"""

import re
from collections.abc import Mapping

from benchapp.errors import BenchError
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.sequences.language.vocabulary import FactValue
from benchapp.sequences.planning.paths import earth_pin
from benchapp.sequences.planning.planned import Plan
from benchapp.wiring.assembly.lead import LEAD_OFF, parts_of_unit
from benchapp.wiring.assembly.unit import UnitSettings, circuit_of_unit, selector_position, settings_of
from benchapp.wiring.model.circuit import Circuit, Load, State

_SWITCH = re.compile(r"(?:power )?switch (on|off)")
_FUSE = re.compile(r"(?:plug )?fuse (in|out)")
_SELECTOR = re.compile(r"selector at (.+)")
_NAMED = re.compile(r"(?P<switch>[a-z][a-z0-9-]*) at (?P<position>.+)")
_BY_HAND = re.compile(r"see that .+")
_JOINED = re.compile(r"L and N joined")
_LOAD = re.compile(r"load of (?P<size>.+?) on (?P<a>\S+) and (?P<b>\S+?)(?: for at most (?P<span>.+))?")

PLAIN_SET_UPS = ("switch on", "switch off", "fuse in", "fuse out", "L and N joined", LEAD_OFF)
LOAD = "load of 15 ohm on outlet.1 and outlet.2 for at most 20 s"
SET_UPS = (*PLAIN_SET_UPS, "selector at 240 V", LOAD)
"""What a set-up may say, for whoever wrote something else; beside it a switch by name, and "see that ..." """
INSULATION_SET_UP = ("switch on", "fuse in", "L and N joined")
"""Without these an insulation test means nothing: behind an open switch or fuse nothing is tested."""


def say_set_up(item: str) -> str:
    """A line of a set-up as it is shown: a switch is the item's own, not the one at the wall."""
    found = _SWITCH.fullmatch(item)
    return f"the item's own switch {found[1]}" if found else item


class TerminalProblem(BenchError):
    """A step names a terminal that this equipment does not have."""


def terminal_of(circuit: Circuit, word: str) -> str:
    """The terminal that a step's word means on this circuit; raises TerminalProblem."""
    found = _by_role(circuit, word) if word.startswith("supply.") or word in ("outputs", "case") else word
    if found in circuit.terminals:
        return found
    raise TerminalProblem(
        f"{circuit.equipment} has no terminal “{word}”; it has {', '.join(circuit.terminals)}, "
        "and supply.L, supply.N, supply.E, case and outputs where they exist"
    )


def _by_role(circuit: Circuit, word: str) -> str:
    if word == "case":
        return _case(circuit)
    if word == "outputs":
        return next((plug.terminals[0] for plug in circuit.output_connectors), _touched(circuit))
    if circuit.supply is None:
        return ""
    if word == "supply.L":
        return circuit.supply.live
    if word == "supply.N":
        return circuit.supply.neutral
    return earth_pin(circuit)


def _case(circuit: Circuit) -> str:
    return "case" if "case" in circuit.terminals else _touched(circuit)


def _touched(circuit: Circuit) -> str:
    """The first point that can be touched: where nothing comes out, mains is kept from the outside."""
    return next((terminal for terminal in circuit.terminals if "." not in terminal), "")


def circuit_state(circuit: Circuit, set_up: tuple[str, ...]) -> State:
    """The state that the words of a set-up put the circuit in; words it does not know change nothing in it."""
    switches: dict[str, str] = {}
    fuses_in: frozenset[str] | None = None
    joined: tuple[tuple[str, str], ...] = ()
    selector: str | None = None
    apart = parts_of_unit(circuit) if LEAD_OFF in set_up else frozenset[str]()
    for words in set_up:
        if found := _SWITCH.fullmatch(words):
            switches.update(_all_switches(circuit, found[1]))
        elif found := _FUSE.fullmatch(words):
            fuses_in = None if found[1] == "in" else _without_plug_fuse(circuit)
        elif _JOINED.fullmatch(words) and circuit.supply is not None:
            joined = ((circuit.supply.live, circuit.supply.neutral),)
        elif found := _SELECTOR.fullmatch(words):
            selector = selector_position(circuit, found[1]) or found[1]
        elif (found := _NAMED.fullmatch(words)) and found["switch"] in circuit.switches:
            switches[found["switch"]] = found["position"]
    return State(
        switches=frozenset(switches.items()), fuses_in=fuses_in, joined=joined, selector=selector, open_parts=apart
    )


def named_switch(words: str) -> tuple[str, str] | None:
    """The switch and the position that a set-up names itself ("speed at 19"); None for any other set-up."""
    found = None if _SELECTOR.fullmatch(words) else _NAMED.fullmatch(words)
    return (found["switch"], found["position"]) if found else None


def selector_wanted(words: str) -> str:
    """The position of the voltage selector that a set-up asks for; empty where it asks for none."""
    found = _SELECTOR.fullmatch(words)
    return found[1] if found else ""


def load_terminals(words: str) -> tuple[str, ...]:
    """The two terminals across which a set-up lays a load; none for any other set-up."""
    found = _LOAD.fullmatch(words)
    return (found["a"], found["b"]) if found else ()


def load_quantities(words: str) -> tuple[tuple[str, Kind], ...]:
    """The values that a set-up of a load states, with the kind that each must be; none for any other set-up."""
    found = _LOAD.fullmatch(words)
    if found is None:
        return ()
    span = ((found["span"], Kind.time),) if found["span"] else ()
    return ((found["size"], Kind.resistance), *span)


def is_set_up(words: str) -> bool:
    """Whether the words are of a form that a set-up may have; a switch named in them may still exist nowhere."""
    return words == LEAD_OFF or any(
        form.fullmatch(words) for form in (_SWITCH, _FUSE, _JOINED, _SELECTOR, _NAMED, _LOAD, _BY_HAND)
    )


def loads_of(circuit: Circuit, set_up: tuple[str, ...]) -> tuple[Load, ...]:
    """The resistors that a set-up lays across outputs; raises EntryProblem or TerminalProblem for what cannot be."""
    found = [match for words in set_up if (match := _LOAD.fullmatch(words))]
    for match in found:
        if match["span"]:
            read_quantity(match["span"], kind=Kind.time)
    return tuple(
        Load(
            a=terminal_of(circuit, match["a"]),
            b=terminal_of(circuit, match["b"]),
            ohms=read_quantity(match["size"], kind=Kind.resistance).si,
        )
        for match in found
    )


def _all_switches(circuit: Circuit, position: str) -> dict[str, str]:
    return {s.part: position for s in circuit.switches.values() if not s.selector and position in s.positions}


def _without_plug_fuse(circuit: Circuit) -> frozenset[str]:
    """The fuses left in when the one at the supply's own terminals is out."""
    supply = {circuit.supply.live, circuit.supply.neutral} if circuit.supply else set()
    out = {branch.part for branch in circuit.branches if branch.kind.removable and {branch.a, branch.b} & supply}
    return frozenset(name for name, kind in circuit.parts.items() if kind.removable and name not in out)


def settings_now(plan: Plan, facts: Mapping[str, FactValue]) -> UnitSettings:
    """What the unit with these facts has of its own."""
    return settings_of(facts, plan.circuit)


def circuit_now(plan: Plan, facts: Mapping[str, FactValue]) -> Circuit:
    """The circuit of the unit with these facts; the plan's own where nothing differs."""
    return circuit_of_unit(plan.circuit, settings_now(plan, facts))
