"""The fuse that belongs in a plug: the maker's rating first, then the rated power; never more than the cord allows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.judgement.limits.sources import cited_together
from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.statements.problems import LimitProblem
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.limits.figures import Figure
    from benchapp.judgement.limits.profiles import Fuses, LimitProfile


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseChoice:
    """The rating to fit and the largest that the cord allows, in ampere, with the reasons."""

    rating: float
    largest: float
    derivation: tuple[DerivationStep, ...]


def choose_fuse(
    profile: LimitProfile,
    power: float | None,
    cord_area: float,
    *,
    inrush: bool = False,
    maker_rating: float | None = None,
) -> FuseChoice:
    """The fuse for a rated power in watt and a cord area in m².

    With neither power nor maker's rating the smallest preferred rating is chosen. Raises LimitProblem where the
    region's plugs hold no fuse, and where the load needs more than the cord allows.
    """
    fuses = profile.fuses
    if fuses is None:
        raise LimitProblem(
            say("Plugs of {title} hold no fuse: protection is in the fixed wiring.", title=profile.title)
        )
    table = fuses.largest_for_inrush if inrush else fuses.largest_for_cord
    largest = table.at(cord_area)
    largest_line = DerivationStep(
        what=f"largest fuse for a cord of {cord_area * 1e6:g} mm²", value=largest.words, source=largest.cited
    )
    rating, why = _by_maker(maker_rating) if maker_rating is not None else _by_power(fuses, power, inrush)
    if rating > float(largest.exact):
        raise LimitProblem(
            say(
                "This needs a fuse of {rating:g} A, but its cord of {value:g} mm² allows {words} at "
                "most: fit a thicker cord, or check the rating plate.",
                rating=rating,
                value=cord_area * 1e6,
                words=largest.words,
            )
        )
    return FuseChoice(rating=rating, largest=float(largest.exact), derivation=(why, largest_line))


def _by_maker(rating: float) -> tuple[float, DerivationStep]:
    return rating, DerivationStep(what="fuse rating", value=f"{rating:g} A", source="stated by the maker")


def _by_power(fuses: Fuses, power: float | None, inrush: bool) -> tuple[float, DerivationStep]:
    smaller, larger = fuses.ratings[0], fuses.ratings[-1]
    cut_over = fuses.cut_over_power
    if power is not None and power > float(cut_over.exact):
        return _line(larger, f"{power:g} W is above {cut_over.words}: {larger.words}", cut_over)
    if inrush:
        return _line(fuses.inrush, f"high starting current: {fuses.inrush.words}", fuses.inrush)
    if power is None:
        return _line(smaller, f"rated power unknown, the smallest: {smaller.words}", cut_over)
    return _line(smaller, f"{power:g} W is up to {cut_over.words}: {smaller.words}", cut_over)


def _line(rating: Figure, words: str, source: Figure) -> tuple[float, DerivationStep]:
    return float(rating.exact), DerivationStep(what="fuse rating", value=words, source=cited_together(source, rating))
