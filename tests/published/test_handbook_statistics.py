"""NIST StRD certified standard deviations: all confirmed with exact rational arithmetic.

A one-pass formula fails the last two; float64 in two passes reaches 1e-9 and 1e-8 there.
"""

import pytest

from benchapp.judgement.uncertainty.budget import standard_deviation

MAVRO = [
    180, 170, 180, 190, 180, 170, 150, 140, 150, 150, 170, 180, 180, 190, 190, 210, 200, 160, 140, 130, 130, 150, 150,
    160, 150, 140, 130, 140, 150, 140, 150, 160, 150, 160, 190, 200, 200, 210, 220, 230, 240, 250, 270, 260, 260, 260,
    270, 260, 250, 240,
]  # fmt: skip
MICHELSO = [
    85, 74, 90, 107, 93, 85, 95, 98, 98, 88, 100, 98, 93, 65, 76, 81, 100, 100, 96, 96, 96, 94, 96, 94, 88, 80, 85, 88,
    90, 84, 83, 79, 81, 88, 88, 83, 80, 79, 76, 80, 88, 88, 88, 86, 72, 72, 62, 86, 97, 95, 88, 91, 85, 87, 84, 84, 85,
    84, 84, 84, 89, 81, 81, 82, 80, 77, 76, 74, 75, 76, 91, 92, 89, 86, 88, 72, 84, 85, 85, 78, 89, 84, 78, 81, 76, 81,
    79, 81, 82, 85, 87, 87, 81, 74, 81, 94, 95, 80, 81, 87,
]  # fmt: skip


@pytest.mark.parametrize(
    ("readings", "certified", "relative"),
    [
        ([2 + x * 1e-5 for x in MAVRO], 0.000429123454003053, 1e-11),
        ([299 + x / 100 for x in MICHELSO], 0.0790105478190518, 1e-12),
        ([10000001.0, 10000003.0, 10000002.0], 1.0, 1e-15),
        ([1.2] + [1.1, 1.3] * 500, 0.1, 1e-12),
        ([1000000.2] + [1000000.1, 1000000.3] * 500, 0.1, 1e-9),
        ([10000000.2] + [10000000.1, 10000000.3] * 500, 0.1, 1e-8),
    ],
    ids=["Mavro", "Michelso", "NumAcc1", "NumAcc2", "NumAcc3", "NumAcc4"],
)
def test_standard_deviation_reaches_the_certified_value(readings, certified, relative):
    assert standard_deviation(readings) == pytest.approx(certified, rel=relative)
