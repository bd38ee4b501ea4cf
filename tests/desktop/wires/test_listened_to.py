"""The reading page with a tester that is only listened to: it sends a line when its own key is pressed."""

import time
from contextlib import ExitStack

import pytest

from benchapp.actions.entries.conditions import record_meter
from benchapp.actions.workbench.bench import Bench
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.language.vocabulary import ReadingSource
from demo.simulated_sender import SimulatedSender
from tests.actions.driving import do_what_is_due
from tests.desktop.windows import prove_meters, take_in, window_on
from tests.desktop.wires.test_reading_page import entries, until, wait
from tests.people import staffed

WIRE = """wire:
  address: TCPIP::127.0.0.1::{port}::SOCKET
  dialect: lines
  line: "{{function}} {{value}} {{unit}}"
  functions: {{CONT: continuity, EARTH: earth continuity, INS: insulation}}
"""
INSULATION, LEADS = "insulation.live-to-case", "insulation.leads-before"


@pytest.fixture
def tester():
    simulated = SimulatedSender(lambda: simulated.line)
    simulated.line, simulated.port = "INS 150.0 Mohm", simulated.start()
    yield simulated
    simulated.stop()


@pytest.fixture
def at_step(look, path, clock, tmp_path, tester):
    """A technician at a step, whose insulation tester sends what it shows."""
    opened = ExitStack()

    def make(address):
        text = (shipped_folder("resources") / "meters" / "tb-it1.yaml").read_text(encoding="utf-8")
        (tmp_path / "meters").mkdir()
        (tmp_path / "meters" / "tb-it1.yaml").write_text(text + WIRE.format(port=tester.port), encoding="utf-8")
        bench = Bench.create(path, clock=clock, workshop=staffed())
        take_in(bench, count=1)
        prove_meters(bench)
        do_what_is_due(bench, "TB-001", until=LEADS)
        record_meter(bench, "TB-001", "tb-it1", by="AB")
        technician = opened.enter_context(window_on(look, bench))
        technician.take_unit("TB-001")
        if address != LEADS:
            technician.type("0.03")
            technician.strike("Enter")
            technician.confirm_rows()
        assert (technician.page.name, technician.address) == ("reading", address)
        until(technician, lambda: tester.has_listener)
        return technician

    with opened:
        yield make


def press_until(technician, tester, text):
    """Press its key, as often as somebody does before it is seen: the first moment was under way before."""
    pressed = 0.0

    def is_seen():
        nonlocal pressed
        if time.monotonic() - pressed > 1:
            pressed = time.monotonic()
            tester.press()
        return text in technician.page.wire.shows.text()

    until(technician, is_seen)


def test_what_its_key_sent_is_taken_by_a_persons_key_however_long_it_was_looked_at(at_step, tester):
    technician = at_step(INSULATION)
    page, before = technician.page, len(entries(technician))
    press_until(technician, tester, "150.0 Mohm")
    wait(technician, 3.0)
    assert len(entries(technician)) == before
    assert not page.wire.problem.isVisible()
    technician.strike("+")
    (entry,) = entries(technician)[before:]
    assert (entry.content.value, entry.content.source) == (150e6, ReadingSource.wire)


def test_before_its_key_is_pressed_the_page_says_what_it_waits_for(at_step, tester):
    technician = at_step(INSULATION)
    page = technician.page
    until(technician, lambda: "press of its own key" in page.wire.problem.text())
    technician.strike("+")
    assert page.field.text() == ""
    press_until(technician, tester, "150.0 Mohm")
    assert not page.wire.problem.isVisible()


def test_probes_that_went_silent_are_not_taken_for_what_they_read_before(at_step, tester):
    """Ohms of the leads change with the hands: what was sent seconds ago says nothing now."""
    technician = at_step(LEADS)
    page = technician.page
    tester.line = "CONT 0.03 ohm"
    press_until(technician, tester, "0.03 ohm")
    until(technician, lambda: page.wire.problem.isVisible())
    technician.strike("+")
    assert page.field.text() == ""


def test_what_it_sent_while_no_page_asked_is_no_reading_of_the_next(at_step, tester):
    technician = at_step(INSULATION)
    technician.strike("F6")
    assert technician.page.name == "outcome"
    wait(technician, 0.5)
    for _ in range(3):
        before = len(tester.sent)
        tester.press()
        until(technician, lambda so_far=before: len(tester.sent) > so_far)
    technician.strike("F6")
    assert technician.page.name == "reading"
    wait(technician, 1.0)
    assert "150.0" not in technician.page.wire.shows.text()
