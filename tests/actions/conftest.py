"""A real workbook on a small workshop of its own: a loudspeaker without mains, two short sequences."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.workbench.bench import Bench
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.people import OPENED, staffed

SMALL = Path(__file__).with_name("small")


class Clock:
    """A time that moves on by ten seconds at each look, and further when told."""

    def __init__(self):
        self.now = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)

    def __call__(self):
        self.now += timedelta(seconds=10)
        return self.now.isoformat(timespec="milliseconds").replace("+00:00", "Z")

    def pass_days(self, days):
        self.now += timedelta(days=days)


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def path(tmp_path):
    return tmp_path / "tarnbeck.workbook"


@pytest.fixture
def bench(path, clock):
    opened = Bench.create(path, folders=(SMALL,), clock=clock, workshop=staffed())
    yield opened
    opened.close()


@pytest.fixture
def lot(bench):
    """Three loudspeakers, the bench open and the hand meter proved."""
    open_bench(
        bench,
        by="AB",
        meters=(MeterProof(meter="tb-m1", proved=True, lead_resistance=0.1),),
        rcd_button_tested=True,
        **OPENED,
    )
    take_in_lot(
        bench,
        name="Tarnbeck hall",
        equipment="tb-ls1",
        route="small-check",
        marks=("TB-001", "TB-002", "TB-003"),
        by="AB",
    )
    return "Tarnbeck hall"
