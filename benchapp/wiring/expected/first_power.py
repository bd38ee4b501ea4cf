"""The current that equipment should draw at first power, nothing connected to its outputs."""

from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.assumptions import FILE
from benchapp.wiring.model.circuit import Circuit, Problem, WiringProblem
from benchapp.wiring.network.live import supply_of

NO_LOAD_SHARE = (0.02, 1.1)  # of the rated current, drawn at first power without load; common practice, no source


def expected_current(circuit: Circuit, mains: KnownQuantity | None = None) -> Band:
    """Band (A) for the current drawn from the supply at first power, nothing connected to the outputs.

    Raises WiringProblem when neither a no-load current nor a rated power is known.
    """
    supply = supply_of(circuit)
    scale = 1.0 if mains is None else float(mains.value_si) / supply.voltage
    if supply.no_load_current is not None:
        off_load = supply.no_load_current
        reason = DerivationStep(what="current off load", value=off_load.stated, source=FILE)
        return _current_band(
            off_load.low * min(scale, 1.0), off_load.nominal * scale, off_load.high * max(scale, 1.0), reason
        )
    if supply.power is None:
        expected = "'power' or 'no-load current' under 'supply'"
        raise WiringProblem(Problem(key=("supply",), what="nothing tells how much current it draws", expected=expected))
    rated = supply.power / supply.voltage
    share = f"{NO_LOAD_SHARE[0] * 100:g} % to {NO_LOAD_SHARE[1] * 100:g} % of the rated {show(rated, Kind.current)}"
    reason = DerivationStep(what="current without load", value=share, source=assumptions.COMMON_PRACTICE)
    return _current_band(
        NO_LOAD_SHARE[0] * rated * min(scale, 1.0), None, NO_LOAD_SHARE[1] * rated * max(scale, 1.0), reason
    )


def _current_band(lower: float, expected: float | None, upper: float, reason: DerivationStep) -> Band:
    words = f"{show(lower, Kind.current)} to {show(upper, Kind.current)}"
    return Band(
        kind=Kind.current,
        unit="A",
        lower=lower,
        upper=upper,
        expected=expected,
        derivation=(reason, DerivationStep(what="so the current should be", value=words, source="share of the rating")),
        cautions=("No current at all: the primary path is open. Off at once above the upper limit.",),
    )
