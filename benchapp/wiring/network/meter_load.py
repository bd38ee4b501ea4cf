"""The resistance behind two live terminals, which a voltmeter loads.

The circuit is solved without the meter and with the meter's own input impedance across the terminals: the voltage falls
by R_source / R_meter (Thévenin; course text, from memory). Winding resistances at both ends of their tolerances give
the limits.
"""

from benchapp.wiring.model.circuit import Branch, Circuit, Load, State, Toleranced
from benchapp.wiring.network.live import nominal_value, solve_live
from benchapp.wiring.network.solve import FLOOR

SMALLEST_VOLTAGE = 1e-9
"""V: below this there is nothing that a meter could load"""


def source_resistance(
    circuit: Circuit, a: str, b: str, *, meter: float, state: State | None = None, loads: tuple[Load, ...] = ()
) -> Toleranced | None:
    """Resistance (ohm) that a meter of input impedance `meter` (ohm) sees behind two terminals; None where unknown.

    Unknown without a supply, between terminals that nothing joins, where there is no voltage, and at an output whose
    voltage is only stated.
    """
    if circuit.supply is None or not {a, b} <= set(circuit.terminals):
        return None
    if any({output.a, output.b} == {a, b} for output in circuit.outputs):
        return None
    ends = [_behind(circuit, a, b, meter, state or State(), loads, end) for end in ("nominal", "low", "high")]
    nominal, low, high = ends
    if nominal is None or low is None or high is None:
        return None
    return Toleranced(nominal=nominal, low=low, high=high, stated="solution of the network")


def _behind(
    circuit: Circuit, a: str, b: str, meter: float, state: State, loads: tuple[Load, ...], end: str
) -> float | None:
    def value(branch: Branch, what: str) -> float:
        if what != "ohms":
            return nominal_value(branch, what)
        resistance = branch.working or branch.resistance
        return max(float(getattr(resistance, end)) if resistance is not None else 0.0, FLOOR)

    def volts(across: tuple[Load, ...]) -> float:
        assert circuit.supply is not None
        solved = solve_live(circuit, circuit.supply, circuit.supply.voltage, state=state, loads=across, value=value)
        return abs(solved.between(a, b) or 0.0)

    free, loaded = volts(loads), volts((*loads, Load(a=a, b=b, ohms=meter)))
    if free < SMALLEST_VOLTAGE or loaded <= 0.0:
        return None
    return max(free / loaded - 1.0, 0.0) * meter
