"""A unit that stands at its first live reading: walked there once, and copied for each test."""

import pytest

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.theme.look import Look
from tests.desktop.windows import Clock, prove_meters, take_in, window_on
from tests.people import staffed
from tests.templates import Template


@pytest.fixture(scope="module")
def lot_at_live(qapp, tmp_path_factory):
    """Three mains units, the first of them at its first live reading."""

    def make(path, clock):
        from tests.desktop.bench.test_screen import is_at_live, unit_of, work_until

        look, bench = Look(qapp, dark=False), Bench.create(path, clock=clock, workshop=staffed())
        take_in(bench)
        prove_meters(bench)
        with window_on(look, bench) as technician:
            technician.take_unit("TB-001")
            work_until(technician, unit_of(), lambda: is_at_live(technician))
        look.forget()

    return Template(tmp_path_factory.mktemp("live"), Clock(), make)


@pytest.fixture
def at_live(look, lot_at_live, tmp_path):
    """A technician before TB-001 at its first live reading."""
    from tests.desktop.bench.test_screen import is_at_live

    bench = Bench.open(lot_at_live.copied(tmp_path), clock=lot_at_live.clock())
    with window_on(look, bench) as technician:
        technician.take_unit("TB-001")
        assert is_at_live(technician)
        yield technician
