"""The search for faults, counted: every shipped equipment with every single fault, and made-up circuits.

The technician, the units and the sizes of the faults are those of tests/wiring/simulator.py, not the diagnoser's own.
`python3 -m tests.wiring.figures --circuits 200` counts more. Run by tests/start.py --performance.
"""

from collections.abc import Sequence
from statistics import mean

import pytest

from tests.wiring.figures import WAYS, Run, least_probes, made_up_circuits, runs_over, shipped_circuits, summary

pytestmark = pytest.mark.performance

BARS = dict(zip(WAYS, (1.0, 0.97, 0.90), strict=True))
MADE_UP, FAULTS_OF_EACH = 12, 8
MOST_READINGS = 1.25
"""times those of the optimal tree: what is asked of the search"""


@pytest.mark.parametrize("way", WAYS)
def test_the_search_names_the_broken_part(way: str, capsys: pytest.CaptureFixture[str]) -> None:
    shipped = shipped_circuits()
    counted = {name: ([circuit], list(runs_over([circuit], way, 5))) for name, circuit in shipped.items()}
    made_up = made_up_circuits(MADE_UP, 1)
    counted[f"{MADE_UP} made-up circuits"] = (made_up, list(runs_over(made_up, way, 5, FAULTS_OF_EACH)))
    with capsys.disabled():
        print()
        for name, (circuits, runs) in counted.items():
            print(summary(f"{name}, {way}", circuits, runs))
    right = [run.right for _, runs in counted.values() for run in runs if run.seen]
    assert len(right) > 200
    assert mean(right) >= BARS[way]


def test_no_search_is_shorter_on_average_than_information_allows() -> None:
    """Shannon's bound below Huffman's, and Huffman's below what the search takes; else one of the three is wrong."""
    for circuit in shipped_circuits().values():
        runs: Sequence[Run] = [run for run in runs_over([circuit], WAYS[0], 7, 20) if run.seen]
        shannon, huffman = least_probes(circuit, runs)
        assert shannon <= huffman + 1e-9
        alone = [run for run in runs if run.group == 1]
        if len(alone) == len(runs):
            assert huffman <= mean(run.probes for run in runs)


def test_huffmans_code_of_known_chances() -> None:
    from tests.wiring.figures import huffman_mean

    # Huffman 1952, Proc. IRE 40, 1098, and Cover and Thomas, example 5.6.1 and 5.6.2; from memory, recomputed
    assert huffman_mean((0.25, 0.25, 0.2, 0.15, 0.15), 2) == pytest.approx(2.3)
    assert huffman_mean((0.25, 0.25, 0.2, 0.15, 0.15), 3) == pytest.approx(1.5)
    assert huffman_mean(tuple([1 / 8] * 8), 2) == pytest.approx(3.0)


def test_no_more_readings_are_taken_than_a_quarter_above_the_optimal_tree(capsys: pytest.CaptureFixture[str]) -> None:
    """Over all drawn faults of the outside judge (tests/judge) that some reading shows."""
    from tests.judge.counting import count_all

    counted = count_all()
    with capsys.disabled():
        print("\n" + "\n".join(f"{one.name}: {one.used:.0f} readings, {one.fewest:.0f} at best" for one in counted))
    assert counted[-1].fewest > 0
    assert counted[-1].ratio <= MOST_READINGS
