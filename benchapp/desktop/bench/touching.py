"""Where the probes go: from a step's terminals to the faces that are drawn.

Black goes to the first terminal, red to the second.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from benchapp.desktop.widgets.face_parts import FacePart, Touch

if TYPE_CHECKING:
    from benchapp.sequences import Plan, PlannedStep

_PROBES = ("black", "red")


def face_parts(plan: "Plan", step: "PlannedStep") -> tuple[FacePart, ...]:
    """The faces (and bare metal) that a step touches, each with its probes; nothing when the step names no terminal."""
    return parts_touched(plan, step.terminals)


def parts_touched(plan: "Plan", terminals: Sequence[str]) -> tuple[FacePart, ...]:
    """The same for any two terminals."""
    parts: dict[str, list[Touch]] = {}
    for number, terminal in enumerate(terminals):
        connector, _, pin = terminal.partition(".")
        probe = _PROBES[number] if number < len(_PROBES) and len(terminals) > 1 else "red"
        known = connector in plan.connectors and bool(pin)
        spot = pin if known else _plain(plan, terminal)
        parts.setdefault(connector if known else terminal, []).append(Touch(spot=spot, probe=probe))
    return tuple(_part(plan, name, tuple(touches)) for name, touches in parts.items())


def _part(plan: "Plan", name: str, touches: tuple[Touch, ...]) -> FacePart:
    from benchapp.wiring import face

    connector = plan.connectors.get(name)
    if connector is None:
        return FacePart(title=_plain(plan, name), face=None, touches=touches)
    return FacePart(title=connector.title, face=face(connector), touches=touches, short=connector.say)


def _plain(plan: "Plan", terminal: str) -> str:
    """What to touch where there is no connector, in the equipment's own words."""
    return str(plan.circuit.say(terminal))
