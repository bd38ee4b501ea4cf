"""Numbers that no reading, limit or uncertainty should have: each has an answer, the same one by one and by columns."""

import math

import numpy as np
import pytest

from benchapp.judgement.acceptance.accept_text import parse_accept
from benchapp.judgement.decision.columns import BOUNDS, JUDGEMENTS, judge_columns
from benchapp.judgement.decision.decision import decide
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.readings import uncertainty_of
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.problems import AcceptProblem, BandProblem, BudgetProblem, RangeProblem
from benchapp.judgement.statements.statements import Judgement
from benchapp.judgement.uncertainty.budget import Source, combine, plain_uncertainty
from benchapp.judgement.uncertainty.uncertainty import Uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound

NAN, INF = math.nan, math.inf


def both_ways(value: float, band: Band, uncertainty: Uncertainty | None) -> Judgement:
    """The judgement one by one, after making sure that the columns say the same."""
    alone = decide(value=value, bound=Bound.exact, band=band, uncertainty=uncertainty)
    assert alone.sentence
    codes = judge_columns(
        band=band,
        values=np.array([value]),
        bounds=np.array([BOUNDS.index(Bound.exact)]),
        expanded=np.array([NAN if uncertainty is None else uncertainty.expanded]),
        overs=np.array([NAN]),
    )
    assert JUDGEMENTS[codes[0]] is alone.judgement
    return alone.judgement


NORMAL, RECTANGULAR = plain_uncertainty(0.1), combine([Source("accuracy", 0.2), Source("digit", 0.005)])
EXACT = combine([Source("nothing", 0.0)])
VOLTS = Band(kind=Kind.voltage, unit="V", lower=8.1, upper=9.9)
OHMS = Band(kind=Kind.resistance, unit="ohm", lower=None, upper=1.0)
POINT = Band(kind=Kind.voltage, unit="V", lower=9.0, upper=9.0)


@pytest.mark.parametrize("known", [None, NORMAL, RECTANGULAR, EXACT])
@pytest.mark.parametrize(
    ("value", "band"), [(NAN, VOLTS), (INF, VOLTS), (-INF, VOLTS), (NAN, OHMS), (INF, OHMS), (-INF, OHMS)]
)
def test_what_is_no_finite_number_is_not_judged(value, band, known):
    assert both_ways(value, band, known) is Judgement.not_judged


@pytest.mark.parametrize(
    ("value", "known", "judgement"),
    [
        (-5.0, NORMAL, Judgement.not_judged),
        (-5.0, RECTANGULAR, Judgement.not_judged),
        (-1e-9, None, Judgement.not_judged),
        (-0.1, NORMAL, Judgement.passed),
        (-0.1, RECTANGULAR, Judgement.passed),
    ],
)
def test_a_resistance_below_zero_is_judged_only_where_the_uncertainty_reaches_zero(value, known, judgement):
    assert both_ways(value, OHMS, known) is judgement


@pytest.mark.parametrize(
    ("value", "known", "judgement"),
    [
        (9.0, None, Judgement.passed),
        (9.0, EXACT, Judgement.passed),
        (9.0, NORMAL, Judgement.conditional_pass),
        (9.0, RECTANGULAR, Judgement.conditional_pass),
        (9.1, EXACT, Judgement.failed),
        (9.1, RECTANGULAR, Judgement.conditional_fail),
        (9.3, RECTANGULAR, Judgement.failed),
    ],
)
def test_a_band_of_no_width_is_met_by_its_value_alone(value, known, judgement):
    assert both_ways(value, POINT, known) is judgement


@pytest.mark.parametrize(
    ("value", "judgement"), [(8.1, Judgement.passed), (9.9, Judgement.passed), (9.9000001, Judgement.failed)]
)
def test_without_any_uncertainty_the_limits_decide(value, judgement):
    assert both_ways(value, VOLTS, EXACT) is judgement
    found = decide(value=value, bound=Bound.exact, band=VOLTS, uncertainty=EXACT)
    assert found.conformance_probability == (1.0 if judgement is Judgement.passed else 0.0)
    assert found.guard_band == 0.0


@pytest.mark.parametrize(("lower", "upper"), [(2.0, 1.0), (NAN, 1.0), (1.0, INF), (-INF, None)])
def test_limits_that_are_none_are_refused_in_a_sentence(lower, upper):
    with pytest.raises(BandProblem, match=r"swap them|no finite number"):
        Band(kind=Kind.voltage, unit="V", lower=lower, upper=upper)


@pytest.mark.parametrize("text", ["between 9.9 V and 8.1 V", "9 V ± -1 V", "9 V ± 5 % ± 5 %", "at most nan", "at most"])
def test_a_written_band_that_is_none_is_refused_in_a_sentence(text):
    with pytest.raises(AcceptProblem) as refused:
        parse_accept(text).band({}, kind=Kind.voltage)
    assert len(refused.value.sentence) > 20


@pytest.mark.parametrize("size", [NAN, INF, -INF, 1e200])
def test_a_source_of_uncertainty_that_is_no_number_is_refused(size):
    with pytest.raises(BudgetProblem, match="no finite number"):
        combine([Source("step", size), Source("rest", 1.0)])


@pytest.mark.parametrize("value", [INF, -INF, 1e12, NAN])
def test_a_reading_that_no_meter_shows_is_refused(meters, value):
    with pytest.raises(RangeProblem, match="cannot show this"):
        uncertainty_of(meters["tb-m1"], Function.dc_voltage, value)
