"""What a sound item draws on full mains, with nothing on its outputs: stated, or by what kind of load it is."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from benchapp.judgement.statements.band import DerivationStep
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.assumptions import FILE
from benchapp.wiring.model.circuit import Circuit, Problem, Supply, WiringProblem
from benchapp.wiring.model.kind_of_load import KindOfLoad
from benchapp.wiring.network.live import supply_of


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundCurrent:
    """Lowest and highest current (A) on full mains of so many volt, the likely one where it is stated, and why."""

    low: float
    high: float
    likely: float | None = None
    kind: KindOfLoad
    mains: float
    derivation: tuple[DerivationStep, ...]

    @property
    def resistive(self) -> bool:
        """Whether it stands in phase with the mains rather than a quarter turn behind, as a magnetising current."""
        return self.kind is not KindOfLoad.transformer


def sound_current(circuit: Circuit, mains: float) -> SoundCurrent:
    """The current on `mains` volt; raises WiringProblem where nothing tells what draws it, or how much."""
    supply = supply_of(circuit)
    kind = supply.kind_of_load
    if kind is None:
        what = f"nothing tells what kind of load {circuit.equipment} is"
        known = ", ".join(KindOfLoad)
        raise WiringProblem(Problem(key=("supply",), what=what, expected=f"'kind of load' under 'supply': {known}"))
    rated = supply.near(mains)
    low, likely, high, reason = _at_rated(supply, kind, rated)
    over = mains / rated
    steeper = over**assumptions.NO_LOAD_STEEPER if over > 1 and kind in _OF_IRON else max(over, 1.0)
    reasons: tuple[DerivationStep, ...] = (DerivationStep(what="kind of load", value=kind.value, source=FILE), reason)
    if over > 1 and kind in _OF_IRON:
        words = f"{show(mains, Kind.voltage)} on {show(rated, Kind.voltage)}: up to {steeper:.2g} times"
        reasons = (*reasons, DerivationStep(what="more than its rated volts", value=words, source="from memory"))
    return SoundCurrent(
        low=low * min(over, 1.0) ** 2,
        high=high * steeper,
        likely=None if likely is None else likely * over,
        kind=kind,
        mains=mains,
        derivation=reasons,
    )


def _at_rated(supply: Supply, kind: KindOfLoad, volts: float) -> tuple[float, float | None, float, DerivationStep]:
    """Lowest, likely and highest current (A) at those rated volts, and why; a stated one before all others."""
    stated = supply.no_load_current
    if stated is not None:
        reason = DerivationStep(what="current off load", value=stated.stated, source=FILE)
        return stated.low, stated.nominal, stated.high, reason
    if supply.power is None:
        expected = "'power' or 'no-load current' under 'supply'"
        raise WiringProblem(Problem(key=("supply",), what="nothing tells how much current it draws", expected=expected))
    low, high, source = _SHARES[kind](supply.power)
    rated = supply.power / volts
    words = f"{low * 100:.3g} % to {high * 100:.3g} % of the rated {show(rated, Kind.current)}"
    return low * rated, None, high * rated, DerivationStep(what="current without load", value=words, source=source)


def _of_transformer(power: float) -> tuple[float, float, str]:
    return (*assumptions.no_load_share(power), assumptions.NO_LOAD_SOURCE)


def _of_circuits(power: float) -> tuple[float, float, str]:
    """From the bare iron of that size to the plate's own current."""
    low, _ = assumptions.no_load_share(power)
    return low, assumptions.OWN_CIRCUITS, f"{assumptions.NO_LOAD_SOURCE}; the plate's current"


def _of_motor(_power: float) -> tuple[float, float, str]:
    return assumptions.MOTOR_RUNNING, assumptions.MOTOR_STANDING, "small induction motors: from memory"


def _of_heater(_power: float) -> tuple[float, float, str]:
    return (*assumptions.HEATER_SHARE, assumptions.COMMON_PRACTICE)


def _of_universal_motor(_power: float) -> tuple[float, float, str]:
    low, _ = assumptions.RUNNING_SHARE
    return low, assumptions.UNIVERSAL_STANDING, "universal motors, standing still: from memory"


_OF_IRON = frozenset({KindOfLoad.transformer, KindOfLoad.motor})
_SHARES: Mapping[KindOfLoad, Callable[[float], tuple[float, float, str]]] = {
    KindOfLoad.transformer: _of_transformer,
    KindOfLoad.circuits: _of_circuits,
    KindOfLoad.motor: _of_motor,
    KindOfLoad.heater: _of_heater,
    KindOfLoad.universal_motor: _of_universal_motor,
}
