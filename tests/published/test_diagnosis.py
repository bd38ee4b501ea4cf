"""Which measurement tells most, against published diagnosis problems.

The best next probe is chosen by mutual information; here that function alone is checked on the logic circuit of three
multipliers and two adders. The electrical hypotheses themselves know no multipliers, so candidates and their chances
are taken as published.
"""

import numpy as np
import pytest

from benchapp.wiring.next_probe import information

# de Kleer and Williams 1987, Artificial Intelligence 32, 97: F = 10, G = 12 where 12 and 12 were predicted.
# Circuit and symptom confirmed; chances and bits recomputed (independent faults, p = 0.01, minimal candidates alone).
CANDIDATES = {"A1": 99 / 200, "M1": 99 / 200, "A2 M2": 1 / 200, "M2 M3": 1 / 200}
READS = {  # what X, Y and Z read under each candidate, by the same circuit
    "A1": (6, 6, 6),
    "M1": (4, 6, 6),
    "A2 M2": (6, 4, 6),
    "M2 M3": (6, 4, 8),
}


def bits_of_every_point() -> list[float]:
    shares = np.zeros((len(CANDIDATES), 3, 9))
    for row, name in enumerate(CANDIDATES):
        for point, value in enumerate(READS[name]):
            shares[row, point, value] = 1.0
    weight = np.array(list(CANDIDATES.values()))
    return [float(bits) for bits in information(shares, weight, np.arange(len(CANDIDATES)), len(CANDIDATES))]


def test_the_multiplier_circuit_is_measured_at_x_first_then_y_then_z() -> None:
    x, y, z = bits_of_every_point()
    assert x > y > z
    assert (x, y, z) == pytest.approx((0.999928, 0.080793, 0.045415), abs=1e-6)


@pytest.mark.parametrize(
    ("chances", "entropy"),
    [
        # Cover and Thomas, Elements of Information Theory, ex. 5.6.1 and others; from memory
        ((0.25, 0.25, 0.20, 0.15, 0.15), 2.285475),
        ((0.5, 0.25, 0.125, 0.125), 1.75),
        ((1 / 3, 1 / 3, 1 / 4, 1 / 12), 1.855389),
    ],
)
def test_a_probe_that_tells_all_apart_gives_the_whole_entropy(chances: tuple[float, ...], entropy: float) -> None:
    count = len(chances)
    shares = np.eye(count)[:, None, :]
    assert information(shares, np.array(chances), np.arange(count), count)[0] == pytest.approx(entropy, abs=1e-6)


def test_what_is_the_same_for_all_tells_nothing_and_one_group_cannot_be_split() -> None:
    same = np.ones((3, 1, 1))
    weight = np.array([0.2, 0.3, 0.5])
    assert information(same, weight, np.arange(3), 3)[0] == pytest.approx(0.0, abs=1e-12)
    apart = np.eye(3)[:, None, :]
    assert information(apart, weight, np.zeros(3, dtype=int), 1)[0] == pytest.approx(0.0, abs=1e-12)
