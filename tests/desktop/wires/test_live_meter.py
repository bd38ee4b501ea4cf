"""One meter read at a time: nobody waits for the one that is let go, and two never ask the same one at once."""

import time

import pytest

from benchapp.desktop.wires.live_meter import LiveMeter
from benchapp.judgement.meters.functions import Function
from demo.simulated_meter import SimulatedMeter
from tests.meters.records import on_socket

AT_ONCE = 1.0
"""seconds: a busy machine takes long, and the slow meter takes longer"""


@pytest.fixture
def meters():
    made = []

    def make(takes):
        simulated = SimulatedMeter(lambda _function: 1.5, takes=takes)
        simulated.port = simulated.start()
        made.append(simulated)
        return simulated

    yield make
    for one in made:
        one.stop()


@pytest.fixture
def live(qapp):
    reads = LiveMeter()
    yield reads
    reads.stop()


def read_from(simulated, meter="tb-b6"):
    return on_socket(simulated.port, "identity: Tarnbeck\n").model_copy(update={"meter": meter})


def test_another_meter_is_begun_without_waiting_for_a_slow_one(live, meters, qtbot):
    slow, quick = meters(1.8), meters(0.02)
    live.begin(read_from(slow), Function.dc_voltage, may_set=True)
    qtbot.waitUntil(lambda: "READ?" in slow.heard)
    began = time.monotonic()
    live.begin(read_from(quick, "tb-b7"), Function.dc_voltage, may_set=True)
    assert time.monotonic() - began < AT_ONCE
    with qtbot.waitSignal(live.arrived, timeout=8000):
        pass


def test_a_meter_that_is_begun_again_is_asked_by_one_alone(live, meters, qtbot):
    """Many let one in at a time: whoever comes back waits, aside, until the link before is closed."""
    first, other = meters(0.05), meters(0.02)
    live.begin(read_from(first), Function.dc_voltage, may_set=True)
    qtbot.waitUntil(lambda: "READ?" in first.heard)
    live.begin(read_from(other, "tb-b7"), Function.dc_voltage, may_set=True)
    live.begin(read_from(first), Function.dc_voltage, may_set=True)
    with qtbot.waitSignal(live.arrived, timeout=8000):
        pass
    assert first.connections <= 2
