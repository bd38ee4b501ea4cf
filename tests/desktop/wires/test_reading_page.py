"""The reading page with a meter on a wire: a simulated one, its probes on a unit of the hazard trials."""

import time
from contextlib import ExitStack

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractScrollArea

from benchapp.actions.entries.conditions import record_meter
from benchapp.actions.workbench.bench import Bench
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.language.vocabulary import ReadingSource
from demo.simulated_meter import SimulatedMeter, on_trial_unit
from tests.actions.driving import do_what_is_due
from tests.desktop.test_access import called, controls
from tests.desktop.windows import prove_meters, take_in, window_on
from tests.people import staffed

WIRE = "wire:\n  address: TCPIP::127.0.0.1::{port}::SOCKET\n  identity: Tarnbeck,Bench Meter Six\n"
PRIMARY = "continuity.primary"
SECONDS = 8


@pytest.fixture
def probes():
    made, _unit = on_trial_unit("tb-mu1")
    made.bounces = 0.1
    return made


@pytest.fixture
def meter(probes):
    simulated = SimulatedMeter(probes.shows, takes=0.03)
    simulated.port = simulated.start()
    yield simulated
    simulated.stop()


@pytest.fixture
def at_step(look, path, clock, tmp_path, meter):
    """A technician at a step, whose hand meter hangs on a wire, at that meter's address."""
    opened = ExitStack()

    def make(address, wire=WIRE):
        bench = bench_with(path, clock, tmp_path, wire.format(port=meter.port))
        do_what_is_due(bench, "TB-001", until=address)
        record_meter(bench, "TB-001", "tb-m1", by="AB")
        technician = opened.enter_context(window_on(look, bench))
        technician.take_unit("TB-001")
        assert technician.address == address
        return technician

    with opened:
        yield make


def bench_with(path, clock, tmp_path, wire):
    """A workbook beside which the hand meter's record says how it hangs on a wire."""
    own_meter(tmp_path, wire)
    bench = Bench.create(path, clock=clock, workshop=staffed())
    take_in(bench, count=1)
    prove_meters(bench)
    return bench


def own_meter(tmp_path, wire):
    text = (shipped_folder("resources") / "meters" / "tb-m1.yaml").read_text(encoding="utf-8")
    own = tmp_path / "meters"
    own.mkdir()
    (own / "tb-m1.yaml").write_text(text + wire, encoding="utf-8")


def until(technician, true, seconds=SECONDS):
    """Let the window work until it is so."""
    end = time.monotonic() + seconds
    while not true() and time.monotonic() < end:
        technician.settle()
        time.sleep(0.02)
    assert true()


def entries(technician):
    return technician.window.context.bench.entries("TB-001")


def ready_at(technician):
    until(technician, lambda: "Touch the two points" in technician.page.wire.says.text())
    return technician.page


def test_a_touch_that_stands_still_is_taken_once_and_the_page_turns(at_step, probes):
    technician = at_step(PRIMARY)
    page, before = ready_at(technician), len(entries(technician))
    assert page.wire.isVisibleTo(page)
    probes.touch(*technician.view.step.terminals)
    until(technician, lambda: technician.address != PRIMARY)
    entry = entries(technician)[-1]
    assert (entry.address, entry.content.source, entry.content.meter) == (PRIMARY, ReadingSource.steady, "tb-m1")
    assert float(entry.content.sent) == pytest.approx(entry.content.value, rel=0.01)
    until(technician, lambda: True)
    assert len(entries(technician)) == before + 1


def test_probes_that_stay_on_the_pins_give_nothing_to_the_page(at_step, probes):
    probes.touch("plug.L", "plug.N")
    technician = at_step(PRIMARY)
    before = len(entries(technician))
    until(technician, lambda: technician.page.wire.shows.text()[-3:] == "ohm")
    wait(technician, 2.0)
    assert len(entries(technician)) == before
    assert technician.page.field.text() == ""


def test_over_range_is_taken_by_key_alone(at_step, probes):
    technician = at_step(PRIMARY)
    page, before = ready_at(technician), len(entries(technician))
    wait(technician, 1.5)
    assert len(entries(technician)) == before
    technician.strike("+")
    assert page.field.text() == "OL"
    assert page.given().source is ReadingSource.wire
    assert len(entries(technician)) == before


def test_a_reading_that_would_fail_waits_for_a_person(at_step, probes):
    technician = at_step(PRIMARY)
    page, before = ready_at(technician), len(entries(technician))
    probes.gives = lambda _function, _a, _b: 12.0
    probes.touch("plug.L", "plug.N")
    until(technician, lambda: "waits" in page.wire.says.text())
    assert page.field.text().startswith("12.")
    assert len(entries(technician)) == before
    technician.strike("Enter")
    assert entries(technician)[-1].content.source is ReadingSource.steady
    assert entries(technician)[-1].content.judgement == "fail"


def test_what_a_person_typed_stays_and_is_theirs(at_step, probes):
    technician = at_step(PRIMARY)
    page, before = ready_at(technician), len(entries(technician))
    technician.type("48")
    probes.touch(*technician.view.step.terminals)
    until(technician, lambda: "stands still" in page.wire.says.text())
    assert page.field.text() == "48"
    assert len(entries(technician)) == before


def test_what_was_sent_and_then_changed_was_typed(at_step, probes):
    technician = at_step(PRIMARY)
    page = ready_at(technician)
    technician.strike("+", "Backspace", "Backspace")
    technician.type("480")
    assert (page.given().source, page.given().sent) == (ReadingSource.keys, "")


def test_a_link_that_drops_is_a_sentence_and_goes_on_by_itself(at_step, probes, meter):
    technician = at_step(PRIMARY)
    page = ready_at(technician)
    technician.type("48")
    meter.drop()
    until(technician, lambda: page.wire.problem.isVisibleTo(page))
    assert "broke while it was read" in page.wire.problem.text()
    assert "can always be typed by hand" in page.wire.problem.text()
    assert page.field.text() == "48"
    until(technician, lambda: not page.wire.problem.isVisibleTo(page))
    assert meter.connections > 1


def test_a_meter_that_somebody_turned_is_not_turned_back_from_afar(at_step, probes, meter):
    technician = at_step(PRIMARY)
    page = ready_at(technician)
    meter.function = "VOLT:DC"
    until(technician, lambda: "stands on DC voltage" in page.wire.problem.text())
    wait(technician, 1.5)
    assert meter.function == "VOLT:DC"


def test_another_instrument_at_the_address_gives_no_reading(at_step, meter):
    meter.identity = "Tarnbeck,Oscilloscope,1,1"
    technician = at_step(PRIMARY)
    page = technician.page
    until(technician, lambda: "Another instrument answers" in page.wire.problem.text())


def test_nothing_at_the_address_is_a_sentence_and_keys_go_on(at_step, meter):
    meter.stop()
    technician = at_step(PRIMARY)
    page = technician.page
    until(technician, lambda: "refuses port" in page.wire.problem.text())
    technician.type("480")
    technician.strike("Enter")
    assert entries(technician)[-1].content.source is ReadingSource.keys


def test_the_leads_are_proved_by_key(at_step, probes):
    technician = at_step("continuity.leads-before")
    page, before = technician.page, len(entries(technician))
    assert "Never by itself here: it proves the leads" in page.wire.says.text()
    probes.touch("tips", "tips")
    wait(technician, 2.0)
    assert len(entries(technician)) == before
    technician.strike("+")
    assert entries(technician)[-1].content.source is ReadingSource.wire


def test_no_reading_is_taken_by_itself_where_that_is_switched_off(at_step, probes):
    technician = at_step(PRIMARY)
    page, before = ready_at(technician), len(entries(technician))
    page.wire.by_itself.click()
    probes.touch(*technician.view.step.terminals)
    wait(technician, 2.0)
    assert len(entries(technician)) == before
    page.wire.by_key.click()
    technician.settle()
    assert entries(technician)[-1].content.source is ReadingSource.wire


@pytest.mark.parametrize("percent", [100, 200])
def test_the_strip_fits_a_small_screen_and_each_control_says_what_it_is(at_step, percent):
    technician = at_step(PRIMARY)
    technician.window.resize(1024, 700)
    technician.window.look.set_percent(percent)
    page = ready_at(technician)
    assert [widget.objectName() for widget in controls(page.wire) if not called(widget)] == []
    area = page.parentWidget().parentWidget()
    assert isinstance(area, QAbstractScrollArea)
    assert not area.horizontalScrollBar().isVisible()


KEYBOARD = "wire:\n  address: keyboard\n  dialect: keyboard\n"


def test_a_meter_that_types_is_told_from_fingers_by_its_speed(at_step):
    technician = at_step(PRIMARY, KEYBOARD)
    assert not technician.page.wire.isVisibleTo(technician.page)
    burst(technician, "480.2 ohm")
    assert entries(technician)[-1].content.source is ReadingSource.keyboard
    assert entries(technician)[-1].content.sent == "480.2 ohm"


@pytest.mark.parametrize(("text", "words"), [("480", "with its unit"), ("12.3 V", "came all at once"), ("x7y", "no")])
def test_a_burst_that_is_no_reading_with_its_unit_is_not_taken(at_step, text, words):
    technician = at_step(PRIMARY, KEYBOARD)
    before = len(entries(technician))
    burst(technician, text)
    assert len(entries(technician)) == before
    assert words in technician.complaint
    assert technician.page.field.text() == ""


def test_over_range_from_a_meter_that_types_waits_for_a_finger(at_step):
    technician = at_step(PRIMARY, KEYBOARD)
    before = len(entries(technician))
    burst(technician, ">60 Mohm")
    assert len(entries(technician)) == before
    assert technician.page.field.text() == ">60 Mohm"
    wait(technician, 0.2)  # until then an Enter is still the meter's own
    technician.strike("Enter")
    assert entries(technician)[-1].content.source is ReadingSource.keyboard


def test_what_a_meter_types_behind_a_half_typed_reading_is_not_taken_with_it(at_step):
    """4 and then 80 ohm are no 480 ohm."""
    technician = at_step(PRIMARY, KEYBOARD)
    before = len(entries(technician))
    technician.strike("4")
    time.sleep(0.06)
    burst(technician, "80.0 ohm")
    assert len(entries(technician)) == before
    assert technician.page.field.text() == "4"
    assert "“4” stands there" in technician.complaint


def test_fingers_at_a_page_of_such_a_meter_are_fingers(at_step):
    technician = at_step(PRIMARY, KEYBOARD)
    for key in "480":
        technician.strike(key)
        time.sleep(0.06)
    technician.strike("Enter")
    assert entries(technician)[-1].content.source is ReadingSource.keys


def burst(technician, text):
    """Type as a meter does, and its own Enter behind."""
    QTest.keyClicks(technician.at_keyboard(), text)
    QTest.keyClick(technician.at_keyboard(), Qt.Key.Key_Return)
    technician.settle()


def wait(technician, seconds):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        technician.settle()
        time.sleep(0.02)
