"""Hands on a simulated unit: what words make a person switch, join, bend and read, and how a meter shows it."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from math import inf
from random import Random

from tests.hazards.matching import says
from tests.hazards.page import Page
from tests.hazards.units.unit import Feed, SimulatedUnit

SCATTER = 0.002
"""relative scatter of a reading, one standard deviation"""
LEADS = 0.03
"""ohms that nulled leads still show"""
HUMS, SMELLS = 1.7, 3.0
"""shares of its plate's volt-amperes at which a unit hums and grows hot, and at which it smells within a minute"""
TOUCHED = 25.0
"""volts that the workshop lets hands meet (IEC 61140 family, a damp place)"""
STRESSES = {
    "": (),
    "flexed": ("flex", "bend", "move cord"),
    "moved": ("cover mov", "cover lift", "lid mov", "lid lift"),
    "heavy": ("25+a", "10+a", "fault+current"),
}
"""what is done to a unit while its earth path is read, by words that ask for it"""
HALF_BRIGHT = 0.5
"""share of a lamp's own current at which it looks half bright"""
PINCHES = 34.0
"""volts of charge that a hand must not meet (IEC 60335-1, clause 22.5)"""


@dataclass
class Handling:
    """A unit in somebody's hands. `mains` is the site's voltage, `lamp` the watts of the limiter's lamp."""

    unit: SimulatedUnit
    mains: float = 240.0
    hertz: float = 50.0
    lamp: float = 60.0

    def pass_time(self, seconds: float) -> None:
        """Let the trial's clock go on."""
        self.unit.pass_time(seconds)

    # what words make hands do

    def follow(self, page: Page) -> None:
        """Do what the page says with plug, switch, fuse and lead before anything is answered."""
        unit = self.unit
        unit.lead_off = any(says(item, "lead off") for item in page.set_up)
        unit.joined = (tuple(unit.about["mains nodes"]),) if any("joined" in item for item in page.set_up) else ()
        for item in page.set_up:
            self._hear(item)
            if says(item, "switch off"):
                unit.switched.update(power="off")
        if page.kind == "work":
            for line in page.do:
                for clause in re.split(r"[,;.]", line):
                    self._hear(clause)
        if page.supply == "none" and unit.feed is not None:
            unit.plug_out()
        elif page.supply != "none" and page.kind == "work" and not self._says_off(page):
            self._feed(page.supply)

    def _says_off(self, page: Page) -> bool:
        return bool(page.do) and says(page.do[-1], "off") and not says(page.do[-1], "on")

    def _feed(self, supply: str) -> None:
        if self.unit.feed is None:
            lamp = self.lamp if supply == "limited" else 0.0
            self.unit.plug_in(Feed(volts=self.mains, lamp=lamp, hertz=self.hertz))

    def _hear(self, clause: str) -> None:
        unit = self.unit
        heard: tuple[tuple[str, Callable[[], None]], ...] = (
            ("fuse out", lambda: unit.fuses_out.add("plug")),
            ("fuse in", lambda: unit.fuses_out.discard("plug")),
            ("off wall", unit.plug_out),
            ("limiter off", unit.plug_out),
            ("plug out socket", unit.plug_out),
            ("item off", lambda: unit.switched.update(power="off")),
            ("switch on", lambda: unit.switched.update(power="on")),
            ("item on", lambda: unit.switched.update(power="on")),
            ("item switched+on", lambda: unit.switched.update(power="on")),
            ("leads left+on", unit.discharge),
            ("leave leads on", unit.discharge),
            ("half minute waited", lambda: unit.pass_time(30.0)),
        )
        for stems, act in heard:
            if says(clause, stems):
                act()

    def take_advice(self, told: str) -> None:
        """Fetch the lamp that a refusal asks for."""
        if found := re.search(r"[Tt]ake a lamp of (\d+) W", told):
            self.lamp = float(found[1])

    # what senses notice by themselves

    def alarms(self) -> tuple[str, ...]:
        """What an overloaded unit does: it hums and grows hot, and smells when it is far beyond its plate."""
        share = self.unit.load_share() if self.unit.feed is not None else 0.0
        hot = self.unit.fed_for > 20
        if self.unit.tripped or self.unit.blown:
            return ("tripped",)
        return (*(("hum",) if share > HUMS else ()), *(("smell", "heat") if share > SMELLS and hot else ()))

    def shown(self, what: str) -> str:
        """Words of what the bench or the unit shows: how bright the lamp is, its watts, where the selector stands."""
        if what == "lamp":
            share = self.unit.amperes() / (self.lamp / self.mains)
            return "half bright" if share > HALF_BRIGHT else "dark"
        return {"watts": f"{self.lamp:.0f} W", "selector": self.unit.switched["selector"]}[what]

    def pinches(self) -> str:
        """Where a hand would meet charge: between plug pins, or from them to metal and outputs; empty for nowhere."""
        unit = self.unit
        if unit.feed is not None or not unit.charges.held or not unit.about["mains nodes"]:
            return ""
        live, neutral = unit.about["mains nodes"]
        outputs = [pins[0] for name, pins in unit.about["connectors"].items() if name != "inlet"]
        metals = [place for places in unit.about["metal"].values() for place in places]
        for a, b in ((live, neutral), *((pin, other) for pin in (live, neutral) for other in (*outputs, *metals))):
            if (volts := abs(unit.dc_volts(a, b))) > PINCHES:
                return f"{volts:.0f} V between {a} and {b}"
        return ""

    def inside_pinches(self) -> str:
        """Where hands inside the case would meet more than the workshop's 25 V."""
        left = self.unit.charges.highest(self.unit.clock)
        return f"{left:.0f} V inside" if left > TOUCHED else ""

    # what meters show

    def reading(self, page: Page, noise: Random) -> str:
        """What is typed at that page."""
        shown = {
            "resistance": self._ohms,
            "continuity": self._ohms,
            "earth continuity": self._earth,
            "insulation": self._insulation,
            "DC voltage": self._dc,
            "AC voltage": self._ac,
            "mains voltage": self._mains,
            "AC current": self._amperes,
            "power": self._watts,
            "protective conductor current": self._earth_current,
            "touch current": self._touch,
        }
        if page.function not in shown:
            raise ValueError(f"{page.address}: the simulated bench has no {page.function}; give tests/hazards one")
        return shown[page.function](page, 1 + noise.gauss(0.0, SCATTER))

    def _ohms(self, page: Page, near: float) -> str:
        if not page.terminals:
            return f"{LEADS * near:.2f} ohm"
        return ohms_shown(self.unit.ohms(*page.terminals) * near + LEADS, top=6e7)

    def _earth(self, page: Page, near: float) -> str:
        if not page.terminals:
            return f"{LEADS * near:.2f} ohm"
        return ohms_shown(max(self._each_way(page)) * near + LEADS / 3, top=20.0)

    def _each_way(self, page: Page) -> list[float]:
        """Ohms at rest, and under each stress that the words ask for; at each metal where they ask for all."""
        unit, a, b = self.unit, *page.terminals
        found = []
        for stress, stems in STRESSES.items():
            if any(says(page.words, one) for one in stems) or not stress:
                unit.stress = stress
                found += [unit.ohms(a, end) for end in self.metal(b, page.words)]
        unit.stress = ""
        return found

    def metal(self, terminal: str, words: str) -> list[str]:
        """The places that a name of bare metal sends hands to: the first, or all where the words ask for each."""
        places: list[str] = self.unit.about["metal"].get(terminal, [terminal])
        wide = any(
            says(words, stems) for stems in ("each metal", "every metal", "all metal", "each panel", "every panel")
        )
        return places if wide else places[:1]

    def _insulation(self, page: Page, near: float) -> str:
        a, b = page.terminals
        others = self._group(b, page.words)
        ohms = min(self.unit.insulation([a], [one], 500.0) for one in others) if others else inf
        if len(others) > 1 and not self.unit.about["metal"].get(b):
            ohms = self.unit.insulation([a], others, 500.0)
        if says(page.words, "leave leads on") or says(page.words, "leads+left+on") or says(page.words, "leads+stay+on"):
            self.unit.discharge()
        return ohms_shown(ohms * near, top=1e9, over=">1000 Mohm")

    def _group(self, terminal: str, words: str) -> list[str]:
        if terminal in self.unit.about["metal"]:
            return self.metal(terminal, words)
        if says(words, "all output pins") or says(words, "outputs joined"):
            name = terminal.partition(".")[0]
            return list(self.unit.about["connectors"].get(name, [terminal]))
        return [terminal]

    def _dc(self, page: Page, near: float) -> str:
        return f"{self.unit.dc_volts(*page.terminals) * near:.2f} V"

    def _ac(self, page: Page, near: float) -> str:
        volts = self.unit.ac_volts(*page.terminals) * near
        return f"{volts * 1000:.1f} mV" if volts < 0.5 else f"{volts:.2f} V"

    def _mains(self, page: Page, near: float) -> str:
        return f"{0.0 if self.unit.tripped else self.mains * near:.1f} V"

    def _amperes(self, page: Page, near: float) -> str:
        return f"{self.unit.amperes() * near:.3f} A"

    def _earth_current(self, _page: Page, near: float) -> str:
        return f"{self.unit.earth_amperes() * near * 1000:.2f} mA"

    def _touch(self, page: Page, near: float) -> str:
        """The highest of all that the words send the probe to; of the first output and metal where they name none."""
        places = [pins[0] for name, pins in self.unit.about["connectors"].items() if name != "inlet"]
        places += [place for metal in self.unit.about["metal"].values() for place in metal]
        wide = says(page.words, "each thing touch") or says(page.words, "everything touch")
        amperes = [self.unit.touch_current(place) for place in (places if wide else places[:1])]
        return f"{max(amperes, default=0.0) * near * 1000:.3f} mA"

    def _watts(self, page: Page, near: float) -> str:
        return f"{self.unit.amperes() * self.mains * near:.1f} W"


def ohms_shown(ohms: float, *, top: float, over: str = "OL") -> str:
    """As many digits as a meter shows; `over` beyond the top of its ranges."""
    if ohms > top:
        return over
    for factor, prefix in ((1e6, "M"), (1e3, "k")):
        if ohms >= factor:
            return f"{ohms / factor:.3f} {prefix}ohm"
    return f"{ohms:.1f} ohm" if ohms >= 60 else f"{ohms:.2f} ohm"
