"""Columns of readings judged at once: every entry equals the one-by-one decision."""

import math
from dataclasses import replace

import numpy as np
import pytest

from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.columns.columns import ABOVE, BELOW, EXACT, STATEMENTS, judge_columns, limits_of_columns
from benchapp.judgement.columns.uncertainty import UncertaintyColumns
from benchapp.judgement.decision.decision import decide
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.statements import Rule
from benchapp.judgement.uncertainty.budget import coverage_factor, stored_uncertainty
from benchapp.judgement.uncertainty.uncertainty import Uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound

BOUNDS = {EXACT: Bound.exact, ABOVE: Bound.above, BELOW: Bound.below}
COUNT = 6000


def optional(number: float) -> float | None:
    return None if math.isnan(number) else float(number)


def one_by_one(row, rule: Rule, safety: bool, kind: Kind):
    value, lower, upper, standard, nu, bound, share, over = row
    band = Band(kind=kind, unit="", lower=optional(lower), upper=optional(upper), rule=rule, safety=safety)
    known = optional(standard)
    uncertainty = None if known is None else known_as(known, nu, share)
    given = None if math.isnan(value) and bound != EXACT else float(value)
    return decide(value=given, bound=BOUNDS[int(bound)], band=band, uncertainty=uncertainty, over=optional(over))


def known_as(standard: float, nu: float, share: float) -> Uncertainty:
    """By the share of a rest that a rectangular source outweighs; nan = none does."""
    if math.isnan(share) or standard == 0.0:
        k = coverage_factor(nu)
        return Uncertainty(standard=standard, degrees_of_freedom=nu, coverage=k, expanded=k * standard)
    dominant, others = shape(standard, share)
    return replace(stored_uncertainty(standard, dominant=dominant, others=others), degrees_of_freedom=nu)


def shape(standard: float, share: float) -> tuple[float, float]:
    """Half-width and rest, the rest being that share of the rectangle's standard uncertainty."""
    largest = standard / math.hypot(1.0, share)
    return largest * math.sqrt(3.0), largest * share


def some_rows(seed: int) -> np.ndarray:
    """Values on, near and far from limits; open sides; unknown and zero uncertainty; over range; few repeats."""
    rng = np.random.default_rng(seed)
    lower = rng.choice([-1.0, 0.0, 5.0, 100.0, np.nan], COUNT)
    upper = np.where(np.isnan(lower), rng.choice([7.0, 0.152, np.nan], COUNT), lower + rng.choice([0, 1, 20], COUNT))
    upper = np.where(rng.random(COUNT) < 0.3, np.nan, upper)
    standard = rng.choice([0.0, 0.01, 0.25, 1.0, np.nan], COUNT)
    edge = np.where(np.isnan(upper), np.where(np.isnan(lower), 3.0, lower), upper)
    value = edge + rng.choice([0.0, 1e-14, 0.5, -0.5, 2.0, -2.0], COUNT) * np.nan_to_num(standard, nan=1.0)
    value = np.where(rng.random(COUNT) < 0.2, rng.normal(5, 50, COUNT), value)
    value = np.where(rng.random(COUNT) < 0.02, rng.choice([np.inf, -np.inf], COUNT), value)
    nu = rng.choice([np.inf, 2.0, 9.5, 40.0], COUNT)
    bound = rng.choice([EXACT, ABOVE, BELOW], COUNT, p=[0.7, 0.2, 0.1])
    value = np.where((bound == ABOVE) & (rng.random(COUNT) < 0.5), np.nan, value)
    share = rng.choice([np.nan, 0.0, 0.004, 0.1, 0.3], COUNT)
    over = rng.choice([np.nan, 6.0, 2e3], COUNT)
    return np.column_stack([value, lower, upper, standard, nu, bound, share, over])


@pytest.mark.parametrize("rule", list(Rule))
@pytest.mark.parametrize("safety", [False, True])
@pytest.mark.parametrize("kind", [Kind.voltage, Kind.resistance])
def test_every_entry_equals_the_decision_on_that_reading(rule, safety, kind):
    rows = some_rows(1)
    value, lower, upper, standard, nu, bound, share, over = rows.T
    shapes = np.array([shape(u, part) for u, part in zip(standard, share, strict=True)])
    judged = judge_columns(
        values=value,
        lowers=lower,
        uppers=upper,
        uncertainties=UncertaintyColumns(
            standards=standard, degrees_of_freedom=nu, dominants=shapes[:, 0], others=shapes[:, 1]
        ),
        overs=over,
        bounds=bound,
        guarded=rule is Rule.guarded,
        safety=safety,
        kind=kind,
    )
    for location, row in enumerate(rows):
        expected = one_by_one(row, rule, safety, kind)
        assert STATEMENTS[judged.codes[location]] is expected.judgement, row
        if expected.conformance_probability is not None:
            assert judged.conformance_probability[location] == pytest.approx(
                expected.conformance_probability, rel=1e-9, abs=1e-30
            )
            assert judged.expanded[location] == pytest.approx(expected.expanded_uncertainty, rel=1e-12)
            assert judged.guard_band[location] == pytest.approx(expected.guard_band, rel=1e-9)


@pytest.mark.parametrize(
    "text",
    [
        "9 V * mains / (240 V) ± 10 %",
        "mains / 20 + 1 V - 0.5 V",
        "at most mains / 10",
        "at least mains / 10",
        "between mains / 30 and max(mains / 20, 1 V)",
        "9 V ± 10 %",
    ],
)
def test_limits_of_columns_equal_those_of_bands(text):
    rng = np.random.default_rng(4)
    mains = rng.uniform(200, 260, 50)
    accept = parse_accept(text)
    lowers, uppers = limits_of_columns(
        accept, {"mains": mains}, Kind.voltage, 50, uncertainties={"mains": np.full(50, 0.9)} if accept.names else None
    )
    for location in range(50):
        known = KnownQuantity(
            value_si=float(mains[location]), standard_uncertainty=0.9, what="mains", source="step mains"
        )
        band = accept.band({"mains": known}, kind=Kind.voltage)
        for found, expected in ((lowers[location], band.lower), (uppers[location], band.upper)):
            assert np.isnan(found) if expected is None else found == pytest.approx(expected, rel=1e-12)
