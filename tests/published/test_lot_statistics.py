"""Statistics of a lot against handbooks.

Sources, with their status as in the project's reference values:
- NIST/SEMATECH e-Handbook 7.2.4.1, 26 defective of 200: one-sided limit 0.09577 (confirmed); two-sided (derived).
- R. G. Newcombe, Statistics in Medicine 17 (1998) 857–872, 81 of 263, method 3: 0.2553 to 0.3662 (from memory).
- NIST/SEMATECH e-Handbook 1.3.5.17 and Iglewicz and Hoaglin (1993), modified z-score: 2.1 … 8.3 (confirmed).
- scipy, as an independent computation of the interval.
"""

import pytest
from scipy.stats import binomtest

from benchapp.lots.first_pass import wilson_interval
from benchapp.lots.siblings import compare_siblings, robust_scores

DATA = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3]


def test_wilson_interval_of_the_nist_handbook():
    one_sided, _ = wilson_interval(26, 200, confidence=0.90)
    assert one_sided == pytest.approx(0.0957727, abs=5e-7)
    assert wilson_interval(26, 200) == pytest.approx((0.090282, 0.183664), abs=1e-6)


def test_wilson_interval_of_newcombe():
    assert wilson_interval(81, 263) == pytest.approx((0.2553, 0.3662), abs=5e-5)


@pytest.mark.parametrize(("passed", "judged"), [(0, 1), (0, 20), (1, 29), (15, 148), (81, 263), (20, 20)])
def test_wilson_interval_of_scipy(passed, judged):
    found = binomtest(passed, judged).proportion_ci(confidence_level=0.95, method="wilson")
    assert wilson_interval(passed, judged) == pytest.approx((found.low, found.high), abs=1e-12)


def test_modified_z_score_of_iglewicz_and_hoaglin():
    scores = robust_scores(DATA)
    assert scores[8] == pytest.approx(25.8558, abs=5e-5)
    assert scores[9] == pytest.approx(26.3055, abs=5e-5)
    assert max(abs(score) for score in scores[:8]) <= 1.5739
    flagged = [one.value for one in compare_siblings(dict(zip("abcdefghij", DATA, strict=True))) if one.worth_a_look]
    assert flagged == [8.2, 8.3]
