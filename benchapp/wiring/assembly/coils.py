"""Coils that nobody rated: the supply's own where they lie across it, else unknown, such as a tape head or a motor."""

from dataclasses import replace

from benchapp.wiring.model.circuit import Branch, Supply
from benchapp.wiring.model.groups import joined


def without_unknown_coils(
    branches: tuple[Branch, ...], unrated: frozenset[str], supply: Supply | None
) -> tuple[Branch, ...]:
    """The branches, with each unrated coil that does not lie across the supply taken off its iron core.

    Such a coil is no primary: what lies across it is not known. `unrated` are ids of windings without a rating.
    """
    if supply is None:
        return branches
    off = {part for part in unrated if not _lies_across(branches, part, unrated, supply)}
    return tuple(replace(b, core=None, emf=None) if b.part in off and b.kind.couples else b for b in branches)


def is_unknown_coil(branch: Branch) -> bool:
    """Whether nobody can tell what voltage lies across this winding of a design that a supply feeds."""
    return branch.kind.couples and branch.core is None


def _lies_across(branches: tuple[Branch, ...], part: str, unrated: frozenset[str], supply: Supply) -> bool:
    """Whether its ends lead to live and to neutral, through what hands the voltage on and through other such coils."""
    own = [b for b in branches if b.part == part]
    others = [b for b in branches if b.part != part and (b.kind.carries_voltage_on or _is_of_supply(b, unrated))]
    nodes = (supply.live, supply.neutral, *(end for b in (*own, *others) for end in (b.a, b.b)))
    group = joined(dict.fromkeys(nodes), others)
    live, neutral = group[supply.live], group[supply.neutral]
    ends = {group[own[0].a], group[own[-1].b]} if own else set()
    return ends == {live, neutral}


def _is_of_supply(branch: Branch, unrated: frozenset[str]) -> bool:
    """Whether it is a winding that is there for the supply: its reasons name no output's rating."""
    return branch.kind.couples and (branch.part in unrated or not branch.reasons)
