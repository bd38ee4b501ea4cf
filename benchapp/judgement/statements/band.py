"""Lower and upper limit for a reading, with the derivation that gave them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from benchapp.judgement.statements.problems import BandProblem
from benchapp.judgement.statements.statements import Rule
from benchapp.quantities.dimensions import Kind
from benchapp.words import say

USUAL_CAPABILITY = 0.30
"""Share of a safety limit that a meter's expanded uncertainty may reach, where the band names none.

IEC 61557-2 and -4 allow a tester of insulation or earth 30 % operating uncertainty (from memory); the region's limits
state the same figure with its source. That it holds for voltmeters and ammeters too is common practice, no source.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class DerivationStep:
    """One line of a derivation: what was taken, its value in words, and where it comes from."""

    what: str
    value: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Limits in SI base units; None leaves that side open. Both limits belong to the band.

    `unit` is what a bare number means when the reading is typed. `safety` marks a published safety limit: it is
    applied as published, by a meter capable of it. `capability` is the largest expanded uncertainty, as a share of the
    limit, with which a meter may judge it; a safety band that names none takes the usual share.
    """

    kind: Kind
    unit: str
    lower: float | None
    upper: float | None
    rule: Rule = Rule.guarded
    safety: bool = False
    expected: float | None = None
    derivation: tuple[DerivationStep, ...] = ()
    cautions: tuple[str, ...] = ()
    capability: float | None = None

    def __post_init__(self) -> None:
        lower, upper = self.lower, self.upper
        if (lower is not None and not math.isfinite(lower)) or (upper is not None and not math.isfinite(upper)):
            raise BandProblem(
                say(
                    "A limit of this band is no finite number ({lower} to {upper}): leave that side open instead.",
                    lower=lower,
                    upper=upper,
                )
            )
        if lower is not None and upper is not None and lower > upper:
            raise BandProblem(
                say(
                    "The lower limit {lower:.12g} is above the upper limit {upper:.12g}: swap them.",
                    lower=lower,
                    upper=upper,
                )
            )
