"""The mains that a unit is for as its voltage selector is set, and what to say where this place's does not fit it."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.errors import BenchError
from benchapp.judgement.limits.mains_fit import (
    BY_RULE,
    FrequencyFit,
    VoltageFit,
    as_measured,
    frequency_fit,
    in_words,
    legal_range,
    voltage_fit,
)
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.quantities.entry import read_quantity
from benchapp.wiring.model.circuit import Circuit, State, Supply
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.limits.profiles import LimitProfile, Mains

ENDINGS = {
    VoltageFit.burns: "On this mains it burns. Never plug it in like this",
    VoltageFit.to_accept: f"That is too much by the rule ({BY_RULE}): only a named supervisor accepts it for a unit",
    VoltageFit.starved: "That is too little for it to work, and a motor that stalls burns. Do not plug it in like this",
    VoltageFit.weak: "At the low end of that it is weak, and a motor may stall",
}
"""What each misfit does, and what then"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyFit:
    """How a unit, as it is set, fits a place's mains; `sentence` is empty where it does."""

    fit: VoltageFit
    sentence: str = ""


FITS = SupplyFit(fit=VoltageFit.fits)


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


def supply_selected(circuit: Circuit, state: State) -> tuple[float, float] | None:
    """The lowest and highest mains (V) that the unit stands at: its selector's, else the plate's; None without one."""
    if circuit.supply is None:
        return None
    position = volts_of_position(selected(circuit, state))
    return (position, position) if position else circuit.supply.ends


def supply_fit(
    circuit: Circuit, state: State, profile: "LimitProfile | None" = None, measured: float | None = None
) -> SupplyFit:
    """How the unit fits the mains of a place over its whole legal range, or as it was measured (V) where it is another.

    A measured mains outside the legal range is not that place's: then it counts alone. Nothing known fits.
    """
    volts = supply_selected(circuit, state)
    if volts is None or (profile is None and measured is None):
        return FITS
    if profile is not None and (measured is None or _is_of(profile, measured)):
        return _said(circuit, state, voltage_fit(legal_range(profile.mains), *volts), in_words(profile.mains))
    assert measured is not None
    return _said(circuit, state, voltage_fit(as_measured(measured), *volts), show(measured, Kind.voltage))


def _is_of(profile: "LimitProfile", measured: float) -> bool:
    """Whether a measured mains (V) may be that place's."""
    place, here = legal_range(profile.mains), as_measured(measured)
    return place.lowest <= here.lowest <= place.highest


def _said(circuit: Circuit, state: State, fit: VoltageFit, mains: str) -> SupplyFit:
    if fit is VoltageFit.fits:
        return FITS
    return SupplyFit(
        fit=fit,
        sentence=say(
            "{stands}, and mains here is {mains}. {endings}.",
            stands=_stands(circuit, state),
            mains=mains,
            endings=ENDINGS[fit],
        ),
    )


def _stands(circuit: Circuit, state: State) -> str:
    position = selected(circuit, state)
    if position:
        return f"The voltage selector stands at {position}"
    assert circuit.supply is not None
    return f"It is made for {supply_words(circuit.supply)}"


def supply_words(supply: Supply) -> str:
    """What its plate says of the voltage: "240 V", "100 V to 240 V"."""
    return " to ".join(dict.fromkeys(show(one, Kind.voltage) for one in supply.ends))


def has_iron(circuit: Circuit) -> bool:
    """Whether it has a transformer or a motor, to which the mains frequency matters."""
    return any(branch.kind.couples for branch in circuit.branches)


def frequency_doubt(circuit: Circuit, mains: "Mains") -> tuple[FrequencyFit, str]:
    """How the plate's frequency fits the place's, and what to ask where iron or a motor feels the difference."""
    supply = circuit.supply
    if supply is None or not has_iron(circuit):
        return FrequencyFit.fits, ""
    fit = frequency_fit(mains, supply.frequency)
    plate = f"Its plate says {supply.frequency:g} Hz and mains here is {mains.frequency.words}"
    effect = {
        FrequencyFit.fits: "",
        FrequencyFit.too_low: "its iron carries more flux and runs hot, and a motor runs slow and hot",
        FrequencyFit.too_high: "a motor in it runs a fifth fast, and what it drives loads it more",
    }[fit]
    return fit, f"{plate}: {effect}." if effect else ""


def mains_cautions(
    circuit: Circuit, state: State, profile: "LimitProfile", measured: float | None = None
) -> tuple[str, ...]:
    """What to say at once of a design at this place: a voltage that does not fit, a frequency that does not."""
    elsewhere = measured is not None and not _is_of(profile, measured)
    frequency = "" if elsewhere else frequency_doubt(circuit, profile.mains)[1]
    said = (supply_fit(circuit, state, profile, measured).sentence, frequency)
    return tuple(one for one in said if one)
