"""Columns of readings judged at once: every code equals the one-by-one decision, over the whole domain of both."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.acceptance.acceptance import Form
from benchapp.judgement.decision.columns import BOUNDS, JUDGEMENTS, judge_columns
from benchapp.judgement.decision.decision import decide
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.statements import Judgement, Rule
from benchapp.judgement.uncertainty.budget import Source, combine
from benchapp.judgement.uncertainty.uncertainty import Distribution, Uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound
from tests.effort import cases

NAN, INF = math.nan, math.inf
DIGITS = (0.0, 1e-16, -1e-16, 5e-13, -5e-13, 1e-12, -1e-12, 2e-12, -2e-12, 1e-9, -1e-9)
"""How far from a place in question, as a share: numbers are compared at twelve digits."""
Reading = tuple[float, Bound, Uncertainty | None, float]
"""Value (nan = over range, or no number), bound, uncertainty, end of the range (nan = nobody knows)."""


def codes_of(band: Band, readings: list[Reading], r: float = 1.0) -> list[Judgement]:
    values, bounds, known, overs = zip(*readings, strict=True)
    codes = judge_columns(
        band=band,
        values=np.array(values, dtype=float),
        bounds=np.array([BOUNDS.index(bound) for bound in bounds]),
        expanded=np.array([NAN if one is None else one.expanded for one in known]),
        overs=np.array(overs, dtype=float),
        r=r,
    )
    return [JUDGEMENTS[code] for code in codes]


def one_by_one(band: Band, reading: Reading, r: float = 1.0) -> Judgement:
    value, bound, known, over = reading
    given = None if math.isnan(value) and bound is not Bound.exact else value
    end = None if math.isnan(over) else over
    return decide(value=given, bound=bound, band=band, uncertainty=known, over=end, r=r).judgement


limits = st.sampled_from([0.0, 1.0, -1.0, 0.1, 9.9, 100.0, 1e-9, 1e9]) | st.floats(-1e6, 1e6)
rules = st.fixed_dictionaries(
    {
        "rule": st.sampled_from(Rule),
        "safety": st.booleans(),
        "capability": st.none() | st.sampled_from([0.0, 0.05, 0.3, 1.0]),
    }
)


@st.composite
def stated_bands(draw) -> Band:
    """Any limits of any kind of quantity, either side open or both."""
    low, high = sorted((draw(limits), draw(limits)))
    lower, upper = draw(st.sampled_from([(low, high), (low, low), (low, None), (None, high), (None, None)]))
    return Band(kind=draw(st.sampled_from(Kind)), unit="", lower=lower, upper=upper, **draw(rules))


@st.composite
def accepted_bands(draw) -> Band:
    """A band as a step's author writes it, in each form that states one."""
    low, high = sorted(draw(st.lists(st.decimals(-500, 500, places=3), min_size=2, max_size=2)))
    texts = {
        Form.around: f"{high} V + {abs(low)} % - {abs(low)} V",
        Form.at_most: f"at most {high} V",
        Form.at_least: f"at least {low} V",
        Form.between: f"between {low} V and {high} V",
    }
    accept = parse_accept(texts[form := draw(st.sampled_from(list(texts)))])
    assert accept.form is form
    return accept.band({}, kind=Kind.voltage, **draw(rules))


sources = st.builds(
    Source,
    st.just("source"),
    st.sampled_from([0.0, 1e-12, 0.005, 0.1, 1.0, 30.0]) | st.floats(1e-6, 1e4),
    st.sampled_from([one for one in Distribution if one is not Distribution.correlation]),
    st.just(1.0),
    st.sampled_from([INF, 1.0, 2.0, 9.5, 40.0]),
)
"""One is a rectangle, a triangle, U-shaped or normal; with few degrees of freedom t; several a blurred rectangle."""
uncertainties = st.none() | st.lists(sources, min_size=1, max_size=3).map(combine)


@st.composite
def readings_at(draw, band: Band, r: float) -> Reading:
    """A reading at a limit, or a guard band or an uncertainty away from one, within twelve digits or not; or any."""
    known = draw(uncertainties)
    edge = draw(st.sampled_from([limit for limit in (band.lower, band.upper) if limit is not None] or [0.0]))
    expanded = known.expanded if known else 1.0
    away = draw(st.sampled_from([0.0, expanded, -expanded, r * expanded, -r * expanded, 0.5, -0.5]))
    digits = draw(st.sampled_from(DIGITS))
    near = (edge + away) * (1 + digits)
    value = draw(st.just(near) | st.floats(-1e7, 1e7) | st.sampled_from([0.0, -0.0, NAN, INF, -INF, 1e308, -1e308]))
    over = draw(st.sampled_from([NAN, 0.0, near, 2e3, INF]))
    return value, draw(st.sampled_from(Bound)), known, over


@given(band=stated_bands() | accepted_bands(), r=st.sampled_from([1.0, 0.5, 0.0, 1.5, -0.5]), data=st.data())
def test_every_code_is_the_judgement_of_that_reading(band, r, data):
    readings = data.draw(st.lists(readings_at(band, r), min_size=1, max_size=12))
    assert codes_of(band, readings, r) == [one_by_one(band, reading, r) for reading in readings]


@pytest.mark.parametrize("rule", list(Rule))
@pytest.mark.parametrize("safety", [False, True])
@pytest.mark.parametrize("kind", [Kind.voltage, Kind.resistance])
def test_every_judgement_occurs_and_is_the_same_on_many_readings(rule, safety, kind):
    """More readings than are worked at a time, so that what lies at a seam is compared too."""
    random = np.random.default_rng(1)
    known = [None, *(combine([Source("accuracy", a), Source("digit", 0.002)]) for a in (0.0, 0.004, 0.3, 2.5))]
    band = Band(kind=kind, unit="", lower=5.0, upper=9.9, rule=rule, safety=safety)
    readings = [
        (
            float(random.choice([random.normal(7, 3), 5.0, 9.9, -3.0, NAN])),
            BOUNDS[random.choice(3, p=[0.8, 0.1, 0.1])],
            known[random.integers(len(known))],
            float(random.choice([NAN, 6.0, 2e3])),
        )
        for _ in range(cases(5_000, 20_000))
    ]
    found = codes_of(band, readings)
    assert found == [one_by_one(band, reading) for reading in readings]
    binary = {Judgement.passed, Judgement.failed, Judgement.not_judged}
    assert set(found) == (set(Judgement) if rule is Rule.guarded and not safety else binary)


@pytest.mark.parametrize("r", [1.0, 0.5, -0.5])
@pytest.mark.parametrize("rule", list(Rule))
@pytest.mark.parametrize("kind", [Kind.voltage, Kind.resistance])
@pytest.mark.parametrize(("lower", "upper"), [(8.1, 9.9), (9.0, 9.0), (None, 0.3), (0.0, None), (-0.7, 0.0), (-9, -8)])
def test_on_every_edge_and_within_twelve_digits_of_it_both_say_the_same(lower, upper, kind, rule, r):
    known = [None, *(combine([Source("accuracy", a), Source("digit", 0.002)]) for a in (0.0, 0.004, 0.3, 2.5))]
    known.append(combine([Source("nothing", 0.0)]))
    readings = [
        ((edge + side * away) * (1 + digits), Bound.exact, one, NAN)
        for one in known
        for edge in (lower, upper, 0.0)
        if edge is not None
        for away in (0.0, *((one.expanded, r * one.expanded) if one else ()))
        for side in (1, -1)
        for digits in DIGITS
    ]
    band = Band(kind=kind, unit="", lower=lower, upper=upper, rule=rule)
    assert codes_of(band, readings, r) == [one_by_one(band, reading, r) for reading in readings]
