"""Whether a unit made, or set, for one voltage and frequency may be plugged into the mains of a place: one rule.

A unit bears 10 % more than the voltage that it is made for, and works down to 10 % less. So it fits where that much
reaches the ends of the place's legal range. What goes beyond by little is for a named supervisor to accept.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show

if TYPE_CHECKING:
    from benchapp.judgement.limits.profiles import Mains

BEARS = Decimal("1.10")
"""times its voltage that equipment bears, as product standards test it: from memory, a choice"""
WORKS_DOWN_TO = Decimal("0.90")
"""times its voltage at which equipment still works as it should: common practice, no source"""
MAY_BE_ACCEPTED = Decimal("1.15")
"""times its voltage up to which a supervisor may accept it, as 220 V at 253 V: common practice, no source"""
BY_RULE = "a unit is taken to bear 10 % more than its voltage, from memory of product standards"
SAME_FREQUENCY = Decimal("0.02")
"""share by which two frequencies may differ and be one: common practice, no source"""


class VoltageFit(StrEnum):
    """How a unit's voltage fits the mains of a place."""

    fits = "fits"
    weak = "weak"
    """works, but not over the whole legal range: the low end starves it"""
    starved = "starved"
    """nothing of the legal range is enough"""
    to_accept = "to accept"
    """a little too much: a named supervisor may accept it"""
    burns = "burns"

    @property
    def opens(self) -> bool:
        """Whether mains may come on without anybody's acceptance."""
        return self in (VoltageFit.fits, VoltageFit.weak)


class FrequencyFit(StrEnum):
    """How a unit's frequency fits the mains of a place."""

    fits = "fits"
    too_low = "too low"
    """iron carries more flux and runs hot, motors run slow"""
    too_high = "too high"
    """motors run fast"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """The lowest and the highest mains voltage (V) that counts."""

    lowest: Decimal
    highest: Decimal


def legal_range(mains: "Mains") -> Range:
    """What a place's mains may be, over its whole legal range."""
    share = Decimal(100)
    nominal = mains.nominal.exact
    return Range(lowest=nominal * (1 - mains.below.value / share), highest=nominal * (1 + mains.above.value / share))


def as_measured(volts: float) -> Range:
    """The mains as it was measured, where nobody says at which place."""
    exact = Decimal(repr(volts))
    return Range(lowest=exact, highest=exact)


def voltage_fit(place: Range, lowest: float, highest: float | None = None) -> VoltageFit:
    """How a unit made for `lowest` to `highest` volts fits mains of this range; no `highest` where it says one.

    Its highest × 1.10 reaches the top of the mains, its lowest × 0.90 the foot.
    """
    least, most = (Decimal(f"{one:.12g}") for one in (lowest, lowest if highest is None else highest))
    if most * BEARS < place.highest:
        return VoltageFit.to_accept if most * MAY_BE_ACCEPTED >= place.highest else VoltageFit.burns
    if least * WORKS_DOWN_TO > place.highest:
        return VoltageFit.starved
    return VoltageFit.weak if least * WORKS_DOWN_TO > place.lowest else VoltageFit.fits


def frequency_fit(mains: "Mains", hertz: float) -> FrequencyFit:
    """How a unit for `hertz` fits the place's frequency."""
    here, made_for = mains.frequency.exact, Decimal(f"{hertz:.12g}")
    if abs(here - made_for) <= SAME_FREQUENCY * made_for:
        return FrequencyFit.fits
    return FrequencyFit.too_low if here < made_for else FrequencyFit.too_high


def in_words(mains: "Mains") -> str:
    """The mains of a place: "230 V, by law up to 253 V"."""
    top = show(float(legal_range(mains).highest), Kind.voltage)
    return f"{mains.nominal.words}, by law up to {top}"
