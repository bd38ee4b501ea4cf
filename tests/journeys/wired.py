"""Meters on a wire in a journey: probes touch a unit of the hazard trials, testers send at their key what they show."""

import time
from collections.abc import Callable
from math import isinf
from pathlib import Path
from random import Random

from benchapp.actions.workbench.bench import Bench
from benchapp.files.shipped import shipped_folder
from demo.simulated_bench import SimulatedUnit
from demo.simulated_meter import Probes, SimulatedMeter
from demo.simulated_sender import SimulatedSender
from tests.hazards.driver import Clock, Driver
from tests.hazards.page import Page
from tests.hazards.units.bench import Handling
from tests.hazards.units.unit import make_unit
from tests.journeys.counting import CountingTechnician, SparingPlayer

METER = "tb-m1"
TESTERS = ("tb-it1", "tb-pm1")
"""the insulation tester and the plug-in meter"""
WIRE = "wire:\n  address: TCPIP::127.0.0.1::{port}::SOCKET\n  identity: Tarnbeck,Bench Meter Six\n"
LINES = """wire:
  address: TCPIP::127.0.0.1::{port}::SOCKET
  dialect: lines
  line: "{{function}} {{value}} {{unit}}"
  functions: {functions}
"""
FUNCTIONS = {
    "tb-it1": "{CONT: continuity, EARTH: earth continuity, INS: insulation}",
    "tb-pm1": "{AMPS: AC current, MAINS: mains voltage, LEAK: protective conductor current}",
}
WORDS = {
    "continuity": "CONT",
    "earth continuity": "EARTH",
    "insulation": "INS",
    "AC current": "AMPS",
    "mains voltage": "MAINS",
    "protective conductor current": "LEAK",
}
"""what the testers send for a function"""
MAINS, LEADS = 243.1, 0.12
"""volts at the socket and ohms of the leads, as the typed journey has them (demo/tarnbeck.yaml)"""
TAKES = 0.03
"""seconds for one reading"""
BESIDE = ("caution", "meter", "set-up")
"""pages before a step: nothing is switched or joined there but what the step itself says"""
SECONDS_A_PAGE = 30.0
"""what a careful person takes for a page (own choice)"""
LOOKED_AT = 4
"""readings that come behind a touch before somebody takes what is shown by key: the first may be from before it"""
NOTHING = ("…", "no reading")
"""how the strip ends while nothing has come"""
PRESSED_AGAIN = 1.0
"""seconds after which somebody presses a tester's key once more"""
PATIENCE = 20.0
"""seconds after which a reading that does not come is given up"""
TIPS = ("tips", "tips")
"""the two probes held together"""


class WiredBench:
    """A sound unit of the trials in somebody's hands, and the meter whose probes touch it."""

    def __init__(self, design: str) -> None:
        self.handling = Handling(unit=make_unit(design), mains=MAINS)
        self.probes = Probes(gives=self.between, leads=LEADS, bounces=0.0, random=Random("wired"))
        self.meter = SimulatedMeter(self.probes.shows, takes=TAKES)
        self.line = ""
        """what a tester shows, as it sends it"""
        self.testers: dict[str, SimulatedSender] = {}

    def between(self, function: str, a: str, b: str) -> float:
        """What lies between two terminals, in SI; a name of bare metal is the first place that it stands for."""
        unit = self.handling.unit
        first, second = (unit.about["metal"].get(one, [one])[0] for one in (a, b))
        shown = {"RES": unit.ohms, "VOLT:AC": unit.ac_volts, "VOLT:DC": unit.dc_volts}[function](first, second)
        return abs(shown)

    def hang_up(self, folder: Path, testers: tuple[str, ...] = ()) -> None:
        """Switch the meters on; their records, beside a workbook of that folder, say how they hang on the wire."""
        self._record(folder, METER, WIRE.format(port=self.meter.start()))
        for name in testers:
            self.testers[name] = SimulatedSender(lambda: self.line)
            wire = LINES.format(port=self.testers[name].start(), functions=FUNCTIONS[name])
            self._record(folder, name, wire)

    def _record(self, folder: Path, name: str, wire: str) -> None:
        text = (shipped_folder("resources") / "meters" / f"{name}.yaml").read_text(encoding="utf-8")
        own = folder / "meters"
        own.mkdir(exist_ok=True)
        (own / f"{name}.yaml").write_text(text + wire, encoding="utf-8")

    def show(self, page: Page) -> None:
        """Read that page with the tester that it is for."""
        shown = self.handling.reading(page, Random("tester"))
        value = "OL Mohm" if shown[0] in ">O" else shown
        self.line = f"{WORDS[page.function]} {value}"

    def stop(self) -> None:
        """Switch all of them off."""
        self.meter.stop()
        for tester in self.testers.values():
            tester.stop()


class WiredPlayer(SparingPlayer):
    """Touches and waits where the page takes it by itself, takes by key what it never does, types for other meters."""

    def __init__(self, technician: CountingTechnician, bench: Bench, wired: WiredBench) -> None:
        super().__init__(technician, lambda _page: None)
        self._bench, self._wired = bench, wired

    def do_what_is_due(self, unit: SimulatedUnit) -> None:
        page = self._page = Driver(self._bench, Clock(), unit.mark).page()
        self._wired.handling.pass_time(SECONDS_A_PAGE)
        if page.kind not in BESIDE:
            self._wired.handling.follow(page)
        super().do_what_is_due(unit)

    def _do_reading(self, unit: SimulatedUnit) -> None:
        wire = self._technician.page.wire  # type: ignore[attr-defined]
        if not wire.watches:
            super()._do_reading(unit)
            return
        meter = self._technician.page.given().meter  # type: ignore[attr-defined]
        if meter in self._wired.testers:
            self._press(self._wired.testers[meter])
            return
        never = "Never by itself" in wire.says.text()
        if not never:
            self._until(lambda: "Touch the two points" in wire.says.text())
        ends = self._step().terminals or TIPS
        self._wired.probes.touch(*ends)
        if never or isinf(self._wired.probes.shows(self._wired.meter.function)):
            self._take_by_key()
        else:
            before = self._last_entry()
            self._until(lambda: self._last_entry() != before)
        self._wired.probes.lift()

    def _press(self, tester: SimulatedSender) -> None:
        """Press the tester's own key until what it shows has come, then the key that takes it."""
        self._wired.show(self._page)
        wire = self._technician.page.wire  # type: ignore[attr-defined]
        last = 0.0

        def has_come() -> bool:
            nonlocal last
            if time.monotonic() - last > PRESSED_AGAIN:
                last = time.monotonic()
                tester.press()
            return not wire.shows.text().endswith(NOTHING)

        self._until(has_come)
        before = self._last_entry()
        self._technician.strike("+")
        if self._last_entry() == before:
            self._technician.strike("Enter")

    def _take_by_key(self) -> None:
        """Look at the meter, then its key; on the way back once more, and Enter."""
        before, read = self._last_entry(), self._wired.meter.heard.count("READ?")
        self._until(lambda: self._wired.meter.heard.count("READ?") >= read + LOOKED_AT)
        self._technician.strike("+")
        if self._last_entry() == before:
            self._technician.strike("Enter")

    def _last_entry(self) -> object:
        return self._technician.view.state.last_entry

    def _until(self, true: Callable[[], bool]) -> None:
        end = time.monotonic() + PATIENCE
        while not true():
            self._technician.settle()
            time.sleep(0.02)
            assert time.monotonic() < end, f"no reading comes at {self._technician.address}"
