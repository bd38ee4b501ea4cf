"""The uncertainty budget as people read it: one line for each source, on screen, on paper and for programs."""

from __future__ import annotations

from dataclasses import dataclass

from benchapp.judgement.uncertainty.uncertainty import Contribution, Distribution, Uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show_uncertainty

HEADINGS = ("source", "value", "distribution", "sensitivity", "contribution", "share")


@dataclass(frozen=True, slots=True, kw_only=True)
class BudgetLine:
    """One source in words, its fields those of HEADINGS; `value` as the distribution says: half-width or standard."""

    source: str
    value: str
    distribution: str
    sensitivity: str
    contribution: str
    share: str


def budget_table(uncertainty: Uncertainty, kind: Kind, unit: str = "") -> tuple[BudgetLine, ...]:
    """The budget of a result of this kind, largest contribution first; sources of a reading are of the same kind.

    `unit` is what the result was written in; its prefix follows the size.
    """
    rows = sorted(uncertainty.budget, key=lambda row: -abs(row.share))
    return tuple(_line(row, kind, unit) for row in rows)


def combined_words(uncertainty: Uncertainty, kind: Kind, unit: str = "") -> str:
    """The last line under the table: standard and expanded uncertainty with coverage factor, and what gave it."""
    freedom = "∞" if uncertainty.degrees_of_freedom > 1e6 else f"{uncertainty.degrees_of_freedom:.1f}"
    given = "one rectangular source outweighs the rest" if uncertainty.dominant else f"ν = {freedom}"
    standard, expanded = (show_uncertainty(u, kind, unit=unit) for u in (uncertainty.standard, uncertainty.expanded))
    return f"u = {standard}, U = {expanded} (k = {uncertainty.coverage:.2f}, {given}, 95.45 %)"


def _line(row: Contribution, kind: Kind, unit: str) -> BudgetLine:
    same_kind = row.sensitivity == 1.0 and row.distribution is not Distribution.correlation
    return BudgetLine(
        source=row.source,
        value=f"{_sign(row)}{show_uncertainty(row.value, kind, unit=unit)}" if same_kind else f"{row.value:.3g}",
        distribution=row.distribution.value,
        sensitivity=f"{row.sensitivity:.4g}",
        contribution=show_uncertainty(row.contribution, kind, unit=unit),
        share=f"{100 * row.share:.1f} %",
    )


def _sign(row: Contribution) -> str:
    """A half-width goes both ways; a standard uncertainty has no sign."""
    return "" if row.distribution in (Distribution.normal, Distribution.student) else "±"
