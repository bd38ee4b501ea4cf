"""The mains that a unit is for as its voltage selector is set."""

from benchapp.errors import BenchError
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.wiring.model.circuit import Circuit, State

TOO_HIGH = 1.15
"""times the selected voltage: mains wanders by 10 %, plates round; common practice, no source"""


def volts_of_position(position: str) -> float | None:
    """The voltage (V) that a selector's position is named after, "120 V" or "120"; None for another name."""
    for text in (position, f"{position} V"):
        try:
            return read_quantity(text, kind=Kind.voltage).si
        except BenchError:
            continue
    return None


def selected(circuit: Circuit, state: State) -> str:
    """The position that the voltage selector stands in; empty where there is none."""
    positions = dict(state.switches)
    for name, switch in circuit.switches.items():
        if switch.selector:
            set_to = state.selector if state.selector in switch.positions else None
            return positions.get(name) or set_to or switch.usual
    return ""


def supply_selected(circuit: Circuit, state: State) -> float | None:
    """The mains voltage (V) that the unit stands at: its selector's, else the plate's; None without a supply."""
    if circuit.supply is None:
        return None
    return volts_of_position(selected(circuit, state)) or circuit.supply.voltage


def too_high(circuit: Circuit, state: State, mains: float) -> str:
    """What to say where the mains (V) is far above what the selector stands at; empty where it is not."""
    volts = supply_selected(circuit, state)
    position = selected(circuit, state)
    if volts is None or not position or mains <= TOO_HIGH * volts:
        return ""
    return f"The voltage selector stands at {position}: on this mains it burns. Never plug it in like this."
