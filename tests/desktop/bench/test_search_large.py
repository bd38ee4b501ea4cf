"""The page stays alive while it weighs a large circuit: 37 pins, 150 parts, the true window."""

import time

import pytest
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtTest import QTest

from benchapp.actions.workbench.bench import Bench
from tests.desktop.large import FIRST, PARTS, PINS, go_to_the_pair, write_workshop
from tests.desktop.windows import prove_meters, take_in, window_on
from tests.people import staffed

BETWEEN_KEYS = 0.06
"""seconds: what comes sooner is a scanner's"""


@pytest.fixture
def before_large(look, path, clock, tmp_path):
    """A technician whose first reading of the large network is typed and would fail."""
    bench = Bench.create(path, clock=clock, folders=(write_workshop(tmp_path / "own"),), workshop=staffed())
    take_in(bench, count=2, equipment="large", route="large-check")
    prove_meters(bench)
    with window_on(look, bench) as technician:
        go_to_the_pair(technician)
        assert technician.address == FIRST
        yield technician


def test_the_network_is_as_large_as_it_claims(before_large):
    circuit = before_large.view.plan.circuit
    assert (len(circuit.connectors["socket"].terminals), len(circuit.parts)) == (PINS, PARTS)


def test_keys_go_in_and_the_window_turns_while_it_weighs(before_large):
    technician, turned, typed, next_key = before_large, 0, "", 0.0
    technician.type("OL")
    QTest.keyClick(technician.page.field, Qt.Key.Key_F10)
    until = time.monotonic() + 60
    while not (page := technician.window.bench.page) or page.name != "search":
        QCoreApplication.processEvents()
        assert time.monotonic() < until
    while page._weighing:
        QCoreApplication.processEvents()
        turned += 1
        if len(typed) < 3 and time.monotonic() >= next_key:
            next_key = time.monotonic() + BETWEEN_KEYS
            QTest.keyClick(technician.window.focusWidget(), str(len(typed) + 1))
            typed += str(len(typed) + 1)
        assert time.monotonic() < until
    assert turned > 3
    while page.field.text() != typed and time.monotonic() < until:  # a key waits until no scanner's can follow it
        QCoreApplication.processEvents()
    assert page.field.text() == typed
    assert typed, "it weighed for less than one key takes: nothing was typed meanwhile"
    assert page.suspects.rows()
    technician.settle()
    technician.strike("Enter")
    assert "typed before the pair was shown" in technician.complaint


def test_an_answer_for_another_unit_is_dropped(before_large):
    """The technician goes on to the next unit while the first one is weighed."""
    technician = before_large
    technician.type("OL")
    technician.strike("Enter")
    QTest.keyClick(technician.window.focusWidget(), Qt.Key.Key_F10)
    QCoreApplication.processEvents()
    page = technician.window.bench.page
    assert page.name == "search"
    assert page._weighing
    QTest.keyClick(technician.window.focusWidget(), Qt.Key.Key_F5)
    technician.settle()
    assert technician.view.mark == "TB-002"
    assert technician.page.name != "search"
    assert technician.complaint == ""


def test_an_item_without_mains_is_not_told_what_live_readings_wait_for(before_large):
    technician = before_large
    technician.type("OL")
    technician.strike("F10")
    assert "as in socket.1,socket.2=OL" in technician.reads("search-more")
    assert "Live readings" not in technician.reads("search-more")
