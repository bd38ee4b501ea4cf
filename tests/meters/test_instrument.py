"""An instrument on a real socket of this machine, well-behaved and otherwise."""

import socket
import threading
import time
from contextlib import suppress

import pytest

from benchapp.judgement.meters.functions import Function
from benchapp.meters.instrument import Identity, Instrument
from benchapp.meters.problems import MeterProblem
from benchapp.quantities.quantity import Bound

PATIENCE = 0.4

ANSWERS = {
    b"*IDN?": b"Tarnbeck,Bench Six,0007,1.4\n",
    b"MEASure:VOLTage:AC?": b"+1.04123400E+01\n",
    b"MEASure:RESistance?": b"+9.90000000E+37\n",
    b"SYSTem:ERRor?": b'-113,"Undefined header"\n',
}


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
def meter_of(bench_of):
    opened = []

    def make(answer):
        opened.append(Instrument("127.0.0.1", bench_of(answer).port, patience=PATIENCE))
        return opened[-1]

    yield make
    for meter in opened:
        meter.close()


def test_an_instrument_says_who_it_is(meter_of):
    assert meter_of(ANSWERS.get).identify() == Identity(
        maker="Tarnbeck", model="Bench Six", serial_number="0007", firmware="1.4"
    )


def test_a_voltage_is_asked_and_read(bench_of):
    bench = bench_of(ANSWERS.get)
    with Instrument("127.0.0.1", bench.port, patience=PATIENCE) as meter:
        reading = meter.measure(Function.ac_voltage)
    assert bench.questions == [b"MEASure:VOLTage:AC?"]
    assert (reading.si, reading.quantity.unit.symbol, reading.bound) == (10.41234, "V", Bound.exact)


def test_over_range_comes_as_over_range(meter_of):
    reading = meter_of(ANSWERS.get).measure(Function.continuity)
    assert (reading.quantity, reading.bound, reading.typed) == (None, Bound.above, "OL")


def test_several_questions_use_one_connection(bench_of):
    bench = bench_of(ANSWERS.get)
    with Instrument("127.0.0.1", bench.port, patience=PATIENCE) as meter:
        for _ in range(3):
            meter.identify()
    assert (bench.connections, len(bench.questions)) == (1, 3)


def test_an_answer_in_pieces_is_put_together(meter_of):
    assert meter_of(lambda _line: (b"+1.", b"5E", b"+00\r", b"\n")).measure(Function.dc_voltage).si == 1.5


def test_the_instruments_own_complaint_can_be_asked(meter_of):
    assert meter_of(ANSWERS.get).first_complaint() == "Undefined header"
    assert meter_of(lambda _line: b'+0,"No error"\n').first_complaint() == ""


def test_nothing_at_the_address_is_a_sentence():
    with socket.create_server(("127.0.0.1", 0)) as server:
        port = server.getsockname()[1]
    with pytest.raises(MeterProblem) as caught:
        Instrument("127.0.0.1", port, patience=PATIENCE).identify()
    assert caught.value.sentence.startswith(f"No meter answers at 127.0.0.1:{port} (")
    assert caught.value.sentence.endswith("The reading can always be typed by hand.")


def test_an_address_that_is_none_is_a_sentence():
    with pytest.raises(MeterProblem, match="No meter answers at "):
        Instrument("no such..name", 5025, patience=PATIENCE).identify()


def test_a_meter_unplugged_while_it_answers_is_a_sentence(meter_of):
    with pytest.raises(
        MeterProblem, match=r"was unplugged or switched off while it was answering “MEASure:VOLTage:DC\?”"
    ):
        meter_of(lambda _line: None).measure(Function.dc_voltage)


def test_a_slow_meter_is_a_sentence_and_in_time(meter_of):
    start = time.monotonic()
    with pytest.raises(MeterProblem, match=r"did not answer “MEASure:VOLTage:DC\?” within 0\.4 s"):
        meter_of(lambda _line: b"").measure(Function.dc_voltage)
    assert time.monotonic() - start < 4 * PATIENCE


def test_a_trickle_without_an_end_does_not_prolong_the_wait(meter_of):
    def trickle(_line):
        for _ in range(100):
            yield b"1"
            time.sleep(PATIENCE / 20)

    start = time.monotonic()
    with pytest.raises(MeterProblem, match="did not answer"):
        meter_of(trickle).measure(Function.dc_voltage)
    assert time.monotonic() - start < 4 * PATIENCE


def test_a_late_answer_is_never_taken_for_the_next_one(bench_of):
    late = {"first": True}

    def answer(line):
        if late.pop("first", False):
            time.sleep(PATIENCE * 1.5)
            return b"111\n"
        return b"222\n"

    with Instrument("127.0.0.1", bench_of(answer).port, patience=PATIENCE) as meter:
        with pytest.raises(MeterProblem, match="did not answer"):
            meter.measure(Function.dc_voltage)
        time.sleep(PATIENCE * 1.2)
        assert meter.measure(Function.dc_voltage).si == 222


@pytest.mark.parametrize(
    "answer", [b"hello\n", b"\n", b"1.0,2.0\n", b"\xff\xfe\x00\n", b"9.12 V\n", b"1.2.3\n", b"nan\n"]
)
def test_garbage_is_a_sentence_that_quotes_it(meter_of, answer):
    with pytest.raises(MeterProblem, match=r"The meter answered .* which is not one number"):
        meter_of(lambda _line: answer).measure(Function.dc_voltage)


def test_two_answers_to_one_question_are_refused(meter_of):
    with pytest.raises(MeterProblem, match="sent 2 answers to one question"):
        meter_of(lambda _line: b"1\n2\n").measure(Function.dc_voltage)


def test_a_flood_is_refused(meter_of):
    with pytest.raises(MeterProblem, match="sends far more than one line"):
        meter_of(lambda _line: b"x" * 200_000).measure(Function.dc_voltage)


def test_something_that_is_no_instrument_is_refused(meter_of):
    with pytest.raises(MeterProblem, match=r"does not say who it is as instruments do: “HTTP/1\.1 400 Bad Request”"):
        meter_of(lambda _line: b"HTTP/1.1 400 Bad Request\r\n").identify()


@pytest.mark.parametrize("function", [Function.insulation, Function.earth_continuity, Function.touch_current])
def test_a_tester_that_drives_the_unit_is_never_started_through_the_cable(bench_of, function):
    bench = bench_of(ANSWERS.get)
    with Instrument("127.0.0.1", bench.port) as meter, pytest.raises(MeterProblem, match="its key is pressed by hand"):
        meter.measure(function)
    assert bench.questions == []
