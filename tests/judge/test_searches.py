"""The everyday part of the drawn faults comes out no worse than it did, whoever changes the search."""

import pytest
import yaml

from tests.judge.counting import Count, count_all
from tests.judge.design import FOLDER
from tests.judge.verdicts import GROUP, RIGHT, WRONG


@pytest.fixture(scope="module")
def together() -> Count:
    return count_all(whole=False, trees=False)[-1]


def of(together: Count) -> dict[str, float]:
    return {
        "right": 100 * together.share(RIGHT),
        "right or in a group": 100 * together.share(RIGHT, GROUP),
        "wrong": 100 * together.share(WRONG),
        "sound units accused": 100 * sum(together.accused) / len(together.accused),
    }


def test_no_figure_of_the_everyday_part_is_worse_than_it_was(together):
    floors = yaml.safe_load((FOLDER / "floors.yaml").read_text(encoding="utf-8"))
    figures = of(together)
    assert together.shown > 35
    assert set(floors) == set(figures)
    for name, bar in floors.items():
        assert bar.get("at least", 0) <= figures[name] <= bar.get("at most", 100), (name, figures[name])
