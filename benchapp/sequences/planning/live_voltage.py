"""Which voltages are live whatever a file says, and which are never read with bare probes.

Live is every AC voltage and DC above the extra-low limit of the region (`voltage low`), on any equipment. Above that
limit leads are put on with the item off and their connections are shrouded (HSE GS38, 4th ed.: no bare metal that a
finger reaches; confirmed (HSE)). What is proved low on the way back is exempt.
"""

from typing import TYPE_CHECKING

from benchapp.errors import BenchError
from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import Form
from benchapp.judgement.meters.functions import PROBED_VOLTAGES, Function
from benchapp.quantities.dimensions import Kind
from benchapp.sequences.planning.paths import FROM_WIRING
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.model.circuit import WiringProblem
from benchapp.wiring.model.remembered import Itself, remembered

if TYPE_CHECKING:
    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.sequences.planning.planned import PlannedStep
    from benchapp.sequences.planning.planned_kind import SingleStep
    from benchapp.wiring.model.circuit import Circuit, Load
    from benchapp.wiring.model.circuit import State as CircuitState

PROVED_LOW = "limit voltage-low"
HANDS_OFF = "This may be no extra-low voltage: shrouded leads, put on with the item off; hands off while it is on."
SHROUDED = "see that shrouded leads were put on"


def is_live_voltage(function: Function | None, accept: str, *, mains_fed: bool, extra_low: float) -> bool:
    """Whether a reading is one of a live unit; DC of equipment without mains is where it may be above `extra_low`."""
    if function not in PROBED_VOLTAGES or accept == PROVED_LOW:
        return False
    if function is Function.ac_voltage or mains_fed:
        return True
    highest = _highest_accepted(accept)
    return highest is None or highest > extra_low


def _highest_accepted(accept: str) -> float | None:
    """The largest voltage that its author accepts, either way round; None where nobody can tell."""
    if not accept:
        return None
    try:
        said = parse_accept(accept)
        if said.names or said.form in (Form.limit, Form.wiring):
            return None
        lower, upper, _ = said.limits({}, Kind.voltage)
    except BenchError:
        return None  # said elsewhere, at its own place
    return None if upper is None else max(abs(float(upper)), abs(float(lower or 0)))


def shrouded_set_up(
    circuit: "Circuit", single: "SingleStep", state: "CircuitState", loads: "tuple[Load, ...]", profile: "LimitProfile"
) -> tuple[str, ...]:
    """What is confirmed before a live voltage is read that may be above the extra-low limit; nothing below it."""
    if single.function not in PROBED_VOLTAGES or len(single.terminals) != 2:
        return ()
    a, b = single.terminals
    if single.accept == FROM_WIRING:
        highest = _highest_expected(circuit, a, b, state, loads, Itself(profile))
    else:
        highest = _highest_accepted(single.accept)
    if highest is not None and highest <= float(profile.voltage_low.exact):
        return ()
    return (f"{SHROUDED} {circuit.say(a)} and {circuit.say(b)} with the item off at the wall or unplugged",)


@remembered
def _highest_expected(
    circuit: "Circuit",
    a: str,
    b: str,
    state: "CircuitState",
    loads: "tuple[Load, ...]",
    profile: "Itself[LimitProfile]",
) -> float | None:
    try:
        band = expected_voltage(circuit, a, b, mains=None, profile=profile.thing, state=state, loads=loads)
    except WiringProblem:
        return None
    ends = [abs(end) for end in (band.lower, band.upper) if end is not None]
    return max(ends) if band.upper is not None else None


def is_shrouded(step: "PlannedStep") -> bool:
    """Whether it is read through shrouded connections alone."""
    return any(words.startswith(SHROUDED) for words in step.set_up)
