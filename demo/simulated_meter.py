"""A made-up bench meter that answers SCPI on a loopback socket, and shows what its probes touch.

`python3 -m demo.simulated_meter` starts one with its probes on a unit of the hazard trials; what is typed there moves
the probes: `touch lamp.1 lamp.2`, `lift`, `on`, `off`, `drop`, `quit`. It knows nothing of the program that reads it.
"""

import math
import re
import socket
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from random import Random

IDENTITY = "Tarnbeck,Bench Meter Six,0007,1.4"
OVER_RANGE = "+9.90000000E+37"
"""SCPI-1999, volume 1, 7.2.1 (clause from memory)"""
_SHORT = {"VOLTAGE": "VOLT", "CURRENT": "CURR", "RESISTANCE": "RES", "FREQUENCY": "FREQ", "CAPACITANCE": "CAP"}
FUNCTIONS = ("VOLT:AC", "VOLT:DC", "RES", "CURR:AC", "CURR:DC", "FREQ", "CAP")
Shows = Callable[[str], float]
"""What the probes give on a function, in SI; infinite over range"""


@dataclass
class SimulatedMeter:
    """Serves one connection after the other. CONFigure and MEASure reset the null, as such meters do."""

    shows: Shows
    identity: str = IDENTITY
    function: str = "VOLT:DC"
    null: float = 0.0
    """ohm taken off a resistance: leads that were nulled at its keys"""
    takes: float = 0.0
    """seconds for one reading"""
    drops_in: int = 0
    """readings after which the connection breaks in the middle of the answer, once; 0 for never"""
    heard: list[str] = field(default_factory=list)
    connections: int = 0

    def __post_init__(self) -> None:
        self._errors: list[str] = []
        self._closed = False
        self._current: socket.socket | None = None

    def start(self, port: int = 0) -> int:
        """Begin to answer on a loopback port; the port."""
        self._server = socket.create_server(("127.0.0.1", port))
        self._thread = threading.Thread(target=self._serve, name="simulated meter", daemon=True)
        self._thread.start()
        return int(self._server.getsockname()[1])

    def stop(self) -> None:
        """Switch it off: whoever is connected is cut off."""
        self._closed = True
        for one in (self._server, self._current):
            if one is not None:
                with suppress(OSError):
                    one.shutdown(socket.SHUT_RDWR)
                one.close()
        self._thread.join(timeout=5)

    def drop(self) -> None:
        """Cut off whoever is connected."""
        if self._current is not None:
            with suppress(OSError):
                self._current.shutdown(socket.SHUT_RDWR)

    def _serve(self) -> None:
        while not self._closed:
            try:
                connection, _ = self._server.accept()
            except OSError:
                return
            self.connections += 1
            self._current = connection
            with connection, suppress(OSError), connection.makefile("rb") as lines:
                for line in lines:
                    if not self._take(connection, line.decode("ascii", errors="replace").strip()):
                        break
            self._current = None

    def _take(self, connection: socket.socket, message: str) -> bool:
        self.heard.append(message)
        answer = self.answer(message)
        if answer is None:
            return True
        if message.upper() == "READ?" and self.drops_in:
            self.drops_in -= 1
            if not self.drops_in:
                connection.sendall(answer[:5].encode())
                return False
        connection.sendall(f"{answer}\n".encode())
        return True

    def answer(self, message: str) -> str | None:
        """The answer to a message; None where it has none."""
        words = message.upper().lstrip(":")
        if words == "*IDN?":
            return self.identity
        if words in ("SENSE:FUNCTION?", "SENS:FUNC?", "FUNC?"):
            return f'"{self.function}"'
        if words in ("SYSTEM:ERROR?", "SYST:ERR?"):
            return self._errors.pop(0) if self._errors else '+0,"No error"'
        if words == "READ?":
            return self._reading()
        return self._set(words)

    def _set(self, words: str) -> str | None:
        found = re.fullmatch(r"(CONF|CONFIGURE|MEAS|MEASURE):([A-Z:]+?)(\?)?", words)
        nodes = [_SHORT.get(node, node) for node in found[2].split(":")] if found else []
        function = {"VOLT": "VOLT:DC", "CURR": "CURR:DC"}.get(":".join(nodes), ":".join(nodes))
        if found is None or function not in FUNCTIONS:
            self._errors.append('-113,"Undefined header"')
            return None
        self.function, self.null = function, 0.0
        return self._reading() if found[3] else None

    def _reading(self) -> str:
        time.sleep(self.takes)
        value = self.shows(self.function)
        if math.isinf(value):
            return OVER_RANGE
        return f"{value - (self.null if self.function == 'RES' else 0.0):+.8E}"


@dataclass
class Probes:
    """Two probes in a hand: what they touch now, with the bounce of the first moment and a meter's last digits.

    `gives` is what lies between two points on a function, in SI.
    """

    gives: Callable[[str, str, str], float]
    leads: float = 0.2
    digits: float = 0.0002
    """of the reading, by which the last digits waver"""
    bounces: float = 0.3
    """seconds"""
    on: tuple[str, str] | None = None
    since: float = 0.0
    random: Random = field(default_factory=lambda: Random("probes"))  # noqa: S311 - scatter, no secret

    def touch(self, a: str, b: str) -> None:
        """Put the probes there."""
        self.on, self.since = (a, b), time.monotonic()

    def lift(self) -> None:
        """Take the probes off."""
        self.on = None

    def shows(self, function: str) -> float:
        """What a meter sees of it now."""
        bouncing = time.monotonic() - self.since < self.bounces and self.random.random() < 0.5
        if self.on is None or bouncing:
            return math.inf if function == "RES" else abs(self.random.gauss(0.0, 0.02))
        value = self.gives(function, *self.on) if self.on[0] != self.on[1] else 0.0
        leads = self.leads if function == "RES" else 0.0
        return math.inf if value > 6e7 else (value + leads) * (1 + self.random.gauss(0.0, self.digits))


def on_trial_unit(name: str) -> "tuple[Probes, object]":
    """Probes on a unit of the hazard trials, and the unit: its circuit is solved by the trials alone."""
    from tests.hazards.units.unit import make_unit

    unit = make_unit(name)
    gives = {"RES": unit.ohms, "VOLT:AC": unit.ac_volts, "VOLT:DC": unit.dc_volts}
    return Probes(gives=lambda function, a, b: abs(gives[function](a, b)) if function in gives else 0.0), unit


def main() -> int:
    """Run one until it is told to stop."""
    from tests.hazards.units.unit import Feed, SimulatedUnit

    name, port = (*sys.argv[1:], "tb-mu1", "5025")[:2] if len(sys.argv) != 2 else (sys.argv[1], "5025")
    probes, unit = on_trial_unit(name)
    assert isinstance(unit, SimulatedUnit)
    meter = SimulatedMeter(probes.shows, takes=0.12)
    print(f"{IDENTITY} answers at TCPIP::127.0.0.1::{meter.start(int(port))}::SOCKET, probes on {name}.", flush=True)
    orders: dict[str, Callable[..., object]] = {
        "touch": probes.touch,
        "lift": probes.lift,
        "on": lambda: (unit.switched.update(power="on"), unit.plug_in(Feed(volts=240.0))),
        "switch": lambda: unit.switched.update(power="on"),
        "off": unit.plug_out,
        "drop": meter.drop,
    }
    for line in sys.stdin:
        order, *places = line.split() or [""]
        if order == "quit":
            break
        try:
            orders.get(order, lambda *_: print(f"{', '.join(orders)}, quit"))(*places)
        except (TypeError, KeyError) as problem:
            print(f"{line.strip()}: {problem}", flush=True)
    meter.stop()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
