"""One instrument on the network: a question sent, its answer fetched, whatever happens on the way.

One line out, one line back, each ended by a line feed (IEEE 488.2 message exchange over a plain TCP socket). After any
mishap the connection is closed: a late answer must never be taken for the answer to the next question.
"""

import socket
import time
from dataclasses import dataclass
from types import TracebackType

from benchapp.judgement.meters.functions import Function
from benchapp.meters.answers import read_answer
from benchapp.meters.problems import BY_HAND, MeterProblem
from benchapp.meters.questions import question_for
from benchapp.quantities.quantity import Reading

USUAL_PORT = 5025  # registered with IANA as "scpi-raw"
LONGEST_ANSWER = 4096  # bytes; the questions asked here have answers of one number or four names


@dataclass(frozen=True, slots=True, kw_only=True)
class Identity:
    """Who an instrument says it is (IEEE 488.2, *IDN?): maker, model, serial number, firmware."""

    maker: str
    model: str
    serial_number: str
    firmware: str


class Instrument:
    """An instrument at a network address; connects at the first question. Used in a `with` block, or closed by hand.

    `patience` is how long one answer may take, in seconds.
    """

    def __init__(self, host: str, port: int = USUAL_PORT, *, patience: float = 5.0) -> None:
        self.address = f"{host}:{port}"
        self._host, self._port, self._patience = host, port, patience
        self._socket: socket.socket | None = None

    def __enter__(self) -> "Instrument":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let the instrument go; a further question connects again."""
        if self._socket is not None:
            self._socket.close()
            self._socket = None

    def identify(self) -> Identity:
        """Who the instrument says it is; raises MeterProblem when the answer is not four fields."""
        answer = self.ask("*IDN?")
        fields = [field.strip() for field in answer.split(",")]
        if len(fields) != 4:
            raise MeterProblem(
                f"What answers at {self.address} does not say who it is as instruments do: “{answer[:60]}”. "
                f"Check the address: another device may have it. {BY_HAND}"
            )
        maker, model, serial_number, firmware = fields
        return Identity(maker=maker, model=model, serial_number=serial_number, firmware=firmware)

    def measure(self, function: Function) -> Reading:
        """One reading of a function, on the instrument's own choice of range. Raises MeterProblem."""
        return read_answer(self.ask(question_for(function)), function)

    def first_complaint(self) -> str:
        """The oldest entry of the instrument's error queue in its own words; empty when it has none."""
        number, _, words = self.ask("SYSTem:ERRor?").partition(",")
        return "" if number.strip().lstrip("+-") == "0" else words.strip().strip('"')

    def ask(self, question: str) -> str:
        """The line that answers a question, without its end. Raises MeterProblem, and then lets the connection go."""
        try:
            connection = self._connected()
            connection.sendall(question.encode("ascii") + b"\n")
            return self._line(connection, question)
        except TimeoutError:
            self.close()
            raise MeterProblem(
                f"The meter at {self.address} did not answer “{question}” within {self._patience:g} s. "
                "It may be busy, on another page, or not understand the question: look at its display, then try again. "
                f"{BY_HAND}"
            ) from None
        except OSError as error:
            self.close()
            raise MeterProblem(
                f"The connection to the meter at {self.address} broke ({error.strerror or error}). "
                f"Check that it is switched on and its cable is in, then try again. {BY_HAND}"
            ) from error
        except MeterProblem:
            self.close()
            raise

    def _connected(self) -> socket.socket:
        if self._socket is None:
            try:
                self._socket = socket.create_connection((self._host, self._port), timeout=self._patience)
            except (OSError, UnicodeError) as error:
                reason = getattr(error, "strerror", None) or str(error)
                raise MeterProblem(
                    f"No meter answers at {self.address} ({reason}). Check that it is switched on, on the network, and "
                    f"that the address is the one it shows. {BY_HAND}"
                ) from error
        return self._socket

    def _line(self, connection: socket.socket, question: str) -> str:
        """Bytes up to the line feed, within the patience for the whole of it: a trickle does not prolong it."""
        deadline = time.monotonic() + self._patience
        received = b""
        while not received.endswith(b"\n"):
            left = deadline - time.monotonic()
            if left <= 0:
                raise TimeoutError
            connection.settimeout(left)
            part = connection.recv(LONGEST_ANSWER)
            if not part:
                raise MeterProblem(
                    f"The meter at {self.address} was unplugged or switched off while it was answering “{question}”. "
                    f"Check it and its cable, then take the reading again. {BY_HAND}"
                )
            received += part
            if len(received) > LONGEST_ANSWER:
                raise MeterProblem(
                    f"What answers at {self.address} sends far more than one line. "
                    f"Check the address: it may be another device. {BY_HAND}"
                )
        lines = received.split(b"\n")
        if len(lines) != 2:
            raise MeterProblem(
                f"The meter at {self.address} sent {len(lines) - 1} answers to one question. Take the reading again. "
                f"{BY_HAND}"
            )
        return lines[0].strip().decode("ascii", errors="replace")
