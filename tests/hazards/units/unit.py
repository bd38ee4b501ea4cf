"""One unit on the simulated bench: its netlist, how it is switched, fed and charged, what instruments show."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from math import inf
from pathlib import Path
from typing import Any

import yaml

from tests.hazards.circuits.parts import Core, Part, part_of
from tests.hazards.circuits.solver import Solution, Source, solve
from tests.hazards.units.charges import Charges

FOLDER = Path(__file__).parent
CONDUCTS = 0.5
"""volts at which a silicon junction lets a test current through"""
TESTER_OHMS = 2.5e5
"""inside the insulation tester: 500 V give at most 2 mA"""
RCD_TRIPS = 0.025
"""amperes at which the bench's 30 mA RCD is sure to have tripped (from memory: between half and all of its rating)"""
FUSE_BLOWS = 1.9
"""times its rating at which a fuse link blows within half a minute (BS 1362 from memory: 1.6 to 1.9)"""
SITE_EARTH = 0.1
"""ohms from the socket's earth contact to earth"""
BODY_OHMS = 2000.0
"""the resistance that stands for a person in a touch current test (IEC 60990, from memory)"""


@cache
def described(unit: str) -> Mapping[str, Any]:
    """What the file of that unit says."""
    text: Mapping[str, Any] = yaml.safe_load((FOLDER / f"{unit}.yaml").read_text(encoding="utf-8"))
    return text


@dataclass(kw_only=True)
class Feed:
    """What the unit hangs on: volts of the site's mains, and watts of a lamp in its way (0: none)."""

    volts: float
    lamp: float = 0.0
    hertz: float = 50.0


@dataclass(kw_only=True)
class SimulatedUnit:
    """A unit with its changes made. The clock is the trial's own, in seconds; nothing here knows of any program."""

    parts: dict[str, Part]
    cores: tuple[Core, ...]
    about: Mapping[str, Any]
    feed: Feed | None = None
    switched: dict[str, str] = field(default_factory=dict)
    fuses_out: set[str] = field(default_factory=set)
    blown: set[str] = field(default_factory=set)
    lead_off: bool = False
    joined: tuple[tuple[str, ...], ...] = ()
    stress: str = ""
    """what is done to it while it is read: flexed, moved or heavy (a current as a fault gives); empty for nothing"""
    wet: bool = False
    tripped: bool = False
    fed_again: int = 0
    """times that it was put on power again after it had tripped the RCD"""
    clock: float = 0.0
    fed_for: float = 0.0
    """seconds under power since it was last cold"""
    charges: Charges = field(default_factory=Charges)

    # the netlist as it stands

    def standing(self, *, awake: bool = False, volts: float = 0.0) -> list[Part]:
        """Its parts as switched, opened, bent and warmed now; a leak that must be struck is there from its volts on."""
        found = [self._as_now(part) for part in self.parts.values() if self._is_there(part, awake, volts)]
        for number, group in enumerate(self.joined):
            found += [
                Part(name=f"joined {number} {node}", kind="wire", ends=(group[0], node), value=0.01)
                for node in group[1:]
            ]
        return found

    def _is_there(self, part: Part, awake: bool, volts: float) -> bool:
        more = part.more
        if part.name in self.blown or (part.kind == "fuse" and more.get("place") in self.fuses_out):
            return False
        if part.kind == "switch" and not more.get("welded"):
            wanted = more.get("at", "on")
            if self.switched.get(more["of"]) != wanted:
                return False
        absent = (
            (more.get("awake") and not awake)
            or volts < more.get("above", 0.0)
            or self.fed_for < 60 * more.get("warm", 0.0)
            or (more.get("wet") and not self.wet)
            or self.fed_for >= 60 * more.get("opens warm", inf)
        )
        return not absent

    def _as_now(self, part: Part) -> Part:
        if self.stress in part.more:
            return replace(part, value=float(part.more[self.stress]))
        return part

    def _dead(self, *, volts: float) -> list[Part]:
        parts = [part for part in self.standing(volts=volts) if part.kind != "capacitor"]
        if self.lead_off:
            # the lead lies by itself: what it hung on at the item is reached by none of its pins
            parts = [part for part in parts if part.more.get("lead") or part.more.get("place") == "plug"]
        return parts

    # dead readings

    def ohms(self, red: str, black: str) -> float:
        """Ohms from the red lead to the black one, a junction passing only its own way; infinite when open."""
        return _settle(self._dead(volts=0.6), Source(plus=red, minus=black, volts=1.0, ohms=1.0)) - 1.0

    def insulation(self, ones: Sequence[str], others: Sequence[str], volts: float) -> float:
        """Ohms between two groups of terminals at the tester's volts; what lies between is charged by it."""
        held, self.joined = self.joined, (*self.joined, tuple(ones), tuple(others))
        try:
            source = Source(plus=ones[0], minus=others[0], volts=volts, ohms=TESTER_OHMS)
            ohms = max(_settle(self._dead(volts=volts), source) - TESTER_OHMS, 0.0)
            tested = _through_diodes(self._dead(volts=volts), [source])
            across = {part.name: abs(tested.between(*part.ends)) for part in self._capacitors()}
        finally:
            self.joined = held
        for part in self._capacitors():
            self.charges.hold(part, across[part.name], self._drains, self.clock, by_test=True)
        return ohms

    def discharge(self) -> None:
        """What a test charged has run down through the tester, its leads left on; what mains charged has not."""
        self.charges.drain_what_a_test_left()

    # fed

    def plug_in(self, feed: Feed) -> None:
        """Put it on that feed, its switch as it stands."""
        self.fed_again += self.tripped
        self.feed, self.tripped = feed, False

    def plug_out(self) -> None:
        """Take it off at the wall: what holds charge keeps it from the peak of the mains on."""
        if self.feed is not None and not self.tripped:
            self._charge_from_mains()
        self.feed = None

    def pass_time(self, seconds: float) -> None:
        """Let time go by: it warms up or cools, charge runs away."""
        self.clock += seconds
        on = self.feed is not None and not self.tripped and not self.blown
        self.fed_for = self.fed_for + seconds if on else max(self.fed_for - seconds / 4, 0.0)

    def live(self) -> Solution | None:
        """How it stands on its feed; fuses blow and the RCD trips first, then None stands for no power."""
        for _ in range(4):
            if self.feed is None or self.tripped:
                return None
            found = self._fed(self.feed)
            over = self._blows(found)
            if abs(found.amperes[0] + self._neutral(found)) > RCD_TRIPS:
                self.tripped = True
            elif over:
                self.blown.add(over)
            else:
                return found
        return None

    def _neutral(self, found: Solution) -> complex:
        return -found.between("plug.N", "earth") / 0.02

    def _fed(self, feed: Feed) -> Solution:
        parts = [*self._rectified(feed), Part(name="site neutral", kind="wire", ends=("plug.N", "earth"), value=0.02)]
        parts.append(Part(name="site earth", kind="wire", ends=("plug.E", "earth"), value=SITE_EARTH))
        source = Source(plus="plug.L", minus="earth", volts=feed.volts, ohms=0.3, lamp=feed.lamp)
        return solve(parts, [source], hertz=feed.hertz, cores=self.cores)

    def _rectified(self, feed: Feed) -> list[Part]:
        """Each rectifier and what it feeds as one resistor of the same power (half wave: half the ohms)."""
        parts = self.standing(awake=True, volts=feed.volts)
        for diode in [part for part in parts if part.kind == "diode"]:
            back = diode.more["returns"]
            dead = [part for part in parts if part.kind not in ("capacitor", "diode")]
            ohms = _settle(dead, Source(plus=diode.ends[1], minus=back, volts=1.0, ohms=1.0)) - 1.0
            load = Part(name=f"{diode.name} fed", kind="resistor", ends=(diode.ends[0], back), value=max(ohms / 2, 0.1))
            behind = {diode.ends[1]}
            parts = [part for part in parts if part is not diode and not behind & set(part.ends)]
            parts.append(load)
        return parts

    def _blows(self, found: Solution) -> str:
        for part in self.parts.values():
            rating = part.more.get("amperes", 0.0)
            if part.kind == "fuse" and rating and part.name not in self.blown:
                amperes = abs(found.between(*part.ends)) / part.value
                if amperes > FUSE_BLOWS * rating:
                    return part.name
        return ""

    def amperes(self) -> float:
        """What the plug-in meter shows."""
        found = self.live()
        return abs(found.amperes[0]) if found else 0.0

    def earth_amperes(self) -> float:
        """What the leakage meter shows in the earth core of its plug."""
        found = self.live()
        return abs(found.between("plug.E", "earth")) / SITE_EARTH if found else 0.0

    def ac_volts(self, a: str, b: str) -> float:
        """AC volts between two terminals."""
        found = self.live()
        if found is None:
            return 0.0
        idle = self.about.get("idle millivolts", {})
        noise = (idle.get(a, 0) - idle.get(b, 0)) / 1000
        return float((abs(found.between(a, b)) ** 2 + noise**2) ** 0.5)

    def dc_volts(self, a: str, b: str) -> float:
        """DC volts between two terminals: the rails while it is fed, else what has stayed as charge."""
        if self.feed is not None and (found := self.live()) is not None:
            return self._rails(found).between(a, b).real
        return self.charges.volts(self.standing(), a, b, self.clock, _through_diodes)

    def _rails(self, found: Solution) -> Solution:
        parts = [part for part in self.standing(awake=True) if part.kind not in ("capacitor", "diode")]
        sources = []
        for diode in [part for part in self.standing() if part.kind == "diode"]:
            peak = max(2**0.5 * abs(found.between(diode.ends[0], diode.more["returns"])) - 0.7, 0.0)
            sources.append(Source(plus=diode.ends[1], minus=diode.more["returns"], volts=peak, ohms=0.5))
        return solve(parts, sources)

    def touch_current(self, metal: str) -> float:
        """Amperes through a person's 2 kohm from that metal to earth, its own earth open."""
        if self.feed is None:
            return 0.0
        parts = [*self._rectified(self.feed), Part(name="n", kind="wire", ends=("plug.N", "earth"), value=0.02)]
        parts.append(Part(name="person", kind="resistor", ends=(metal, "earth"), value=BODY_OHMS))
        source = Source(plus="plug.L", minus="earth", volts=self.feed.volts, ohms=0.3)
        found = solve(parts, [source], hertz=self.feed.hertz, cores=self.cores)
        return abs(found.between(metal, "earth")) / BODY_OHMS

    # what senses notice of it

    def load_share(self) -> float:
        """Volt-amperes that it takes now, as a share of its plate."""
        found = self.live()
        plate = self.about["plate"].get("volt-amperes", 0)
        if found is None or not plate:
            return 0.0
        return abs(found.amperes[0] * found.between("plug.L", "plug.N")) / plate

    # charge

    def _capacitors(self) -> list[Part]:
        return [part for part in self.standing() if part.kind == "capacitor"]

    def _drains(self, capacitor: Part) -> float:
        return _settle(
            self._dead(volts=0.6), Source(plus=capacitor.ends[0], minus=capacitor.ends[1], volts=1.0, ohms=1.0)
        )

    def _charge_from_mains(self) -> None:
        found = self.live()
        if found is None or self.feed is None:
            return
        self.feed, feed = None, self.feed
        rails = self._rails(found)
        for part in self._capacitors():
            peak = 2**0.5 * abs(found.between(*part.ends))
            standing = abs(rails.between(*part.ends))
            self.charges.hold(
                part,
                max(peak if part.ends[0].startswith(("mains", "inlet", "cord")) else 0.0, standing),
                self._drains,
                self.clock,
            )
        self.feed = feed


def _through_diodes(parts: list[Part], sources: Sequence[Source]) -> Solution:
    """The DC solution in which every junction passes only its own way, found by trying."""
    diodes = [part for part in parts if part.kind == "diode"]
    on: set[str] = set()
    found = solve([part for part in parts if part.kind != "diode"], sources)
    for _ in range(len(diodes) + 2):
        ohms = [Part(name=d.name, kind="resistor", ends=d.ends, value=200.0) for d in diodes if d.name in on]
        found = solve([*(part for part in parts if part.kind != "diode"), *ohms], sources)
        wanted = {d.name for d in diodes if found.between(*d.ends).real > (0.0 if d.name in on else CONDUCTS)}
        if wanted == on:
            break
        on = wanted
    return found


def _settle(parts: list[Part], source: Source) -> float:
    """Ohms that the source sees, its own included; infinite below what leaks through the air."""
    found = _through_diodes(parts, [source])
    amperes = abs(found.amperes[0])
    return source.volts / amperes if amperes > 2e-12 * source.volts else inf


def make_unit(unit: str, change: Mapping[str, Any] | None = None) -> SimulatedUnit:
    """The unit of that name, with a row's change made: parts `set`, `without` and `with`; its found things overlaid."""
    about = dict(described(unit))
    change = change or {}
    said = {name: dict(part) for name, part in about["parts"].items() if name not in change.get("without", ())}
    said |= {name: dict(part) for name, part in change.get("with", {}).items()}
    for path, value in change.get("set", {}).items():
        name, key = path.rsplit(".", 1)
        said[name][key] = value
    cores = {name: dict(core) for name, core in about["cores"].items()}
    for path, value in change.get("iron", {}).items():
        cores["iron"][path] = value
    for key in ("plate", "found", "metal"):
        about[key] = {**about[key], **change.get(key, {})}
    switched = {"power": "off", "selector": change.get("selector", about.get("selector", ""))}
    return SimulatedUnit(
        parts={name: part_of(name, part) for name, part in said.items()},
        cores=tuple(Core(name=name, **core) for name, core in cores.items()),
        about=about,
        switched=switched,
    )
