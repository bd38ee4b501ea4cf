"""Conformity: JCGM 106:2012 worked examples, ILAC-G8:09/2019 statements and guard bands, global risks by Deaver.

JCGM 106 clause 7 and 8 examples and the ILAC-G8 table are from memory but for its rows r = 1 and r = 0; their
arithmetic was recomputed. Points marked derived have a published formula and a value of our own.
"""

from collections.abc import Callable
from math import inf

import pytest
from scipy import integrate, stats

from benchapp.judgement.decision.decision import conformance_probability, decide, statement
from benchapp.judgement.statements.band import Band
from benchapp.judgement.statements.statements import Rule
from benchapp.judgement.uncertainty.budget import plain_uncertainty
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.quantity import Bound


def band(lower, upper, rule=Rule.guarded) -> Band:
    return Band(kind=Kind.ratio, unit="", lower=lower, upper=upper, rule=rule)


def probability(y, u, lower, upper) -> float:
    found = conformance_probability(y, band(lower, upper), plain_uncertainty(u))
    assert found is not None
    return found


class TestJcgm106:
    # 7.3.3 examples 1 and 2, 7.4: from memory, recomputed
    @pytest.mark.parametrize(
        ("y", "u", "lower", "upper", "published", "exact"),
        [
            (-5.47, 0.05, None, -5.40, 0.92, 0.919243),  # breakdown voltage of a Zener diode
            (509.7, 8.6, 490.0, None, 0.99, 0.989010),  # burst pressure of a container
            (13.6, 1.8, 12.5, 16.3, 0.66, 0.662630),  # viscosity of an oil
        ],
    )
    def test_conformance_probability_of_clause_7(self, y, u, lower, upper, published, exact):
        found = probability(y, u, lower, upper)
        assert found == pytest.approx(published, abs=0.005)
        assert found == pytest.approx(exact, abs=5e-6)

    # clause 7.6, derived: Cm = T/(4u), y in shares of the tolerance
    @pytest.mark.parametrize(
        ("capability", "expected"),
        [
            (1, (0.5000, 0.6553, 0.8400, 0.9545)),
            (2, (0.5000, 0.7881, 0.9772, 0.9999)),
            (4, (0.5000, 0.9452, 1.0000, 1.0000)),
        ],
    )
    def test_conformance_probability_from_the_capability_index(self, capability, expected):
        for y, p in zip((0.0, 0.1, 0.25, 0.5), expected, strict=True):
            assert probability(y, 1 / (4 * capability), 0.0, 1.0) == pytest.approx(p, abs=5e-5)

    # 8.3.3.2 example 1, from memory: limit 100 km/h, u = 2 % of the speed, 99.9 %: enforce from 107 km/h
    def test_guarded_rejection_of_a_speed(self):
        assert probability(107.0, 2.14, None, 100.0) < 0.001
        assert probability(106.0, 2.12, None, 100.0) > 0.001

    # 9.5: resistors of 1500 ohm; inputs confirmed, rounded results from memory
    def test_global_risks_of_guarded_resistors(self):
        accepts = acceptance(1499.8, 1500.2, 0.04, r=0.02 / 0.08)
        consumer, producer, conforming = global_risks(stats.norm(1500, 0.12), 0.04, 1499.8, 1500.2, accepts)
        assert conforming == pytest.approx(0.904419, abs=1e-6)
        assert consumer == pytest.approx(0.009878, abs=1e-6)
        assert producer == pytest.approx(0.069027, abs=1e-6)

    # the same, simple acceptance: derived
    def test_global_risks_of_simple_acceptance(self):
        accepts = acceptance(1499.8, 1500.2, 0.04, r=0.0)
        consumer, producer, _ = global_risks(stats.norm(1500, 0.12), 0.04, 1499.8, 1500.2, accepts)
        assert consumer == pytest.approx(0.018942, abs=1e-6)
        assert producer == pytest.approx(0.037208, abs=1e-6)

    # 9.5.4: ball bearings, confirmed
    @pytest.mark.parametrize(("guard", "consumer", "producer"), [(0.0, 0.008019, 0.017445), (0.33, 0.000985, 0.075983)])
    def test_global_risks_of_ball_bearings(self, guard, consumer, producer):
        accepts = acceptance(None, 2.0, 0.25, r=guard / 0.5)
        prior = stats.gamma(4, scale=0.25)
        assert 1 - prior.cdf(2.0) == pytest.approx(0.042380, abs=1e-6)
        found = global_risks(prior, 0.25, 0.0, 2.0, accepts)
        assert found[:2] == pytest.approx((consumer, producer), abs=2e-6)


# Deaver, "Guardbanding with confidence" (NCSL): limits in process standard deviations; confirmed to the digits printed
@pytest.mark.parametrize(
    ("limit", "ratio", "guard", "consumer", "producer"),
    [(2.0, 4.0, 0.0, 0.008006, 0.014851), (2.5, 4.0, 0.0, 0.002445, 0.005319), (2.0, 2.0, 0.18, 0.008052, 0.066105)],
)
def test_global_risks_by_deaver(limit, ratio, guard, consumer, producer):
    u = 1 / ratio
    accepts = acceptance(-limit, limit, u, r=guard / (2 * u))
    found = global_risks(stats.norm(0, 1), u, -limit, limit, accepts)
    assert found[:2] == pytest.approx((consumer, producer), abs=2e-6)


class TestIlacG8:
    # clauses 4.2.1 to 4.2.3, upper limit 100, w = U = 2; classification vectors
    @pytest.mark.parametrize(
        ("y", "judgement", "p"),
        [
            (97.9, "pass", 0.982136),
            (98.1, "conditional pass", None),
            (99.0, "conditional pass", 0.841345),
            (100.0, "conditional pass", 0.5),
            (101.0, "conditional fail", 0.158655),
            (101.9, "conditional fail", None),
            (102.1, "fail", None),
        ],
    )
    def test_non_binary_statements(self, y, judgement, p):
        decision = decide(value=y, bound=Bound.exact, band=band(None, 100.0), uncertainty=plain_uncertainty(1.0), r=1.0)
        assert decision.judgement == judgement
        assert decision.guard_band == 2.0
        if p is not None:
            assert decision.conformance_probability == pytest.approx(p, abs=1e-6)
            assert decision.false_accept_risk == pytest.approx(1 - p, abs=1e-6)

    # table of clause 5.2: r, acceptance limit for limit 100 and u = 1, risk at the acceptance limit
    @pytest.mark.parametrize(
        ("r", "limit", "below", "exact"),
        [
            (3.0, 94.0, 1e-6, 9.87e-10),  # 6 sigma
            (1.5, 97.0, 0.0016, 0.001350),  # 3 sigma
            (1.0, 98.0, 0.025, 0.022750),  # ILAC G8:2009, confirmed
            (0.83, 98.34, 0.05, 0.048457),  # ISO 14253-1
            (0.0, 100.0, 0.5 + 1e-9, 0.5),  # simple acceptance, confirmed
        ],
    )
    def test_risk_of_false_accept_at_the_acceptance_limit(self, r, limit, below, exact):
        decision = decide(
            value=limit, bound=Bound.exact, band=band(None, 100.0), uncertainty=plain_uncertainty(1.0), r=r
        )
        assert decision.judgement == "pass"
        assert decision.false_accept_risk == pytest.approx(exact, rel=5e-4)
        assert decision.false_accept_risk < below
        just_above = decide(
            value=limit + 1e-6, bound=Bound.exact, band=band(None, 100.0), uncertainty=plain_uncertainty(1.0), r=r
        )
        assert just_above.judgement != "pass"

    # "uncritical": A = limit + U, risk of false reject below 2.5 %
    def test_risk_of_false_reject_when_the_guard_band_is_negative(self):
        rejected = decide(
            value=102.000001, bound=Bound.exact, band=band(None, 100.0), uncertainty=plain_uncertainty(1.0), r=-1.0
        )
        assert rejected.judgement == "fail"
        assert rejected.false_reject_risk == pytest.approx(0.022750, rel=1e-3)

    # ISO 14253-1: one-sided 95 % needs z = 1.644854, that is 0.822427 U
    def test_the_factor_of_iso_14253(self):
        from benchapp.judgement.uncertainty.distributions import t_quantile

        assert t_quantile(0.95, inf) / 2 == pytest.approx(0.822427, abs=1e-6)


def acceptance(lower, upper, u, *, r) -> Callable[[float], bool]:
    """What our decision rule passes, as a function of the reading."""
    return lambda y: statement(y, lower, upper, r * 2 * u) == "pass"


def acceptance_edge(accepts, inside: float, outside: float) -> float:
    """Where acceptance ends, found from the rule alone by halving."""
    for _ in range(200):
        middle = 0.5 * (inside + outside)
        inside, outside = (middle, outside) if accepts(middle) else (inside, middle)
    return inside


def global_risks(prior, u, lower, upper, accepts) -> tuple[float, float, float]:
    """R_C, R_P and P(conforming) by integrating over the process (JCGM 106, 9.5.2)."""
    middle = 0.5 * (lower + upper)
    width = upper - lower
    low = acceptance_edge(accepts, middle, lower - 10 * width) if not accepts(lower - 10 * width) else -inf
    high = acceptance_edge(accepts, middle, upper + 10 * width)

    def accepted(eta: float) -> float:
        return stats.norm.cdf((high - eta) / u) - stats.norm.cdf((low - eta) / u)

    def integral(function, start, end) -> float:
        return integrate.quad(function, start, end, epsabs=1e-12, limit=400)[0]

    start, end = prior.ppf(1e-13), prior.ppf(1 - 1e-13)
    conforming = prior.cdf(upper) - prior.cdf(lower)
    consumer = integral(lambda eta: accepted(eta) * prior.pdf(eta), upper, max(end, upper))
    if start < lower:
        consumer += integral(lambda eta: accepted(eta) * prior.pdf(eta), start, lower)
    inside = integral(lambda eta: accepted(eta) * prior.pdf(eta), max(start, lower), upper)
    return consumer, conforming - inside, conforming
