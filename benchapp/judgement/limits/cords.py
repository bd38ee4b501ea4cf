"""What a cord's conductors add to a limit.

Largest conductor resistance and its temperature coefficient: IEC 60228, as the limits file states them. Worked in
decimal, so that a limit is the number a person gets with pencil and paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.statements.problems import LimitProblem
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.limits.figures import Figure
    from benchapp.judgement.limits.profiles import Conductors, LimitProfile

_PER_KILOMETRE = Decimal("0.001")
_TABLE_TEMPERATURE = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitFacts:
    """What must be known of a unit before its limits can be: areas in m², lengths in m, °C and W."""

    equipment_class: str
    cord_area: float | None = None
    cord_length: float | None = None
    conductor_temperature: float = 20.0
    power: float | None = None
    tinned: bool = False
    heating: bool = False
    hand_held: bool = False
    surge_suppressor: bool = False
    moulded_plug: bool = False


def exact(value: float) -> Decimal:
    """The decimal that a person means by this float: 1.8, not 1.8000000000000000444."""
    return Decimal(repr(float(value)))


def conductor_resistance(
    profile: LimitProfile, area: float, length: float, *, temperature: float = 20.0, tinned: bool = False
) -> tuple[Decimal, DerivationStep]:
    """Largest resistance in ohm of one conductor of a cord (area in m², length in m, °C), with its line of derivation.

    R = length × R₂₀ × (1 + α (t − 20)). Raises LimitProblem for an area that the table lacks.
    """
    conductors = _conductors(profile)
    figure = conductor_figure(profile, area, tinned=tinned)
    factor = 1 + conductors.temperature_coefficient.value * (exact(temperature) - _TABLE_TEMPERATURE)
    resistance = exact(length) * figure.value * _PER_KILOMETRE * factor
    words = f"{length:g} m × {figure.value} {figure.unit}"
    if factor != 1:
        words += f" × {factor.normalize():f} for {temperature:g} °C"
    return resistance, DerivationStep(
        what=f"protective conductor of {area * 1e6:g} mm²",
        value=f"{words} = {_plain(resistance)} ohm",
        source=figure.cited,
    )


def conductor_figure(profile: LimitProfile, area: float, *, tinned: bool = False) -> Figure:
    """The largest resistance per length of a conductor (area in m²), as the region's table has it."""
    conductors = _conductors(profile)
    table = conductors.tinned if tinned and conductors.tinned else conductors.plain
    return table.at(area)


def _conductors(profile: LimitProfile) -> Conductors:
    if profile.conductors is None:
        raise LimitProblem(say("The limits of {title} hold no conductor resistances.", title=profile.title))
    return profile.conductors


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"
