"""The wire of a meter's record: addresses, dialects, and what is wrong with them said at its place."""

import pytest

from benchapp.files.locations import FileProblems, Mistake
from benchapp.judgement.meters.line_pattern import read_line
from benchapp.judgement.meters.wire import read_address
from tests.meters.records import record


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("TCPIP::192.168.7.21::5025::SOCKET", "socket"),
        ("TCPIP0::meter.local::5025::SOCKET", "socket"),
        ("USB0::0x1234::0x5678::MY0007::INSTR", "USB"),
        ("USB::0x1234::0x5678::MY0007::0::INSTR", "USB"),
        ("ASRL/dev/ttyUSB0::INSTR", "serial"),
        ("ASRLCOM3::INSTR", "serial"),
        ("keyboard", "keyboard"),
    ],
)
def test_an_address_is_a_visa_resource_name(written, kind):
    assert read_address(written).kind == kind


def test_a_socket_is_said_by_host_and_port():
    assert str(read_address("TCPIP::192.168.7.21::5025::SOCKET")) == "192.168.7.21:5025"


@pytest.mark.parametrize("written", ["192.168.7.21", "TCPIP::a::0::SOCKET", "TCPIP::a::99999::SOCKET", "GPIB::3", ""])
def test_what_is_no_address_is_told_what_one_looks_like(written):
    with pytest.raises(Mistake):
        read_address(written)


def complaint(wire):
    with pytest.raises(FileProblems) as caught:
        record(wire)
    return str(caught.value.complaints[0])


def test_a_record_without_a_wire_is_typed_from():
    assert record().wire is None


def test_a_wire_needs_no_more_than_its_address():
    wire = record("address: TCPIP::192.168.7.21::5025::SOCKET").wire
    assert (wire.dialect, wire.read, wire.address.port) == ("SCPI", "READ?", 5025)


@pytest.mark.parametrize(
    ("wire", "words"),
    [
        ("address: here", "is no address of a meter; expected TCPIP::"),
        ("address: keyboard", "does not speak the dialect “SCPI”"),
        ("address: ASRL1::INSTR\ndialect: lines", "the line says 0 values"),
        ("address: ASRL1::INSTR\ndialect: lines\nline: '{value}'", "volts would pass for ohms"),
        ("address: ASRL1::INSTR\ndialect: lines\nline: '{value} {value} {unit}'", "{value} stands twice"),
        ("address: ASRL1::INSTR\ndialect: lines\nline: '{worth} {unit}'", "there is no piece {worth}"),
        ("address: ASRL1::INSTR\nline: '{value} {unit}'", "only the dialect “lines” has a line"),
        ("address: ASRL1::INSTR\nframe: 9N1", "is no frame of a serial line"),
        ("address: ASRL1::INSTR\nread: 'MEASure:RESistance?'", "which undoes nulled leads; expected CONFigure once"),
        ("address: ASRL1::INSTR\nread: READ", "“READ” asks nothing"),
        ("address: ASRL1::INSTR\nconfigure: {insulation: 'CONF:INS'}", "is not started through a wire"),
        ("address: ASRL1::INSTR\nconfigure: {power: 'CONF:POW'}", "has no function power to be set to"),
        ("address: ASRL1::INSTR\nspeed: 9600", "speed"),
        (
            "address: ASRL1::INSTR\ndialect: lines\nline: '{value} {unit}'\nunits: {X: wibble}",
            "“wibble” is no unit of the bench",
        ),
    ],
)
def test_a_mistake_is_told_at_its_line(wire, words):
    found = complaint(wire)
    assert words in found
    assert found.startswith("meter.yaml:")


@pytest.mark.parametrize(
    ("pattern", "line", "pieces"),
    [
        ("{value} {unit}", "12.30 mV", {"value": "12.30", "unit": "mV"}),
        ("{value}{unit}", "-0.5kohm", {"value": "-0.5", "unit": "kohm"}),
        ("{function} {value} {unit}", "DC  + 1.234   V", {"function": "DC", "value": "+ 1.234", "unit": "V"}),
        ("{value} {unit} {skip}", "OL Mohm AUTO", {"value": "OL", "unit": "Mohm"}),
        ("#{value};{unit}", "#1.5E+3;ohm", {"value": "1.5E+3", "unit": "ohm"}),
    ],
)
def test_a_line_is_read_by_its_described_pieces(pattern, line, pieces):
    assert read_line(pattern, line) == pieces


@pytest.mark.parametrize("line", ["", "12.30", "V 12.30 mV", "12.30 mV extra", "9" * 5000, "\x00"])
def test_another_line_does_not_fit(line):
    assert read_line("{value} {unit}", line) is None
