"""Does this reading conform to this band? JCGM 106:2012 for the rules, ILAC-G8:09/2019 for the words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.judgement.statements import Judgement

if TYPE_CHECKING:
    from benchapp.judgement.band import Band
    from benchapp.judgement.uncertainty import Uncertainty
    from benchapp.quantities import Bound


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """The judgement of one reading and every number it rests on, in SI units; None where a number does not apply."""

    judgement: Judgement
    value: float | None
    bound: Bound
    lower: float | None
    upper: float | None
    standard_uncertainty: float | None
    expanded_uncertainty: float | None
    guard_band: float | None
    conformance_probability: float | None
    capable: bool
    sentence: str


def decide(
    *, value: float | None, bound: Bound, band: Band, uncertainty: Uncertainty | None, r: float = 1.0
) -> Decision:
    """Judge one reading; `r` sets the guard band w = r × U of a guarded band."""
    raise RuntimeError
