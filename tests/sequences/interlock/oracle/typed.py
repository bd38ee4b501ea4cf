"""What an answer is worth, worked out from the words of whoever gave it: good, near its limit, or bad.

One-sided: "good" may be said too easily, "near" and "bad" never. A meter's doubt is taken at 0.8 of its stated
accuracy, which is less than any honest account of it; a primary's band is widened by all that contacts may add.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from tests.sequences.interlock.oracle.files import NUMBER, OHMS, Files, Step, alike

GOOD, NEAR, BAD = "good", "near", "bad"
SCALE = {"G": 1e9, "M": 1e6, "k": 1e3, "": 1.0, "m": 1e-3, "µ": 1e-6}
UNIT_OF = {"insulation": "Mohm"}
"""what a bare number means where a meter's face shows no plain ohm, volt or ampere"""
READING = re.compile(r"(?P<more>[<>]?)\s*(?P<number>-?[0-9]+(?:\.[0-9]+)?(?:e[+-]?[0-9]+)?)\s*(?P<unit>\S*)")
DOUBT = 0.8
COPPER = 0.00393
"""per kelvin at 20 °C, IEC 60228 Annex B"""
COOLEST, WARMEST = 15.0, 35.0
"""°C of a room whose warmth nobody asked for"""
CONTACT = 1.0
"""ohm that a fuse, a switch or a plug's contact may add at most (common practice, no source)"""
OPEN_AT_LEAST = 1e6
"""ohm between what nothing joins, the least that a barrier of any shipped design states"""


@dataclass(frozen=True, kw_only=True)
class Told:
    """One thing that happened, as a person told it; `files` are those in force then."""

    number: int
    kind: str
    at: str
    by: str
    address: str
    said: Mapping[str, Any] = field(default_factory=dict)
    files: Files

    @cached_property
    def step(self) -> Step | None:
        """The step that it belongs to, by the files of the time."""
        return self.files.step(self.address)

    @cached_property
    def who(self) -> str:
        """The person, however the initials were typed."""
        return "".join(one for one in self.by.lower() if one.isalnum())


@dataclass(frozen=True, kw_only=True)
class Reading:
    """A value in SI units; `over` says that it was more than that, or over the range."""

    value: float
    over: bool = False


def quantity(text: str) -> float:
    """The value of "0.75 mm²", "240 V" or "3 A" in its plain unit (mm² stay mm²)."""
    found = READING.match(text.strip())
    assert found is not None, text
    return float(found["number"]) * _scale(found["unit"])


def _scale(unit: str) -> float:
    if unit in ("", "m", "mm²", "%"):
        return 1.0
    return SCALE.get(unit[0], 1.0) if len(unit) > 1 and unit not in ("ohm",) else 1.0


def reading(text: str, function: str) -> Reading | None:
    """What the typed text says, None where it says no number."""
    if text.strip() == "OL":
        return Reading(value=0.0, over=True)
    found = READING.fullmatch(text.strip())
    if found is None:
        return None
    unit = found["unit"] or UNIT_OF.get(function, "")
    return Reading(value=float(found["number"]) * _scale(unit), over=found["more"] == ">")


def through_leads_over(told: Told) -> bool:
    """Whether it says "over the range", where a broken lead would say the same."""
    step = told.step
    if step is None or "typed" not in told.said or step.function not in (*OHMS, "earth continuity", "insulation"):
        return False
    shown = reading(told.said["typed"], step.function)
    return shown is not None and shown.over


def doubt(files: Files, meter: str, function: str, value: float) -> float:
    """Half of the span in which the true value lies, from the meter's own accuracy; less than an honest account."""
    record = files.meters.get(meter, {}).get("functions", {}).get(function)
    if record is None:
        return 0.0
    ranges = sorted(record["ranges"], key=lambda one: quantity(one["to"]))
    on = next((one for one in ranges if quantity(one["to"]) >= abs(value)), ranges[-1])
    stated = on["accuracy"]
    stated = next(iter(stated.values())) if isinstance(stated, dict) else stated
    share, counts = (float(one) for one in NUMBER.findall(stated)[:2])
    return DOUBT * (share / 100 * abs(value) + counts * quantity(on["resolution"]))


def worth(told: Told, files: Files, facts: Mapping[str, object]) -> str:
    """What the answer is worth at the step as these files ask it, on a unit with these facts."""
    step = files.step(told.address)
    if step is None:
        return BAD
    if step.kind == "inspect":
        return _marks(step, told.said.get("marks", {}))
    if step.written.get("answers from") == "selector" and told.said.get("answer", "").strip() in files.positions:
        return BAD if files.burns(told.said["answer"]) else GOOD
    if step.kind == "ask" and "value" not in step.written:
        chosen = [one for one in step.written["answers"] if alike(one["answer"], told.said.get("answer", "").strip())]
        return GOOD if chosen and chosen[0].get("judgement") != "fail" else BAD
    if step.kind == "ask":
        return _fuse(files, told.said.get("answer", "")) if step.accept == "from fuse rules" else GOOD
    if step.kind in ("measure", "probe"):
        return _measured(files, step, told, facts)
    return GOOD


def is_far_off(told: Told, files: Files, facts: Mapping[str, object]) -> bool:
    """Whether a reading is so bad that no doubt of any meter explains it."""
    step, meter = files.step(told.address), told.said.get("meter", "")
    shown = reading(told.said["typed"], step.function) if step is not None else None
    if step is None or shown is None or step.accept == "":
        return False
    published = step.accept.startswith("limit ")
    low, high = _published(files, step.accept, facts) if published else _own_band(files, step, facts)
    margin = -3 / DOUBT * doubt(files, meter, step.function, shown.value)
    capable = not published or _is_capable(files, meter, step.function, low, high)
    return capable and not shown.over and _held(shown, low, high, margin, outside=True) == BAD


def is_far_above(told: Told, files: Files, facts: Mapping[str, object]) -> bool:
    """Whether a current was read under power that no sound one draws, whatever its meter is worth."""
    step = files.step(told.address)
    shown = reading(told.said["typed"], step.function) if step is not None else None
    if step is None or shown is None or step.accept != "from wiring":
        return False
    _, high = _own_band(files, step, facts)
    return high is not None and high > 0 and (shown.over or shown.value > 1.5 * high)


def _marks(step: Step, marks: Mapping[str, str]) -> str:
    points = {point["check"]: point for point in step.written.get("checkpoints", ())}
    if not marks:
        return BAD
    bad = [name for name, mark in marks.items() if mark == "bad" and points.get(name, {}).get("grave") != "note"]
    return BAD if bad else GOOD


def _fuse(files: Files, typed: str) -> str:
    """The maker's rating comes first, and no other is right."""
    wanted = [part["rating"] for kind, part in files.parts.values() if kind == "fuse" and part.get("place") == "plug"]
    found = NUMBER.match(typed)
    return GOOD if found and (not wanted or float(found[0]) == quantity(wanted[0])) else BAD


def _measured(files: Files, step: Step, told: Told, facts: Mapping[str, object]) -> str:
    meter, shown = told.said.get("meter", ""), reading(told.said["typed"], step.function)
    if shown is None or step.function not in files.meters.get(meter, {}).get("functions", {}):
        return BAD
    if step.accept.startswith("limit "):
        low, high = _published(files, step.accept, facts)
        low = _with_barrier(files, step, low) if step.function == "insulation" else low
        held = _held(shown, low, high, doubt(files, meter, step.function, shown.value))
        capable = held == GOOD or _is_capable(files, meter, step.function, low, high)
        return _held(shown, low, high, 0.0) if capable else BAD
    low, high = _own_band(files, step, facts)
    margin = 0.0 if step.function in ("AC current", "power") else doubt(files, meter, step.function, shown.value)
    return _held(shown, low, high, margin)


def _held(shown: Reading, low: float | None, high: float | None, margin: float, *, outside: bool = False) -> str:
    if shown.over:
        return BAD if high is not None else GOOD
    below, above = -float("inf") if low is None else low, float("inf") if high is None else high
    if outside:
        return GOOD if below + margin <= shown.value <= above - margin else BAD
    if not below <= shown.value <= above:
        return BAD
    return GOOD if below + margin <= shown.value <= above - margin else NEAR


def _figure(limits: Mapping[str, Any], *path: str) -> float:
    for key in path:
        limits = limits[key]
    return float(limits["value"]) * _scale(limits["unit"])


def _published(files: Files, accept: str, facts: Mapping[str, object]) -> tuple[float | None, float | None]:
    """The limit of the region's table, for a unit of this class and this cord."""
    limits = files.limits
    if accept == "limit earth-continuity":
        each = limits["conductors"]["plain"]["values"]
        area, length = quantity(str(facts["cord area"])), quantity(str(facts["cord length"]))
        own = next(float(ohms) for size, ohms in each.items() if abs(quantity(size) - area) < 1e-9) * length / 1000
        return None, _figure(limits, "earth continuity", "base") + own
    if accept == "limit insulation":
        by_class = limits["insulation"]["minimum"]
        least = by_class.get(str(facts["class"]), by_class["II"])
        return _figure({"one": least}, "one"), None
    if accept == "limit voltage-low":
        low = _figure(limits, "voltage low")
        return -low, low
    if accept in ("limit protective-conductor-current", "limit touch-current"):
        by_class = limits[accept.removeprefix("limit ").replace("-", " ")]["by class"]
        return None, _figure(by_class, str(facts["class"]))
    nominal = _figure(limits, "mains", "nominal")
    ends = (1 - _figure(limits, "mains", "below") / 100, 1 + _figure(limits, "mains", "above") / 100)
    return nominal * ends[0], nominal * ends[1]


def _with_barrier(files: Files, step: Step, least: float | None) -> float | None:
    """The most that the table or a barrier of the design asks between what was read."""
    kept = {end.partition(".")[0] for end in step.at}
    sides = {**dict.fromkeys(("mains", files.mains_pins["L"].partition(".")[0]), "supply")}
    stated = [least or 0.0]
    for kind, part in files.parts.values():
        if kind == "barrier" and {sides.get(end, end) for end in part["between"]} == kept:
            stated.append(quantity(part.get("at least", "1 Mohm")))
    return max(stated)


def unmetered(files: Files, step: Step) -> bool:
    """Whether it reads a leakage current and the workshop has no meter for that: the tag names it as not tested."""
    leaks = step.function in ("touch current", "protective conductor current")
    return leaks and not any(step.function in one["functions"] for one in files.meters.values())


def _is_capable(files: Files, meter: str, function: str, low: float | None, high: float | None) -> bool:
    """A meter whose doubt is too large a share of the limit cannot tell good from bad."""
    limit = low if high is None else high
    return limit is None or doubt(files, meter, function, limit) <= _figure(files.limits, "capability") / 100 * abs(
        limit
    )


def _own_band(files: Files, step: Step, facts: Mapping[str, object]) -> tuple[float | None, float | None]:
    """What its author accepts, or what the design's circuit gives between two pins of the mains plug."""
    found = re.fullmatch(r"(at most|at least) (.+)", step.accept)
    if found:
        limit = quantity(found[2])
        return (None, limit) if found[1] == "at most" else (limit, None)
    if step.accept != "from wiring":
        return None, None
    if step.function in ("AC current", "power"):
        rated = quantity(files.design["supply"]["power"]) / quantity(files.design["supply"]["voltage"])
        return _first_power(files, facts) if step.supply == "limited" else (0.0, 1.4 * rated)
    if set(step.at) == {"supply.L", "supply.N"} and "fuse out" not in step.set_up:
        return _primary(files)
    return (OPEN_AT_LEAST, None) if set(step.at) <= {"supply.L", "supply.N", "supply.E"} else (None, None)


NO_LOAD = ((2, 1.0), (5, 0.8), (10, 0.6), (20, 0.5), (50, 0.35), (100, 0.3), (300, 0.2))
"""largest share of its rated current that a transformer of so many VA draws without load; from memory"""
UNSEEN = 0.001


def _first_power(files: Files, facts: Mapping[str, object]) -> tuple[float, float]:
    """What passes the limiter that was named: at most what a sound one draws, never near what a short would."""
    supply, mains = files.design["supply"], _figure(files.limits, "mains", "nominal")
    kinds = {kind for kind, _ in files.parts.values()}
    rated = quantity(supply["power"]) / quantity(supply["voltage"])
    smaller = [share for size, share in NO_LOAD if size <= quantity(supply["power"])]
    most = rated * (1.1 if kinds & {"diode", "resistor", "capacitor"} else smaller[-1] if smaller else 1.0)
    sort, watts, volts = (str(facts.get(name, "")) for name in ("limiter", "limiter lamp", "limiter volts"))
    if alike(sort, "lamp") and NUMBER.match(watts):
        short = float(NUMBER.findall(watts)[0]) / mains
        return (UNSEEN, min(most, 0.5 * short)) if most <= 0.5 * short else (1.0, 0.0)
    if alike(sort, "variable transformer") and NUMBER.match(volts):
        return 0.0, most * float(NUMBER.findall(volts)[0]) / mains
    return 1.0, 0.0


def _primary(files: Files) -> tuple[float, float]:
    """The winding that the supply feeds, from a cool room to a warm one, and all contacts before it."""
    feeds = [
        part for kind, part in files.parts.values() if kind == "winding" and "supply" in part.get("rated", "supply")
    ]
    feeds = feeds or [part for kind, part in files.parts.values() if kind == "resistor"]
    ohms, tolerance = (float(one) for one in NUMBER.findall(feeds[0]["resistance"])[:2])
    contacts = sum(kind in ("fuse", "switch") for kind, _ in files.parts.values())
    low = ohms * (1 - tolerance / 100) * (1 + COPPER * (COOLEST - 20))
    return low, ohms * (1 + tolerance / 100) * (1 + COPPER * (WARMEST - 20)) + CONTACT * contacts
