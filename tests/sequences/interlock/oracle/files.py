"""The files of a workshop as plain YAML: the steps of a route, one design, the limits and the meters, all as text.

Nothing here comes from the program that is judged: the files are read by PyYAML's base loader, and what a step shows,
on which supply it is done and what it takes to be fit to show it follow from DESIGN, section 6, once more.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import Any

import yaml

from tests.sequences.interlock.oracle.asked_hazards import with_hazards
from tests.sequences.interlock.oracle.paths import pairs

LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
KINDS = ("inspect", "work", "probe", "measure", "ask", "wait", "compute", "photo")
ADVICE = frozenset({"why", "say"})
"""words of a step that change nothing of what it asks, where it names its terminals"""
FROM_MAINS = frozenset({"mains voltage", "AC current", "power", "protective conductor current", "touch current"})
"""what a meter shows only while the mains feeds the item"""
OHMS = frozenset({"resistance", "continuity"})
BY_HAND = frozenset({"inspect", "work", "ask"})
WAY_BACK = ("plug out", "discharged", "voltage low")
NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")


@cache
def read_text(text: str) -> dict[str, Any]:
    """What stands in one file; nobody changes it."""
    return yaml.load(text, LOADER)  # type: ignore[no-any-return]


def words(value: object) -> tuple[str, ...]:
    """One word or a list of words."""
    return tuple(str(one) for one in value) if isinstance(value, list) else (str(value),)


def alike(one: object, other: object) -> bool:
    """Whether a fact is the value that a file names."""
    spelled = {"true": "yes", "false": "no"}
    left, right = (str(value).casefold() for value in (one, other))
    return spelled.get(left, left) == spelled.get(right, right)


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step as its file asks it; `address` is without the pins of a probe."""

    address: str
    stage: str
    kind: str
    written: Mapping[str, Any]
    supply: str
    position: int
    way_back: bool
    function: str = ""
    accept: str = ""
    at: tuple[str, ...] = ()
    set_up: tuple[str, ...] = ()
    when: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    shows: frozenset[str] = frozenset()

    @property
    def live(self) -> bool:
        """Whether the unit is fed while it is done."""
        return self.supply != "none"

    @cached_property
    def asks(self) -> tuple[object, ...]:
        """All that an answer to it rests on."""
        left_out = ADVICE if self.at or self.kind == "probe" else {"why"}
        said = {key: value for key, value in self.written.items() if key not in left_out}
        return said, self.supply, dict(self.when)


class Files:
    """The files behind the run of one route over one design, and what the workshop has settled."""

    def __init__(
        self,
        texts: Mapping[str, str],
        route: str,
        design: str,
        *,
        tester: bool = True,
        days: float = 30,
        people: tuple[tuple[str, tuple[str, ...], str], ...] = (),
    ) -> None:
        read = {name: read_text(text) for name, text in texts.items()}
        self.tester, self.days = tester, days
        self.people = {initials: (rights, until) for initials, rights, until in people}
        self.route = read[f"sequences/routes/{route}.yaml"]
        self.design = read[f"resources/equipment/{design}.yaml"]
        self.limits = read["resources/limits/gb.yaml"]
        self.meters = {one["meter"]: one for name, one in read.items() if name.startswith("resources/meters/")}
        self.sequences = {one["sequence"]: one for one in read.values() if isinstance(one, dict) and "sequence" in one}
        self.hazards = {one["hazard"]: one for one in read.values() if "hazard" in one}
        self.connectors = {one["connector"]: one for one in read.values() if "connector" in one}
        back = self.route.get("way back", "")
        self.steps = [*self._of(self.route["sequences"], way_back=False)]
        self.way_back = [*self._of([back] if back else [], way_back=True)]
        self.by_address = {step.address: step for step in (*self.steps, *self.way_back)}

    def _of(self, names: list[str], *, way_back: bool) -> Iterator[Step]:
        for position, (name, written) in enumerate((n, s) for n in names for s in self.sequences[n]["steps"]):
            looked_for = with_hazards(written, self.design, self.hazards)
            if looked_for is None or ("case" in written.get("at", ()) and "points" not in self.design):
                continue
            ends = pairs(self, written["path"]) if "path" in written else [tuple(written.get("at", ()))]
            for at in ends:
                pin = f"/{at[1]}" if len(ends) > 1 else ""
                yield self._step(self.sequences[name], {**looked_for, "at": at}, position, pin, way_back=way_back)

    def _step(
        self, sequence: Mapping[str, Any], written: Mapping[str, Any], position: int, pin: str = "", *, way_back: bool
    ) -> Step:
        kind = next(one for one in KINDS if one in written)
        function, accept = written.get("function", ""), written.get("accept", "")
        if kind == "probe":
            function = "AC voltage" if "voltage" in written.get("what", ()) else "resistance"
        when: dict[str, tuple[str, ...]] = {}
        for asked in (sequence.get("fits", {}), written.get("when", {})):
            for name, wanted in asked.items():
                before = when.get(name, words(wanted))
                when[name] = tuple(one for one in words(wanted) if any(alike(one, other) for other in before))
        plain = Step(
            address=f"{sequence['sequence']}.{written[kind]}{pin}",
            stage=sequence["sequence"],
            kind=kind,
            written=written,
            supply=sequence.get("supply", "none") if way_back else self._supply(sequence, function, accept),
            position=position,
            way_back=way_back,
            function=function,
            accept=accept,
            at=tuple(written.get("at", ())),
            set_up=tuple(written.get("set up", ())),
            when=when,
        )
        shows = frozenset(role for role in written.get("shows", ()) if self.is_fit(plain, role))
        return Step(**{**plain.__dict__, "shows": shows})

    def _supply(self, sequence: Mapping[str, Any], function: str, accept: str) -> str:
        """As the sequence says; what only the mains can give is on full mains whatever it says."""
        stated = sequence.get("supply", "none")
        volts = function in ("AC voltage", "DC voltage") and accept != "limit voltage-low" and "supply" in self.design
        return "full" if stated == "none" and (function in FROM_MAINS or volts) else stated

    def may(self, who: str, right: str, day: str) -> bool:
        """Whether that person, by letters and digits in small letters, has the right on that day."""
        rights, until = self.people.get(who, ((), ""))
        return bool({right, "supervisor"} & set(rights)) and (not until or day <= until)

    def step(self, address: str) -> Step | None:
        """The step of that address, one of its pairs of pins named behind it or not."""
        return self.by_address.get(address) or self.by_address.get(address.partition("/")[0])

    # What it takes to show something -------------------------------------------------------------------------------

    def is_fit(self, step: Step, role: str) -> bool:
        """Whether the step can show it, whatever its author wrote."""
        if role == "limited power":
            drawn = step.function in ("AC current", "power") and step.accept == "from wiring"
            return step.supply == "limited" and step.kind == "measure" and drawn
        if role != "mains" and step.live:
            return False
        return FIT.get(role, lambda _files, _step: True)(self, step)

    def showing(self, role: str) -> list[Step]:
        """Every step of the route and its way back that is fit to show it."""
        return [step for step in (*self.steps, *self.way_back) if role in step.shows]

    # The design ----------------------------------------------------------------------------------------------------

    @cached_property
    def metal(self) -> frozenset[str]:
        """Bare metal that can be touched, by its name in the design."""
        return frozenset(self.design.get("points", {}))

    @cached_property
    def earthed(self) -> frozenset[str]:
        """Bare metal at which a protective conductor ends."""
        ends = {end for kind, part in self.parts.values() if kind == "earth" for end in part["between"]}
        return self.metal & ends

    @cached_property
    def parts(self) -> dict[str, tuple[str, Mapping[str, Any]]]:
        """Every part by its own name: what it is, and what its file says."""
        return {part[kind]: (kind, part) for part in self.design["circuit"] for kind in [next(iter(part))]}

    @cached_property
    def mains_pins(self) -> dict[str, str]:
        """Node of L, N and E of the plug, by letter."""
        plug = self._mains_plug
        return {letter: f"{plug}.{letter}" for letter in "LNE"}

    @cached_property
    def _mains_plug(self) -> str:
        at = self.design.get("supply", {}).get("at")
        mains = [
            one for one, kind in self.design["connectors"].items() if alike(self.connectors[kind].get("mains"), True)
        ]
        return at[0].partition(".")[0] if at else mains[0]

    @cached_property
    def outputs(self) -> frozenset[str]:
        """Connectors at which no mains comes in."""
        kinds = self.design["connectors"].items()
        return frozenset(one for one, kind in kinds if not alike(self.connectors[kind].get("mains"), True))

    def _joins(self) -> Iterator[tuple[str, str, str]]:
        for name, (kind, part) in self.parts.items():
            if kind == "switch":
                for position in part["positions"].values():
                    yield from ((name, pair[0], pair[1]) for pair in position)
            elif kind != "barrier":
                yield (name, *part["between"])
                yield from ((name, part["between"][0], tap["at"]) for tap in part.get("taps", ()))

    @cached_property
    def mains_nodes(self) -> frozenset[str]:
        """Every node that hangs together with live or neutral."""
        return self.hanging_with({self.mains_pins["L"], self.mains_pins["N"]})

    @cached_property
    def ends(self) -> frozenset[str]:
        """Every node at which a part ends."""
        return frozenset(str(end) for _, a, b in self._joins() for end in (a, b))

    def hanging_with(self, nodes: set[str], but: frozenset[str] = frozenset()) -> frozenset[str]:
        """These nodes and every other that hangs together with one of them, through no part of `but`."""
        reached, size = set(nodes), 0
        while size != len(reached):
            size = len(reached)
            reached |= {end for part, a, b in self._joins() if part not in but and {a, b} & reached for end in (a, b)}
        return frozenset(reached)

    @cached_property
    def on_the_mains_side(self) -> frozenset[str]:
        """Parts whose fault touches the supply: on live and neutral, every earth, and what keeps mains in."""
        found = {name for name, a, _ in self._joins() if a in self.mains_nodes}
        plugs = {node.partition(".")[0] for node in self.mains_nodes}
        for name, (kind, part) in self.parts.items():
            barrier = kind == "barrier" and plugs & {str(one).partition(".")[0] for one in part["between"]}
            if kind == "earth" or barrier:
                found.add(name)
        return frozenset(found)

    @cached_property
    def touched_by_mains(self) -> bool:
        """Whether an output or bare metal hangs together with live or neutral, by more than a filter's capacitor."""
        mains, small = {self.mains_pins["L"], self.mains_pins["N"]}, self._filter_capacitors
        reached = self.hanging_with(mains, but=small)
        return any(node in self.metal or node.partition(".")[0] in self.outputs for node in reached)

    @cached_property
    def _filter_capacitors(self) -> frozenset[str]:
        """Capacitors that all together pass less than earthed metal (EN 50699) or a hand (IEC 61140) may carry."""
        farads = {name: part["capacitance"] for name, (kind, part) in self.parts.items() if kind == "capacitor"}
        supply = self.design.get("supply", {"voltage": "0 V"})
        volts, hertz = (float(supply.get(one, "50 Hz").split()[0]) for one in ("voltage", "frequency"))
        amperes = sum(2 * 3.14159265 * hertz * 1.1 * volts * _largest(written) for written in farads.values())
        return frozenset(farads) if amperes <= (0.0035 if self.earthed == self.metal else 0.0005) else frozenset()

    @cached_property
    def positions(self) -> tuple[str, ...]:
        """Where the voltage selector can stand, the usual position first."""
        for kind, part in self.parts.values():
            if kind == "switch" and alike(part.get("selector"), True):
                usual = part.get("usual", next(iter(part["positions"])))
                return (usual, *(one for one in part["positions"] if one != usual))
        return ()

    def bears(self, made_for: str) -> str:
        """Whether what is made for "240 V" or "100-240 V" bears this place's mains: "too much", "too little", or ""."""
        low, high, top = *_ends(made_for), round(self._highest_mains(), 6)
        return "too much" if round(high * 1.1, 6) < top else "too little" if round(low * 0.9, 6) > top else ""

    def burns(self, made_for: str) -> bool:
        """Whether it is too far off to be accepted: not even 15 % over reaches the top, or all is too little."""
        high = _ends(made_for)[1]
        return round(high * 1.15, 6) < round(self._highest_mains(), 6) or self.bears(made_for) == "too little"

    def _highest_mains(self) -> float:
        mains = self.limits["mains"]
        return float(mains["nominal"]["value"]) * (100 + float(mains["above"]["value"])) / 100

    def home(self, part: str) -> frozenset[str]:
        """What is opened by any work on that part; nothing where nobody knows it."""
        if part not in self.parts:
            outside = {"cord": "cord", "plug": "plug", "case": "enclosure", "cover": "enclosure"}
            return frozenset({outside[part]} if part in outside else ())
        kind, written = self.parts[part]
        if kind == "fuse" and written.get("place") == "plug":
            return frozenset({"plug"})
        return frozenset({"cord" if alike(written.get("cord core"), True) else "enclosure"})

    @cached_property
    def facts(self) -> dict[str, object]:
        """What the design says of every unit."""
        kinds = [(kind, part) for kind, part in self.parts.values()]
        cord, plug = self.design.get("cord", {}), self.design.get("plug", "none")
        return {
            "class": self.design["class"],
            "plug": plug,
            "live chassis": alike(self.design.get("live chassis"), True),
            "bare metal": alike(self.design.get("bare metal"), True),
            "surge suppressor": alike(self.design.get("surge suppressor"), True),
            "heating": self.design.get("supply", {}).get("kind of load") == "heater",
            "mains fed": "supply" in self.design,
            "voltage selector": any(kind == "switch" and alike(p.get("selector"), True) for kind, p in kinds),
            "internal fuse": any(kind == "fuse" and p.get("place") != "plug" for kind, p in kinds),
            "detachable lead": alike(cord.get("detachable"), True),
            "plug fuse": plug != "none" and "fuses" in self.limits,
            "holds charge": "capacitor" in {kind for kind, _ in kinds} or alike(self.design.get("design known"), False),
            "design": self.design["equipment"],
            **{f"cord {key}": value for key, value in cord.items() if key != "detachable"},
        }


def _limited_to(step: Step, most: float) -> bool:
    found = re.fullmatch(r"at most ([0-9.]+) ohm", step.accept)
    return found is not None and float(found[1]) <= most


def _can_fail(step: Step) -> bool:
    """Whether an answer given by hand can keep mains away at all."""
    if step.kind == "ask" and "value" not in step.written:
        bad = [one for one in step.written.get("answers", ()) if one.get("judgement") == "fail"]
        return bool(bad) and all(one.get("grave") != "note" for one in bad)
    if step.kind == "ask":
        return bool(step.accept) and step.written.get("grave") != "note"
    return all(point.get("grave") != "note" for point in step.written.get("checkpoints", ()))


def _setting_asked(_files: Files, step: Step) -> bool:
    """The position itself is told, so that it can be held against the mains; nothing said beside it may be good."""
    told = step.written.get("answers from") == "selector" and step.written.get("fact") == "selector setting"
    beside = step.written.get("answers", ())
    a_note = "note" in (step.written.get("grave"), *(one.get("grave") for one in beside))
    return told and not a_note and all(one.get("judgement") == "fail" for one in beside)


def _ends(made_for: str) -> tuple[float, float]:
    """The lowest and the highest of the voltages that stand in it."""
    said = [float(one) for one in re.findall(r"[0-9.]+", made_for)]
    return min(said), max(said)


def looks(step: Step) -> bool:
    """Whether something is looked at on every unit that is graver than a note."""
    points = step.written.get("checkpoints", ())
    return any(one.get("grave") != "note" and not {"may not apply", "when"} & set(one) for one in points)


def _by_hand(_files: Files, step: Step) -> bool:
    return step.kind in BY_HAND and _can_fail(step)


def _between(step: Step, *ends: str) -> bool:
    return step.kind == "measure" and len(step.at) == 2 and set(step.at) == set(ends)


def _earth(files: Files, step: Step) -> bool:
    at_metal = bool(set(step.at) & files.metal)
    return (
        step.function == "earth continuity"
        and step.accept == "limit earth-continuity"
        and (at_metal and "supply.E" in step.at)
    )


def _insulation(_files: Files, step: Step) -> bool:
    whole = {"switch on", "fuse in", "L and N joined"} <= set(step.set_up)
    opens = any(one.endswith((" off", " out")) for one in step.set_up)
    ends = len(set(step.at) & {"supply.L", "supply.N"}) == 1 and "supply.E" not in step.at
    return step.function == "insulation" and step.accept == "limit insulation" and whole and not opens and ends


def _primary(_files: Files, step: Step) -> bool:
    whole = {"switch on", "fuse in"} <= set(step.set_up)
    good = step.function in OHMS and step.accept == "from wiring"
    return _between(step, "supply.L", "supply.N") and good and whole


def _polarity(_files: Files, step: Step) -> bool:
    pins = len(set(step.at)) == 2 and set(step.at) <= {"supply.L", "supply.N", "supply.E"}
    isolation = re.fullmatch(r"at least ([0-9.]+) Mohm", step.accept)
    good = step.accept == "from wiring" or (isolation is not None and float(isolation[1]) >= 1)
    return step.function in OHMS and pins and good


def _low(_files: Files, step: Step) -> bool:
    both = step.function == "DC voltage" and step.written.get("also") == "AC voltage"
    whole = {"switch on", "fuse in"} <= set(step.set_up)
    return both and whole and step.accept == "limit voltage-low" and _between(step, "supply.L", "supply.N")


FIT: dict[str, Callable[[Files, Step], bool]] = {
    "visual": lambda _files, step: step.kind == "inspect" and looks(step),
    "plug": _by_hand,
    "selector": _setting_asked,
    "internal fuse": _by_hand,
    "dry": _by_hand,
    "plug out": _by_hand,
    "discharged": lambda _files, step: step.kind == "wait",
    "polarity": _polarity,
    "earth continuity": _earth,
    "insulation": _insulation,
    "primary continuity": _primary,
    "leads proved": lambda _files, step: step.function in OHMS and _limited_to(step, 2.0),
    "voltage low": _low,
}
"""By what is shown: whether a step is of the kind that can show it."""


def _largest(capacitance: str) -> float:
    """Farads that "4.7 nF ± 10 %" may be at most; 20 % where the file is silent (common practice, no source)."""
    value, _, percent = capacitance.partition("±")
    number, unit = value.split()
    scale = {"p": 1e-12, "n": 1e-9, "µ": 1e-6, "u": 1e-6, "m": 1e-3, "F": 1.0}[unit[0]]
    return float(number) * scale * (1 + float(percent.strip(" %") or 20) / 100)
