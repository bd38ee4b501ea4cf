"""Which measurement tells most, against a published diagnosis problem and tables of entropies.

The circuit of three multipliers and two adders goes through the same functions as the probes of a bench: hypotheses and
what each would read are plain arrays to them. The logic is written out here, because an equipment file knows no
multipliers: a sound component computes, a broken one gives any value.
"""

from itertools import combinations, product

import numpy as np
import pytest

from benchapp.wiring.search.bayes import best_question, entropy, fit, information, posterior

# de Kleer and Williams 1987, Artificial Intelligence 32, 97: A = 3, B = 2, C = 2, D = 3, E = 3; M1 = A × C, M2 = B × D,
# M3 = C × E, A1 = X + Y, A2 = Y + Z; F reads 10 where 12 was predicted, G reads 12 as predicted. Circuit, symptom and
# minimal candidates confirmed; chances recomputed (independent faults, a broken part gives any of 16 values alike).
PARTS = ("M1", "M2", "M3", "A1", "A2")
BROKEN = 0.01
VALUES = range(16)
POINTS = ("X", "Y", "Z", "F", "G")
HYPOTHESES = [frozenset(some) for count in range(3) for some in combinations(PARTS, count)]  # up to two broken at once


def worlds(broken: frozenset[str]) -> list[tuple[int, ...]]:
    """Everything that X, Y, Z, F and G could read together with these parts broken, each as likely as the others."""
    free = sorted(broken)
    found = []
    for given in product(VALUES, repeat=len(free)):
        out = dict(zip(free, given, strict=True))
        x, y, z = (out.get(part, 6) for part in ("M1", "M2", "M3"))
        found.append((x, y, z, out.get("A1", x + y), out.get("A2", y + z)))
    return found


def tables(seen: dict[str, int]) -> tuple[np.ndarray, np.ndarray]:
    """For each hypothesis the likelihood of what was seen, and its chances of every value at every point after that."""
    likelihood = np.zeros(len(HYPOTHESES))
    shares = np.zeros((len(HYPOTHESES), len(POINTS), 2 * len(VALUES)))
    for row, broken in enumerate(HYPOTHESES):
        every = worlds(broken)
        left = [world for world in every if all(world[POINTS.index(point)] == value for point, value in seen.items())]
        likelihood[row] = len(left) / len(every)
        for world in left:
            for column, value in enumerate(world):
                shares[row, column, value] += 1 / len(left)
    return likelihood, shares


def chances_after(seen: dict[str, int]) -> tuple[dict[frozenset[str], float], np.ndarray]:
    prior = np.array([BROKEN ** len(h) * (1 - BROKEN) ** (len(PARTS) - len(h)) for h in HYPOTHESES])
    likelihood, shares = tables(seen)
    weight = posterior(prior, fit([likelihood], len(HYPOTHESES)))
    bits = information(shares, weight, np.arange(len(HYPOTHESES)), len(HYPOTHESES))
    return dict(zip(HYPOTHESES, weight, strict=True)), bits


def minimal(chances: dict[frozenset[str], float]) -> set[frozenset[str]]:
    """Candidates none of whose subsets explains what was seen too."""
    able = [broken for broken, chance in chances.items() if chance > 1e-200]
    return {one for one in able if not any(other < one for other in able)}


SYMPTOM = {"F": 10, "G": 12}


def test_the_candidates_of_the_multiplier_circuit_are_the_published_ones() -> None:
    chances, _ = chances_after(SYMPTOM)
    assert minimal(chances) == {frozenset(c) for c in (("A1",), ("M1",), ("A2", "M2"), ("M2", "M3"))}
    first_two = sorted(chances, key=lambda broken: -chances[broken])[:2]
    assert {next(iter(one)) for one in first_two} == {"A1", "M1"}
    assert chances[frozenset({"A1"})] == pytest.approx(chances[frozenset({"M1"})], rel=1e-12)


def test_with_g_at_ten_too_the_shared_multiplier_is_the_one_single_candidate() -> None:
    # the same circuit, F = G = 10: M2 feeds both adders
    chances, _ = chances_after({"F": 10, "G": 10})
    assert {c for c in minimal(chances) if len(c) == 1} == {frozenset({"M2"})}
    assert max(chances, key=lambda broken: chances[broken]) == frozenset({"M2"})


def test_x_is_the_best_next_measurement_and_then_y_and_z() -> None:
    _, bits = chances_after(SYMPTOM)
    x, y, z, f, g = bits
    assert x > y > z > f
    assert (f, g) == pytest.approx((0.0, 0.0), abs=1e-9)  # what was read already tells nothing more
    assert POINTS[best_question(bits, np.ones(len(POINTS)))] == "X"


@pytest.mark.parametrize(("value", "culprit"), [(4, "M1"), (6, "A1")])
def test_after_x_one_part_is_left(value: int, culprit: str) -> None:
    chances, _ = chances_after(SYMPTOM | {"X": value})
    assert max(chances, key=lambda broken: chances[broken]) == frozenset({culprit})
    assert chances[frozenset({culprit})] > 0.9


def test_a_dear_measurement_is_put_off() -> None:
    _, bits = chances_after(SYMPTOM)
    assert POINTS[best_question(bits, np.array([1000.0, 1.0, 1.0, 1.0, 1.0]))] == "Y"


CANDIDATES = {"A1": 99 / 200, "M1": 99 / 200, "A2 M2": 1 / 200, "M2 M3": 1 / 200}
READS = {  # what X, Y and Z read under each minimal candidate, by the same circuit
    "A1": (6, 6, 6),
    "M1": (4, 6, 6),
    "A2 M2": (6, 4, 6),
    "M2 M3": (6, 4, 8),
}


def test_minimal_candidates_alone_give_the_same_order_of_measurements() -> None:
    shares = np.zeros((len(CANDIDATES), 3, 9))
    for row, name in enumerate(CANDIDATES):
        for point, value in enumerate(READS[name]):
            shares[row, point, value] = 1.0
    weight = np.array(list(CANDIDATES.values()))
    bits = information(shares, weight, np.arange(len(CANDIDATES)), len(CANDIDATES))
    assert bits == pytest.approx((0.999928, 0.080793, 0.045415), abs=1e-6)


@pytest.mark.parametrize(
    ("chances", "bits"),
    [
        # Cover and Thomas, Elements of Information Theory, ex. 5.6.1 and others; from memory
        ((0.25, 0.25, 0.20, 0.15, 0.15), 2.285475),
        ((0.5, 0.25, 0.125, 0.125), 1.75),
        ((1 / 3, 1 / 3, 1 / 4, 1 / 12), 1.855389),
    ],
)
def test_a_probe_that_tells_all_apart_gives_the_whole_entropy(chances: tuple[float, ...], bits: float) -> None:
    count = len(chances)
    shares = np.eye(count)[:, None, :]
    assert information(shares, np.array(chances), np.arange(count), count)[0] == pytest.approx(bits, abs=1e-6)
    assert entropy(np.array(chances)) == pytest.approx(bits, abs=1e-6)


def test_what_is_the_same_for_all_tells_nothing_and_one_group_cannot_be_split() -> None:
    same = np.ones((3, 1, 1))
    weight = np.array([0.2, 0.3, 0.5])
    assert information(same, weight, np.arange(3), 3)[0] == pytest.approx(0.0, abs=1e-12)
    apart = np.eye(3)[:, None, :]
    assert information(apart, weight, np.zeros(3, dtype=int), 1)[0] == pytest.approx(0.0, abs=1e-12)
