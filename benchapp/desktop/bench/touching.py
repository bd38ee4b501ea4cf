"""Where the probes go: from a step's terminals to the faces that are drawn.

Black goes to the first terminal, red to the second; where a colour would mislead it is one probe and the other.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from benchapp.desktop.widgets.face_parts import FacePart, Touch
from benchapp.judgement.meters.functions import ALTERNATING

if TYPE_CHECKING:
    from benchapp.sequences.planning.planned import Plan, PlannedStep

_COLOURED, _PLAIN = ("black", "red"), ("one", "other")


def face_parts(plan: "Plan", step: "PlannedStep") -> tuple[FacePart, ...]:
    """The faces (and bare metal) that a step touches, each with its probes; nothing when the step names no terminal."""
    joined = step.circuit_state.joined if step.circuit_state is not None else ()
    return parts_touched(plan, step.terminals, step.set_up, joined=joined, alternating=step.function in ALTERNATING)


def parts_touched(
    plan: "Plan",
    terminals: Sequence[str],
    set_up: Sequence[str],
    *,
    joined: Sequence[tuple[str, str]] = (),
    alternating: bool = False,
) -> tuple[FacePart, ...]:
    """The same for any two terminals, read in that set-up.

    With the lead off its far end is in the hand, mirrored against the inlet: said in words, never drawn as the inlet.
    """
    from benchapp.wiring.assembly.lead import LEAD_OFF, far_ends
    from benchapp.wiring.model.probe_words import are_coloured

    in_words = far_ends(plan.circuit) if LEAD_OFF in set_up else {}
    probes = _COLOURED if are_coloured(plan.circuit, *terminals, alternating=alternating) else _PLAIN
    parts: dict[str, list[Touch]] = {}
    for number, terminal in enumerate(terminals):
        connector, _, pin = terminal.partition(".")
        probe = probes[number] if number < len(probes) and len(terminals) > 1 else probes[1]
        known = connector in plan.connectors and bool(pin) and terminal not in in_words
        plain = in_words.get(terminal) or _plain(plan, terminal)
        spot, name = (pin, connector) if known else (plain, plain)
        parts.setdefault(name, []).append(Touch(spot=spot, probe=probe, terminal=terminal))
    return tuple(_part(plan, name, tuple(touches), joined) for name, touches in parts.items())


def _part(plan: "Plan", name: str, touches: tuple[Touch, ...], joined: Sequence[tuple[str, str]]) -> FacePart:
    from benchapp.wiring.model.faces import face

    connector = plan.connectors.get(name)
    if connector is None:
        return FacePart(title=name, face=None, touches=touches)
    ends = (tuple(one.partition(".") for one in pair) for pair in joined)
    wires = tuple((a[2], b[2]) for a, b in ends if a[0] == b[0] == name)
    return FacePart(
        title=connector.title, face=face(connector), touches=touches, short=connector.say, joined=wires, connector=name
    )


def _plain(plan: "Plan", terminal: str) -> str:
    """What to touch where there is no connector, in the equipment's own words."""
    return str(plan.circuit.say(terminal))
