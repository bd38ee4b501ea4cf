"""What the journeys share: how the window looks, the time of day, a fresh workbook."""

import pytest

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.theme.look import Look
from tests.desktop.windows import Clock
from tests.people import staffed


@pytest.fixture
def look(qapp):
    made = Look(qapp, dark=False)
    yield made
    made.forget()


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def path(tmp_path):
    return tmp_path / "tarnbeck.workbook"


@pytest.fixture
def bench(path, clock):
    return Bench.create(path, clock=clock, workshop=staffed())
