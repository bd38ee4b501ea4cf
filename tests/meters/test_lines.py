"""Meters that send lines: what a line says is held against the step; a serial port as the system makes one."""

import os
import select
import threading
import time
import tty

import pytest

from benchapp.judgement.meters.functions import Function
from benchapp.meters.lines import LineInstrument, reading_of
from benchapp.meters.problems import MeterProblem, NothingSent
from benchapp.meters.scpi import ScpiInstrument
from benchapp.quantities.quantity import Bound
from demo.simulated_meter import SimulatedMeter
from demo.simulated_sender import SimulatedSender
from tests.meters.records import record

WIRE = """
address: ASRL/dev/none::INSTR
dialect: lines
line: "{function} {value} {unit}"
functions: {DC: DC voltage, AC: AC voltage, OHM: resistance}
units: {Ohm: ohm, KOhm: kohm}
over range: [OL, '-----']
"""


def read(line, function=Function.dc_voltage):
    return reading_of(record(WIRE).wire, line, function)


def test_a_line_is_a_reading_with_its_unit():
    assert read("DC  12.30 mV").si == pytest.approx(0.0123)
    assert read("OHM 4.70 KOhm", Function.resistance).si == 4700
    assert read("DC -1.5 V").si == -1.5


def test_over_range_is_what_the_record_says():
    for sent in ("OHM OL Ohm", "OHM ----- Ohm"):
        assert read(sent, Function.continuity).bound is Bound.above


def test_a_meter_on_another_function_is_told_from_its_word():
    with pytest.raises(MeterProblem, match=r"it is set to AC voltage, and this step reads DC voltage\. Turn it"):
        read("AC 12.3 V")


def test_a_meter_on_another_function_is_told_from_its_unit():
    wire = record(WIRE.replace("{function} ", "")).wire
    with pytest.raises(MeterProblem, match="in V, and this step reads resistance"):
        reading_of(wire, "12.3 V", Function.resistance)


@pytest.mark.parametrize("line", ["", "12.3", "DC 12.3 wibble", "DC 1.2.3 V", "DIODE 0.6 V", "DC nan V", "\x00\xff"])
def test_anything_else_is_a_sentence(line):
    with pytest.raises(MeterProblem):
        read(line)


@pytest.fixture
def port():
    """Both ends of a serial line that the system makes: what the meter holds, and the name of the other."""
    meter, ours = os.openpty()
    for end in (meter, ours):
        tty.setraw(end)
    yield meter, os.ttyname(ours)
    for end in (meter, ours):
        os.close(end)


def test_a_meter_that_sends_by_itself_is_read_from_a_serial_port(port):
    meter, name = port
    going = threading.Event()

    def send():
        while not going.is_set():
            os.write(meter, b"DC 12.30 V\r\n")
            time.sleep(0.02)

    sender = threading.Thread(target=send)
    sender.start()
    try:
        with LineInstrument(record(WIRE.replace("/dev/none", name)), patience=2.0) as instrument:
            instrument.prepare(Function.dc_voltage)
            assert [instrument.read(Function.dc_voltage).reading.si for _ in range(3)] == [12.3] * 3
    finally:
        going.set()
        sender.join()


def test_a_serial_meter_that_is_silent_is_a_sentence_and_is_listened_to_all_the_same(port):
    meter, name = port
    with LineInstrument(record(WIRE.replace("/dev/none", name)), patience=0.3) as instrument:
        instrument.prepare(Function.dc_voltage)
        for _ in range(2):
            with pytest.raises(NothingSent, match="has sent nothing for a while"):
                instrument.read(Function.dc_voltage)
        os.write(meter, b"DC 12.30 V\r\n")
        assert instrument.read(Function.dc_voltage).reading.si == 12.3


def test_a_polled_meter_that_is_silent_is_asked_on_a_link_of_its_own(port):
    asked = WIRE.replace("/dev/none", port[1]) + 'asks: "?"\n'
    with (
        LineInstrument(record(asked), patience=0.3) as instrument,
        pytest.raises(MeterProblem, match=r"did not answer “\?” within 0\.3 s"),
    ):
        instrument.read(Function.dc_voltage)


def test_half_a_line_waits_for_its_other_half(port):
    """12.30 V is never read as 2.30 V."""
    meter, name = port
    wire = WIRE.replace("/dev/none", name).replace("{function} ", "")
    with LineInstrument(record(wire), patience=0.3) as instrument:
        instrument.prepare(Function.dc_voltage)
        os.write(meter, b"1")
        time.sleep(0.05)
        with pytest.raises(NothingSent):
            instrument.read(Function.dc_voltage)
        os.write(meter, b"2.30 V\r\n")
        assert instrument.read(Function.dc_voltage).reading.si == 12.3


def sent_before_it_is_asked_for(address, send):
    """While no page asks, a meter that sends goes on."""
    with LineInstrument(record(WIRE.replace("ASRL/dev/none::INSTR", address)), patience=0.3) as instrument:
        instrument.prepare(Function.dc_voltage)
        send()
        assert instrument.read(Function.dc_voltage).reading.si == 111.0
        for _ in range(3):
            send()
        instrument.prepare(Function.dc_voltage)
        with pytest.raises(NothingSent):
            instrument.read(Function.dc_voltage)


def test_lines_that_a_port_got_before_it_was_asked_for_are_no_readings(port):
    meter, name = port

    def send():
        os.write(meter, b"DC 111.0 V\r\n")
        time.sleep(0.05)  # the system carries it over

    sent_before_it_is_asked_for(f"ASRL{name}::INSTR", send)


def test_lines_that_a_socket_got_before_it_was_asked_for_are_no_readings():
    sender = SimulatedSender(lambda: "DC 111.0 V")

    def send():
        before = len(sender.sent)
        sender.press()
        while len(sender.sent) == before:
            time.sleep(0.005)

    try:
        sent_before_it_is_asked_for(f"TCPIP::127.0.0.1::{sender.start()}::SOCKET", send)
    finally:
        sender.stop()


def test_the_line_under_way_when_it_is_asked_for_is_no_reading(port):
    meter, name = port
    with LineInstrument(record(WIRE.replace("/dev/none", name)), patience=2.0) as instrument:
        instrument.prepare(Function.dc_voltage)
        os.write(meter, b"DC 1.0 V\r\nDC 111")
        time.sleep(0.05)
        ended = threading.Timer(0.1, os.write, (meter, b".0 V\r\n"))
        ended.start()
        instrument.prepare(Function.dc_voltage)
        os.write(meter, b"DC 2.0 V\r\n")
        assert instrument.read(Function.dc_voltage).reading.si == 2.0
        ended.join()


def test_what_lay_in_the_port_before_it_was_opened_is_no_answer(port):
    """The answer to a question that was given up comes late."""
    meter, name = port
    os.write(meter, b"DC 111.0 V\n")
    asked = WIRE.replace("/dev/none", name) + 'asks: "?"\n'

    def answer():
        os.read(meter, 10)
        os.write(meter, b"DC 2.0 V\n")

    answering = threading.Thread(target=answer)
    answering.start()
    with LineInstrument(record(asked), patience=2.0) as instrument:
        assert instrument.read(Function.dc_voltage).reading.si == 2.0
    answering.join()


def test_scpi_is_spoken_on_a_serial_port_too(port):
    meter, name = port
    simulated = SimulatedMeter(lambda _function: 1.5)

    going = threading.Event()

    def answer():
        held = b""
        while not going.is_set():
            if select.select([meter], [], [], 0.05)[0]:
                held += os.read(meter, 100)
            while b"\n" in held:
                line, _, held = held.partition(b"\n")
                if (said := simulated.answer(line.decode().strip())) is not None:
                    os.write(meter, f"{said}\n".encode())

    answering = threading.Thread(target=answer)
    answering.start()
    try:
        with ScpiInstrument(record(f"address: ASRL{name}::INSTR"), patience=2.0) as instrument:
            assert instrument.prepare(Function.resistance)
            assert instrument.read(Function.resistance).reading.si == 1.5
    finally:
        going.set()
        answering.join()


def test_a_port_that_is_not_there_is_a_sentence():
    with pytest.raises(MeterProblem, match="Nothing can be opened at ASRL/dev/none::INSTR"):
        LineInstrument(record(WIRE)).prepare(Function.dc_voltage)
    with pytest.raises(MeterProblem, match="Nothing can be opened at USB::0x1234::0x5678::X7::INSTR"):
        ScpiInstrument(record("address: USB::0x1234::0x5678::X7::INSTR")).prepare(Function.dc_voltage)
