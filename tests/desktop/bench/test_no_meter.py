"""A unit in work whose workshop had no meter is given one on the way that its page names, and keeps its answers."""

from dataclasses import replace

import pytest

from benchapp.actions.entries.meter_files import add_meter
from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.bench.pages.conditions import no_meter_words
from benchapp.judgement.meters.functions import Function
from tests.actions.entries.test_meter_files import LINE, sheet
from tests.desktop.windows import take_in, window_on
from tests.people import staffed


@pytest.fixture
def shed(look, path, clock):
    """A new workshop with one unit in work, and no meter."""
    bench = Bench.create(path, clock=clock, workshop=staffed(demo=False))
    take_in(bench, count=1, equipment="unknown-mains-item", route="unknown-mains-item")
    with window_on(look, bench) as technician:
        technician.take_unit("TB-001")
        technician.strike("Y", "1")
        yield technician


def rows(technician):
    return [row.words for row in technician.page.list.rows()]


def test_the_way_that_a_page_without_a_meter_names_gives_the_unit_one(shed):
    answered = shed.address
    line = replace(LINE, function=Function.continuity, largest="")
    add_meter(shed.window.context.bench, sheet(lines=(line,)), by="AB")
    shed.strike("F9")
    (number,) = [at for at, words in enumerate(rows(shed), 1) if f"F9, “{words}”" in no_meter_words()]
    shed.strike(str(number))
    (number,) = [at for at, words in enumerate(rows(shed), 1) if words.startswith("As it is, by the files and meters")]
    shed.strike(str(number))
    shed.type("a meter came")
    shed.strike("Enter")
    assert set(shed.view.plan.meters) == {"m1"}
    assert shed.address == answered
