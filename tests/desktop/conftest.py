"""What tests of the screens share: how the application looks."""

from contextlib import ExitStack

import pytest

from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.spoken import ANNOUNCER
from tests.desktop.walks import Walks, window_there
from tests.desktop.windows import WORKSHOP, Clock, prove_meters, take_in, window_on
from tests.people import staffed


@pytest.fixture
def look(qapp):
    made = Look(qapp, dark=False)
    yield made
    made.forget()


@pytest.fixture
def shown(qtbot):
    """Show a widget and wait until it is there; closed again after the test."""

    def show(widget, width=900, height=500):
        qtbot.addWidget(widget)
        widget.resize(width, height)
        widget.show()
        qtbot.waitExposed(widget)
        return widget

    return show


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def path(tmp_path):
    return tmp_path / "tarnbeck.workbook"


@pytest.fixture
def bench(path, clock):
    """A new workbook with the shipped files and a route that has a step of every kind."""
    return Bench.create(path, clock=clock, folders=(WORKSHOP,), workshop=staffed())


@pytest.fixture
def technician(look, bench):
    """A technician before a window on three mains units, the bench opened for the day."""
    take_in(bench)
    prove_meters(bench)
    with window_on(look, bench) as before_it:
        yield before_it


@pytest.fixture(scope="session")
def walks(qapp, tmp_path_factory):
    return Walks(qapp, tmp_path_factory.mktemp("walks"))


@pytest.fixture
def walked_to(look, walks, tmp_path):
    """Called with a place: a technician before a window on TB-001 there, on a workbook of the test's own."""
    with ExitStack() as windows:
        yield lambda place: window_there(windows, look, walks.to(place), tmp_path, place)


@pytest.fixture
def every_step(look, bench):
    """A technician before a window on a unit whose route has a step of every kind; the unit is on the bench."""
    take_in(bench, count=2, route="every-step-check")
    prove_meters(bench)
    with window_on(look, bench) as before_it:
        before_it.take_unit("TB-001")
        yield before_it


@pytest.fixture
def heard():
    """What was announced, in order."""
    said = []
    ANNOUNCER.announced.connect(said.append)
    yield said
    ANNOUNCER.announced.disconnect(said.append)
