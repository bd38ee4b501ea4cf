"""The way to one instrument: a plain TCP socket, or USB and serial ports through VISA, opened when first used.

A message goes out and a line comes back, each ended by a line feed (IEEE 488.2 message exchange). Whoever uses a link
closes it after any mishap: a late answer must never be taken for the answer to the next question.
"""

import socket
import time
from collections.abc import Callable
from contextlib import suppress
from typing import Any, Protocol

from benchapp.judgement.meters.wire import Wire
from benchapp.meters.problems import BY_HAND, MeterProblem, MissingPackage
from benchapp.words import say

LONGEST_LINE = 4096
"""bytes; what is asked here is answered by one number or a few words"""
LOOKS = 0.01
"""seconds between two looks at a serial port"""
MISSING = say(
    "USB and serial ports are reached through two packages that are not installed. Run: "
    "python -m pip install 'benchapp[meters]', then try again. {by_hand}",
    by_hand=BY_HAND,
)


class Link(Protocol):
    """What carries lines. `send` and `line` raise OSError, TimeoutError among them, or MeterProblem."""

    def send(self, text: str) -> None:
        """Send one line, without its end."""

    def line(self, patience: float) -> str:
        """The next line, without its end; TimeoutError when it does not come whole within `patience` seconds."""

    def forget(self) -> bool:
        """Forget the lines that came unasked up to now; whether one is under way, which began before now."""

    def close(self) -> None:
        """Let the instrument go."""


OpenLink = Callable[[Wire, float], Link]


def open_link(wire: Wire, patience: float) -> Link:
    """The way to the instrument of that record; raises MeterProblem where nothing is there."""
    if wire.address.kind == "socket":
        return SocketLink(wire.address.host, wire.address.port, patience)
    return VisaLink(wire, patience)


class SocketLink:
    """A TCP socket, by the standard library alone."""

    def __init__(self, host: str, port: int, patience: float) -> None:
        where = f"{host}:{port}"
        try:
            self._socket = socket.create_connection((host, port), timeout=patience)
        except ConnectionRefusedError as error:
            raise MeterProblem(
                say(
                    "The device at {host} refuses port {port}. Check the port, and that its remote "
                    "control is switched on and nobody else is connected to it. {BY_HAND}",
                    host=host,
                    port=port,
                    BY_HAND=BY_HAND,
                )
            ) from error
        except socket.gaierror as error:
            raise MeterProblem(
                say(
                    "There is no address “{host}” in this network. Check its spelling, and the meter's own. {BY_HAND}",
                    host=host,
                    BY_HAND=BY_HAND,
                )
            ) from error
        except (OSError, UnicodeError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            raise MeterProblem(
                say(
                    "No meter answers at {where} ({reason}). Check that it is switched on, on the "
                    "network, and that the address is the one it shows. {BY_HAND}",
                    where=where,
                    reason=reason,
                    BY_HAND=BY_HAND,
                )
            ) from error
        self._received = b""

    def send(self, text: str) -> None:
        """Send one line."""
        self._socket.sendall(text.encode("ascii") + b"\n")

    def line(self, patience: float) -> str:
        """Bytes up to the line feed, within the patience for the whole of it: a trickle does not prolong it."""
        deadline = time.monotonic() + patience
        while b"\n" not in self._received:
            left = deadline - time.monotonic()
            if left <= 0:
                raise TimeoutError
            self._socket.settimeout(left)
            part = self._socket.recv(LONGEST_LINE)
            if not part:
                raise ConnectionResetError("it was unplugged or switched off")
            self._received += part
            _refuse_flood(self._received)
        line, _, self._received = self._received.partition(b"\n")
        return line.strip().decode("ascii", errors="replace")

    def forget(self) -> bool:
        """Forget what came unasked."""
        self._socket.setblocking(False)
        try:
            while part := self._socket.recv(LONGEST_LINE):
                self._received = (self._received + part).rpartition(b"\n")[2]
                _refuse_flood(self._received)
            raise ConnectionResetError("it was unplugged or switched off")
        except BlockingIOError:
            self._received = self._received.rpartition(b"\n")[2]
        return bool(self._received)

    @property
    def more(self) -> bool:
        """Whether more has come than was asked for."""
        return bool(self._received.strip())

    def close(self) -> None:
        """Let the instrument go; whoever waits for its answer waits no more."""
        with suppress(OSError):
            self._socket.shutdown(socket.SHUT_RDWR)
        self._socket.close()


class VisaLink:
    """USB (USBTMC) or a serial port, through pyvisa and pyvisa-py, which are an extra and imported here alone."""

    def __init__(self, wire: Wire, patience: float) -> None:
        self._visa = pyvisa_or_problem()
        options: dict[str, Any] = {"timeout": patience * 1000, "read_termination": "\n", "write_termination": "\n"}
        if wire.address.kind == "serial":
            options |= _serial_options(self._visa, wire)
        try:
            self._manager = self._visa.ResourceManager("@py")
            self._resource: Any = self._manager.open_resource(wire.address.resource, **options)
            self._serial, self._received = wire.address.kind == "serial", b""
            self._forget_what_was_sent(wire)
        except Exception as error:  # its back ends raise classes of their own: serial, usb, ValueError
            raise MeterProblem(
                say(
                    "Nothing can be opened at {address} ({first_line}). Check that its cable is in, that "
                    "it is switched on, and that no other program uses it. {BY_HAND}",
                    address=wire.address,
                    first_line=_first_line(error),
                    BY_HAND=BY_HAND,
                )
            ) from error

    def send(self, text: str) -> None:
        """Send one line."""
        self._guarded(lambda: self._resource.write(text))

    def line(self, patience: float) -> str:
        """The next line; half a line that came in time waits for its other half."""
        if self._serial:
            return self._line_of_port(patience)
        self._resource.timeout = patience * 1000
        return str(self._guarded(self._resource.read_raw).decode("ascii", errors="replace")).strip()

    def _line_of_port(self, patience: float) -> str:
        deadline = time.monotonic() + patience
        while b"\n" not in self._received:
            self._take_what_came()
            if b"\n" not in self._received:
                if time.monotonic() > deadline:
                    raise TimeoutError
                time.sleep(LOOKS)
        line, _, self._received = self._received.partition(b"\n")
        return line.strip().decode("ascii", errors="replace")

    def _take_what_came(self) -> None:
        came = self._guarded(lambda: self._resource.bytes_in_buffer)
        if came:
            self._received += self._guarded(lambda: self._resource.read_bytes(came, break_on_termchar=False))
            _refuse_flood(self._received.rpartition(b"\n")[2])

    def forget(self) -> bool:
        """Forget what came unasked; an instrument on USB sends nothing unasked."""
        if self._serial:
            self._take_what_came()
            self._received = self._received.rpartition(b"\n")[2]
        return bool(self._received)

    def close(self) -> None:
        """Let the instrument go."""
        try:
            self._resource.close()
        except Exception as error:  # the port is gone: there is nothing left to let go
            _ = error

    def _forget_what_was_sent(self, wire: Wire) -> None:
        """What lies in the buffers was the answer to another question."""
        if wire.address.kind == "USB":
            self._resource.clear()
        else:
            self._resource.flush(self._visa.constants.BufferOperation.discard_read_buffer)

    def _guarded(self, work: Callable[[], Any]) -> Any:  # noqa: ANN401 - what pyvisa gives
        try:
            return work()
        except self._visa.errors.VisaIOError as error:
            if error.error_code == self._visa.constants.StatusCode.error_timeout:
                raise TimeoutError from error
            raise ConnectionResetError(_first_line(error)) from error
        except MeterProblem:
            raise
        except Exception as error:  # serial and usb errors of the back ends
            raise ConnectionResetError(_first_line(error)) from error


def _refuse_flood(line: bytes) -> None:
    if len(line) > LONGEST_LINE:
        raise MeterProblem(
            say("What answers there sends far more than one line: it may be another device. {BY_HAND}", BY_HAND=BY_HAND)
        )


def pyvisa_or_problem() -> Any:  # noqa: ANN401 - a module that is an extra
    """The module pyvisa, with the back end that it needs; raises MissingPackage."""
    try:
        import pyvisa
        import pyvisa_py
    except ImportError as error:
        raise MissingPackage(MISSING) from error
    assert pyvisa_py
    return pyvisa


def _serial_options(visa: Any, wire: Wire) -> dict[str, Any]:  # noqa: ANN401 - a module that is an extra
    bits, parity, stop = tuple(wire.frame)
    constants = visa.constants
    parities = {"N": constants.Parity.none, "E": constants.Parity.even, "O": constants.Parity.odd}
    stops = {"1": constants.StopBits.one, "2": constants.StopBits.two}
    return {"baud_rate": wire.baud_rate, "data_bits": int(bits), "parity": parities[parity], "stop_bits": stops[stop]}


def _first_line(error: BaseException) -> str:
    return (str(error).strip().splitlines() or [type(error).__name__])[0][:160]
