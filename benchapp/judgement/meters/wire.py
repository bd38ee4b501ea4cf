"""How a meter hangs on a wire, as its record says: its address, its dialect, and what its lines look like.

Addresses are VISA resource names (IVI Foundation, VPP-4.3; its section from memory), which instruments and finders of
instruments show: a socket, a USB test and measurement device, a serial port. A meter that types its readings as a
keyboard does has the address `keyboard`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field, InstanceOf, PlainValidator, WithJsonSchema, model_validator

from benchapp.files.locations import Mistake
from benchapp.files.models import FileModel
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.line_pattern import VALUE, pieces_of
from benchapp.quantities.units import known_unit

Kind = Literal["socket", "USB", "serial", "keyboard"]
ADDRESS_WORDS = (
    "TCPIP::192.168.7.21::5025::SOCKET, USB::0x1234::0x5678::SERIALNUMBER::INSTR, ASRL/dev/ttyUSB0::INSTR, or keyboard"
)
_SOCKET = re.compile(r"TCPIP\d?::([A-Za-z0-9._\-]{1,253}|\[[0-9A-Fa-f:.]{2,45}\])::(\d{1,5})::SOCKET", re.ASCII)
_USB = re.compile(r"USB\d?::(?:0x)?[0-9A-Fa-f]{1,5}::(?:0x)?[0-9A-Fa-f]{1,5}::[^:\s]{1,80}(?:::\d{1,2})?::INSTR")
_SERIAL = re.compile(r"ASRL([A-Za-z0-9/._\-]{1,120})::INSTR", re.ASCII)
_FRAME = re.compile(r"[78][NEO][12]")
DRIVES_THE_UNIT = frozenset(
    {Function.insulation, Function.earth_continuity, Function.protective_conductor_current, Function.touch_current}
)
"""Functions for which the tester itself puts a voltage or a large current on the unit: their key is pressed by hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """Where a meter answers. `host` and `port` are those of a socket; `resource` is the name as written."""

    kind: Kind
    resource: str
    host: str = ""
    port: int = 0

    def __str__(self) -> str:
        """As people say it: host and port of a socket, else the name."""
        return f"{self.host}:{self.port}" if self.kind == "socket" else self.resource


def read_address(written: str) -> Address:
    """The address that a text names; raises Mistake."""
    text = written.strip()
    if text.casefold() == "keyboard":
        return Address(kind="keyboard", resource="keyboard")
    if found := _SOCKET.fullmatch(text):
        port = int(found[2])
        if not 0 < port < 65536:
            raise Mistake(f"{port} is no port", expected="a port from 1 to 65535; most meters have 5025")
        return Address(kind="socket", resource=text, host=found[1].strip("[]"), port=port)
    if _USB.fullmatch(text):
        return Address(kind="USB", resource=text)
    if _SERIAL.fullmatch(text):
        return Address(kind="serial", resource=text)
    raise Mistake(f"“{text[:60]}” is no address of a meter", expected=ADDRESS_WORDS)


def _as_address(written: object) -> Address:
    return written if isinstance(written, Address) else read_address(str(written))


AddressField = Annotated[
    InstanceOf[Address],
    PlainValidator(_as_address),
    WithJsonSchema({"type": "string", "description": f"a VISA resource name (VPP-4.3): {ADDRESS_WORDS}"}),
]


class Wire(FileModel):
    """Where a meter answers, and in which dialect."""

    address: AddressField
    """where it answers: a socket, USB, a serial port, or keyboard for one that types its readings"""
    dialect: Literal["SCPI", "lines", "keyboard"] = "SCPI"
    """SCPI: asked by SCPI-1999; lines: it sends a line for each reading; keyboard: it types"""
    identity: str = ""
    """how its answer to *IDN? begins: another instrument at that address is refused"""
    configure: dict[Function, str] = Field(default={})
    """what sets it to a function, where that is not SCPI-1999's CONFigure"""
    read: str = "READ?"
    """what asks for one reading, once it is set"""
    which_function: str = "SENSe:FUNCtion?"
    """what asks to which function it is set; empty where it cannot be asked"""
    asks: str = ""
    """what is sent for each line; empty where it sends them by itself"""
    line: str = ""
    """what a line holds: {value}, {unit}, {function}, {skip} for any one word, the rest as it stands"""
    units: dict[str, str] = Field(default={})
    """what it sends for a unit, and the unit meant, where they differ"""
    functions: dict[str, Function] = Field(default={})
    """what it sends for {function}, and which is meant"""
    over_range: tuple[str, ...] = ("OL", "O.L", "0L")
    """what it sends in place of the value when it is over range"""
    baud_rate: int = Field(default=9600, ge=110, le=921600)
    """of a serial port"""
    frame: str = "8N1"
    """of a serial port: data bits, parity (N, E, O), stop bits"""

    @model_validator(mode="after")
    def _is_of_one_piece(self) -> Wire:
        if (self.address.kind == "keyboard") != (self.dialect == "keyboard"):
            what = f"a meter at “{self.address}” does not speak the dialect “{self.dialect}”"
            raise Mistake(what, expected="address: keyboard with dialect: keyboard, or neither", key=("dialect",))
        if _FRAME.fullmatch(self.frame) is None:
            raise Mistake(f"“{self.frame[:20]}” is no frame of a serial line", expected="8N1 or 7E2", key=("frame",))
        self._check_sent()
        if self.dialect == "lines":
            self._check_line()
        elif self.line:
            raise Mistake("only the dialect “lines” has a line", expected="dialect: lines", key=("line",))
        return self

    def _check_sent(self) -> None:
        """What goes down the wire is one short line of ASCII, and never starts a measurement anew."""
        sent: dict[tuple[str, ...], str] = {("read",): self.read, ("asks",): self.asks}
        sent |= {("which function",): self.which_function}
        sent |= {("configure", function.value): text for function, text in self.configure.items()}
        for key, text in sent.items():
            if len(text) > 80 or not (text.isascii() and (text.isprintable() or not text)):
                raise Mistake("this is no short line of ASCII", expected="what its handbook says is sent", key=key)
            if text.lstrip(":").upper().startswith("MEAS"):
                what = f"“{text}” sets the meter anew each time, which undoes nulled leads"
                raise Mistake(what, expected="CONFigure once, then READ?", key=key)
        if self.dialect == "SCPI" and not self.read.endswith("?"):
            raise Mistake(f"“{self.read}” asks nothing", expected="READ? or FETCh?", key=("read",))
        for function in self.configure:
            if function in DRIVES_THE_UNIT:
                what = f"{function} is not started through a wire: its key is pressed with the unit in sight"
                raise Mistake(what, expected="another function", key=("configure", function.value))

    def _check_line(self) -> None:
        """A line says its value, and of what it is."""
        names = [piece.name for piece in pieces_of(self.line)]
        if names.count(VALUE) != 1:
            raise Mistake(f"the line says {names.count(VALUE)} values", expected="{value} once", key=("line",))
        if "unit" not in names and not ("function" in names and self.functions):
            what = "the line does not say of what its value is: volts would pass for ohms"
            raise Mistake(what, expected="{unit}, or {function} with “functions:” below", key=("line",))
        for word, unit in self.units.items():
            if known_unit(unit) is None:
                raise Mistake(f"“{unit}” is no unit of the bench", expected="V, mV, ohm, kohm", key=("units", word))

    @property
    def only_listened_to(self) -> bool:
        """Whether nothing is ever sent to it: it sends a line when its own key is pressed, or all the time."""
        return self.dialect == "lines" and not self.asks
