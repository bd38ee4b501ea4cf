"""What the head and the large keys say is so now: nothing is called live before it is plugged in."""

import pytest

from tests.desktop.walks import unit_of, work_until


@pytest.fixture
def worker(technician):
    """TB-001 on the bench, with a hand that answers as a sound unit would."""
    technician.take_unit("TB-001")
    return technician


def until(technician, done):
    work_until(technician, unit_of(), done)


def test_no_test_voltage_is_told_of_while_the_pins_are_joined_by_hand(worker):
    until(worker, lambda: worker.page.name == "set-up" and worker.view.step.energises)
    assert worker.reads("supply") == "Plug out, in sight"
    assert worker.reads("set-up-reason").startswith("For what follows: Tester at 500 V DC")
    until(worker, lambda: worker.page.name == "reading" and worker.view.step.energises)
    assert worker.reads("supply") == "TEST VOLTAGE with the button"


def test_nothing_is_called_live_while_the_limiter_is_asked_about(worker):
    until(worker, lambda: worker.address == "first-power.limiter" and worker.page.name == "ask")
    assert worker.reads("supply") == "Not plugged in yet"
    worker.strike("F2")  # it may be left without a question
    assert worker.window.stack.currentWidget() is worker.window.lots
    worker.strike("F4")
    until(worker, lambda: worker.address == "first-power.plug-in")
    assert worker.reads("supply") == "LIVE: limited supply"


def test_the_stop_key_names_its_key_only_where_that_key_stops(worker):
    until(worker, lambda: worker.view.supply == "limited" and worker.page.name == "reading")
    stop = worker.window.bench.stop
    assert stop.text().startswith("Esc")
    worker.strike("F12")
    assert worker.page.name == "hazard"
    assert stop.isVisible()
    assert not stop.text().startswith("Esc")
    worker.strike("Esc")
    assert stop.text().startswith("Esc")


def test_no_parts_are_asked_for_with_a_key_where_no_field_is(worker):
    until(worker, lambda: worker.address == "make-safe.unplug")
    assert "Tab" not in {one.key for one in worker.page.hints()}


def test_a_choice_of_what_happened_is_named_in_words(worker):
    worker.strike("F9")
    assert not any("-" in one.words for one in worker.page.hints())


def test_nothing_is_called_live_on_a_page_that_is_shut(worker):
    """First power called up before any dead test is done."""
    worker.window.bench.navigation.follow("first-power.plug-in")
    worker.settle()
    assert worker.page.name == "shut"
    assert worker.view.supply == "limited"
    assert worker.reads("supply") == "Plug out, in sight"
    led = [row.detail for row in worker.page.list.rows() if "Enter goes there." in row.detail]
    assert led
    assert all(detail.endswith(". Enter goes there.") or detail == "Enter goes there." for detail in led)
