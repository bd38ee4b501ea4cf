"""Instruments on a real socket of this machine, well-behaved and otherwise."""

import math
import socket
import threading
import time
from contextlib import suppress

import pytest

from benchapp.judgement.meters.functions import Function
from benchapp.meters.instrument import Identity
from benchapp.meters.problems import MeterProblem
from benchapp.meters.scpi import ScpiInstrument
from benchapp.quantities.quantity import Bound
from demo.simulated_meter import SimulatedMeter
from tests.meters.records import on_socket, record

PATIENCE = 0.4
VOLTS, OHMS = Function.dc_voltage, Function.resistance
GIVES = {"VOLT:AC": 10.41234, "VOLT:DC": 1.5, "RES": 47.3}


class Bench:
    """A server that answers each line by `answer(line)`: bytes to send, or None to hang up."""

    def __init__(self, answer):
        self.questions = []
        self.connections = 0
        self._answer = answer
        self._server = socket.create_server(("127.0.0.1", 0))
        self.port = self._server.getsockname()[1]
        self._thread = threading.Thread(target=self._serve)
        self._thread.start()

    def _serve(self):
        while True:
            try:
                connection, _ = self._server.accept()
            except OSError:
                return
            self.connections += 1
            with connection:
                self._talk(connection)

    def _talk(self, connection):
        with suppress(OSError), connection.makefile("rb") as lines:  # the other side may hang up at any time
            for line in lines:
                self.questions.append(line.strip())
                parts = self._answer(line.strip())
                if parts is None:
                    return
                for part in [parts] if isinstance(parts, bytes) else parts:
                    connection.sendall(part)

    def close(self):
        self._server.shutdown(socket.SHUT_RDWR)
        self._server.close()
        self._thread.join(timeout=5)
        assert not self._thread.is_alive()


@pytest.fixture
def bench_of():
    made = []

    def make(answer):
        made.append(Bench(answer))
        return made[-1]

    yield make
    for bench in made:
        bench.close()


@pytest.fixture
def simulated():
    meter = SimulatedMeter(lambda function: GIVES[function])
    meter.port = meter.start()
    yield meter
    meter.stop()


@pytest.fixture
def opened():
    made = []

    def make(port, more=""):
        made.append(ScpiInstrument(on_socket(port, more), patience=PATIENCE))
        return made[-1]

    yield make
    for instrument in made:
        instrument.close()


@pytest.fixture
def reading_of(bench_of, opened):
    """An instrument that is on DC volts and answers READ? by `answer`."""

    def make(answer):
        def all_of_it(line):
            return b'"VOLT:DC"\n' if b"FUNCtion?" in line else answer(line)

        return opened(bench_of(all_of_it).port)

    return make


def test_an_instrument_says_who_it_is(simulated, opened):
    assert opened(simulated.port).identify() == Identity(
        maker="Tarnbeck", model="Bench Meter Six", serial_number="0007", firmware="1.4"
    )


def test_it_is_set_once_and_then_read(simulated, opened):
    meter = opened(simulated.port)
    assert meter.prepare(Function.ac_voltage)
    readings = [meter.read(Function.ac_voltage) for _ in range(3)]
    assert [(one.reading.si, one.reading.quantity.unit.symbol) for one in readings] == [(10.41234, "V")] * 3
    assert readings[0].sent == "+1.04123400E+01"
    assert sum(one.startswith("CONFigure") for one in simulated.heard) == 1
    assert not any(one.upper().startswith("MEAS") for one in simulated.heard)


def test_a_meter_that_stands_on_the_function_is_left_as_it_is_and_its_null_with_it(simulated, opened):
    simulated.function, simulated.null = "RES", 0.3
    meter = opened(simulated.port)
    assert not meter.prepare(OHMS)
    assert meter.read(OHMS).reading.si == pytest.approx(47.0)
    assert simulated.null == 0.3


def test_continuity_and_resistance_are_one_function_of_a_bench_meter(simulated, opened):
    simulated.function = "RES"
    assert not opened(simulated.port).prepare(Function.continuity)


def test_a_meter_that_may_not_be_set_is_left_on_its_function(simulated, opened):
    """With pins that may be live nobody turns a meter to ohms from afar."""
    with pytest.raises(MeterProblem, match=r"stands on DC voltage, and resistance is to be read\. Set it"):
        opened(simulated.port).prepare(OHMS, may_set=False)
    assert simulated.function == "VOLT:DC"


def test_a_meter_turned_by_hand_meanwhile_gives_no_reading(simulated, opened):
    meter = opened(simulated.port)
    meter.prepare(OHMS)
    simulated.function = "VOLT:AC"
    with pytest.raises(MeterProblem, match="stands on AC voltage, and resistance is to be read"):
        meter.read(OHMS)


def test_a_meter_that_was_off_meanwhile_is_asked_anew_and_not_believed(simulated, opened):
    """It wakes up on volts; its first reading must not pass for ohms."""
    meter = opened(simulated.port)
    meter.prepare(OHMS)
    simulated.drop()
    with pytest.raises(MeterProblem, match="broke while it was read"):
        meter.read(OHMS)
    simulated.function = "VOLT:DC"
    with pytest.raises(MeterProblem, match="stands on DC voltage"):
        meter.read(OHMS)


def test_a_header_that_the_meter_does_not_know_is_told_in_its_words(simulated, opened):
    meter = opened(simulated.port, "configure: {resistance: 'CONFigure:WIBBLE'}")
    with pytest.raises(MeterProblem, match="does not take “CONFigure:WIBBLE”: Undefined header"):
        meter.prepare(OHMS)


def test_over_range_comes_as_over_range(opened, simulated):
    simulated.shows = lambda _function: math.inf
    meter = opened(simulated.port)
    meter.prepare(OHMS)
    reading = meter.read(OHMS).reading
    assert (reading.quantity, reading.bound, reading.typed) == (None, Bound.above, "OL")


def test_all_of_it_uses_one_connection(simulated, opened):
    meter = opened(simulated.port)
    meter.identify()
    meter.prepare(OHMS)
    for _ in range(3):
        meter.read(OHMS)
    assert simulated.connections == 1


def test_another_instrument_at_the_address_is_refused(simulated, opened):
    meter = opened(simulated.port, "identity: 'Tarnbeck,Bench Meter Six,0008'")
    with pytest.raises(MeterProblem, match=r"Another instrument answers at .* No reading is taken from it"):
        meter.prepare(VOLTS)


def test_the_right_instrument_at_the_address_is_taken(simulated, opened):
    meter = opened(simulated.port, "identity: 'Tarnbeck,Bench Meter Six,0007'")
    assert not meter.prepare(VOLTS)


def test_an_answer_in_pieces_is_put_together(reading_of):
    assert reading_of(lambda _line: (b"+1.", b"5E", b"+00\r", b"\n")).read(VOLTS).reading.si == 1.5


def test_a_port_that_refuses_is_a_sentence(opened):
    with socket.create_server(("127.0.0.1", 0)) as server:
        port = server.getsockname()[1]
    with pytest.raises(MeterProblem, match=f"refuses port {port}.*The reading can always be typed by hand"):
        opened(port).prepare(VOLTS)


def test_an_address_that_is_none_is_a_sentence():
    instrument = ScpiInstrument(record("address: TCPIP::no-such..name::5025::SOCKET"), patience=PATIENCE)
    with pytest.raises(MeterProblem, match="address"):
        instrument.identify()


def test_a_record_without_a_wire_has_no_instrument():
    with pytest.raises(MeterProblem, match="names no wire"):
        ScpiInstrument(record())


def test_a_socket_that_drops_in_mid_reading_is_a_sentence_and_the_next_reading_is_good(simulated, opened):
    simulated.drops_in = 1
    meter = opened(simulated.port)
    with pytest.raises(MeterProblem, match=r"broke while it was read \(it was unplugged or switched off\)"):
        meter.read(VOLTS)
    assert meter.read(VOLTS).reading.si == 1.5
    assert simulated.connections == 2


def test_a_slow_meter_is_a_sentence_and_in_time(reading_of):
    start = time.monotonic()
    with pytest.raises(MeterProblem, match=r"did not answer “READ\?” within 0\.4 s"):
        reading_of(lambda _line: b"").read(VOLTS)
    assert time.monotonic() - start < 4 * PATIENCE


def test_a_trickle_without_an_end_does_not_prolong_the_wait(reading_of):
    def trickle(_line):
        for _ in range(100):
            yield b"1"
            time.sleep(PATIENCE / 20)

    start = time.monotonic()
    with pytest.raises(MeterProblem, match="did not answer"):
        reading_of(trickle).read(VOLTS)
    assert time.monotonic() - start < 4 * PATIENCE


def test_a_late_answer_is_never_taken_for_the_next_one(bench_of, opened):
    late = {"first": True}

    def answer(line):
        if b"FUNCtion?" in line:
            return b'"VOLT:DC"\n'
        if late.pop("first", False):
            time.sleep(PATIENCE * 1.5)
            return b"111\n"
        return b"222\n"

    bench = bench_of(answer)
    meter = opened(bench.port)
    with pytest.raises(MeterProblem, match="did not answer"):
        meter.read(VOLTS)
    time.sleep(PATIENCE * 1.2)
    assert meter.read(VOLTS).reading.si == 222
    assert bench.connections == 2


def test_a_number_where_a_function_was_asked_is_a_late_answer_and_refused(bench_of, opened):
    """On a serial line the answer to the question before can still come after the line was opened anew."""
    bench = bench_of(lambda _line: b"+1.11E+02\n")
    with pytest.raises(MeterProblem, match=r"answered late: .* was for an earlier question"):
        opened(bench.port).prepare(VOLTS)
    assert bench.questions == [b"SENSe:FUNCtion?"]


@pytest.mark.parametrize(
    "answer", [b"hello\n", b"\n", b"1.0,2.0\n", b"\xff\xfe\x00\n", b"9.12 V\n", b"1.2.3\n", b"nan\n"]
)
def test_garbage_is_a_sentence_that_quotes_it(reading_of, answer):
    with pytest.raises(MeterProblem, match=r"The meter answered .* which is not one number"):
        reading_of(lambda _line: answer).read(VOLTS)


def test_two_answers_to_one_question_are_refused(reading_of):
    with pytest.raises(MeterProblem, match="sent more than one answer"):
        reading_of(lambda _line: b"1\n2\n").read(VOLTS)


def test_a_flood_is_refused(reading_of):
    with pytest.raises(MeterProblem, match="sends far more than one line"):
        reading_of(lambda _line: b"x" * 200_000).read(VOLTS)


def test_something_that_is_no_instrument_is_refused(bench_of, opened):
    bench = bench_of(lambda _line: b"HTTP/1.1 400 Bad Request\r\n")
    with pytest.raises(MeterProblem, match=r"does not say who it is as instruments do: “HTTP/1\.1 400 Bad Request”"):
        opened(bench.port).identify()


@pytest.mark.parametrize("function", [Function.insulation, Function.earth_continuity, Function.touch_current])
def test_a_tester_that_drives_the_unit_is_never_started_through_the_wire(simulated, opened, function):
    with pytest.raises(MeterProblem, match="its key is pressed by hand"):
        opened(simulated.port).prepare(function)
    assert simulated.heard == []
