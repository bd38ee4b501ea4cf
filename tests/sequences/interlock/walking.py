"""Walks along whole routes on which all is good but what a test spoils."""

from collections.abc import Collection
from functools import cache
from typing import Any

import pytest

from tests.sequences.interlock.careless import NEAR
from tests.sequences.interlock.watched import (
    METERS,
    Edit,
    EntryKind,
    ReadingAnswer,
    Refused,
    Watched,
    Workplace,
    make_workplace,
)

ISOLATING = """
equipment: isolating
title: Isolating transformer for site tools
class: I
supply: {voltage: 240 V, frequency: 50 Hz, power: 60 VA}
cord: {length: 2 m, area: 0.75 mm², cores: 3}
plug: rewirable
bare metal: true
connectors: {plug: gb-13a-plug, output: binding-posts-2}
points: {case: bare metal of the case}
circuit:
  - {fuse: plug-fuse, between: [plug.L, cord.L], rating: 3 A, place: plug}
  - {link: cord-live, between: [cord.L, mains.L], cord core: true}
  - {link: cord-neutral, between: [plug.N, mains.N], cord core: true}
  - {earth: cord-earth, between: [plug.E, chassis], cord core: true}
  - {earth: case-bond, between: [chassis, case]}
  - {winding: primary, between: [mains.L, mains.N], rated: 240 V supply, resistance: 20 ohm ± 10 %}
  - {winding: secondary, between: [output.red, output.black], rated: 110 V at 0.5 A on load, resistance: 5 ohm ± 15 %}
  - {barrier: mains-to-output, between: [plug, output], at least: 2 Mohm}
  - {barrier: mains-to-case, between: [mains, case], at least: 1 Mohm}
  - {barrier: output-to-case, between: [output, case], at least: 1 Mohm}
"""
"""A made-up design that no route names: an isolating transformer of 240 V to 110 V."""
ROUTES = {
    "class I": ("mains-unit", "tb-mu1"),
    "class II": ("mains-unit", "tb-mu2"),
    "with a selector": ("recorder", "tb-rec1"),
    "isolating": ("mains-item", "isolating"),
}
LIMITED, FULL = "first-power.plug-in", "live-voltage.plug-in"
CLASS_ONE, SELECTOR = "class I", "with a selector"


STAGES_IN_ANY_ORDER = tuple(
    (name, "needs before", "# needs before")
    for name in ("plug-rewire", "continuity", "insulation", "first-power", "live-voltage", "function")
)
"""An author may leave the order out: then the interlock alone keeps mains away."""


def place_of(name: str, edits: tuple[Edit, ...] = (), *, tester: bool = True, ordered: bool = False) -> Workplace:
    """The files of one of ROUTES, with these words changed, and unless `ordered` without the order of stages."""
    more = (("resources/equipment/isolating.yaml", ISOLATING),)
    return make_workplace(*ROUTES[name], (*edits, *(() if ordered else STAGES_IN_ANY_ORDER)), tester=tester, more=more)


@cache
def _ready(name: str, target: str, *, tester: bool) -> Watched:
    unit = Watched.of(place_of(name, tester=tester))
    if not tester:
        unit.go(lambda due: due.kind.value == "shut")
        unit.record(EntryKind.supervisor_opening, "", "MH", reason="a known design")
    unit.go_to(target)
    return unit


def ready(name: str, target: str = LIMITED, *, tester: bool = True) -> Watched:
    """A unit of one of ROUTES with all that is needed before that step, and nothing more."""
    return _ready(name, target, tester=tester).copy()


def topics(complaints: list[str]) -> set[str]:
    """What the oracle's complaints are about."""
    return {one.partition(":")[0] for one in complaints}


def against(unit: Watched, address: str) -> list[str]:
    """What the oracle has against answering that step well now."""
    step = unit.plan.step(address)
    said: dict[str, Any] = {"done": [], "marks": {"one": "good"}}
    if step.function:
        said = {"typed": unit.good_reading(step), "meter": METERS[step.function]}
    return unit.against("answer", address, **said)


def well(unit: Watched, address: str) -> None:
    """Answer that step well, and do nothing else."""
    unit.answer(address, unit.good(unit.plan.step(address)))


def prepare(unit: Watched, address: str) -> None:
    """Caution, meter and set-up of that step."""
    step = unit.plan.step(address)
    cautions = () if address == "make-safe.unplug" else unit.plan.stage(step.stage).cautions
    for caution in cautions:
        if not unit.has_read(caution):
            unit.record(EntryKind.caution, caution=caution)
    if step.function and not unit.holds(METERS[step.function]):
        unit.hold(METERS[step.function])
    asked = unit.set_up_for(address)
    if asked:
        unit.record(EntryKind.set_up, address, items=list(asked))
    if step.kind == "wait":
        unit.wait(seconds=step.lasts)


def take(unit: Watched, address: str, typed: str = "") -> Any:
    """Answer that step well, or with that reading, after all that it asks for."""
    step = unit.plan.step(address)
    prepare(unit, address)
    given = ReadingAnswer(typed=typed, meter=METERS[step.function]) if typed else unit.good(step)
    return unit.answer(address, given)


def near(unit: Watched, address: str) -> Any:
    """Answer it so near its limit that the meter cannot tell."""
    return take(unit, address, NEAR[address])


def go_back(unit: Watched, *, but: str = "") -> None:
    """Go the way back, without one of its steps where one is named."""
    if not unit.holds("tb-m1"):
        unit.hold("tb-m1")
    unit.record(EntryKind.caution, caution="stored-charge")
    for step in unit.plan.way_back:
        if step.address != but and not step.inside and unit.state.steps[step.address].status.value != "skipped":
            take(unit, step.address)


def dead_steps(unit: Watched) -> list[str]:
    """Addresses of the steps before the first live one that are for this unit, pins of probes too."""
    first = next(step.position for step in unit.plan.steps if unit.files.step(step.address).live)
    states = unit.state.steps
    return [s.address for s in unit.plan.steps if s.position < first and states[s.address].status.value != "skipped"]


def retake(unit: Watched, *, but: Collection[str] = ()) -> None:
    """Take every dead step again in its order, but these."""
    for address in dead_steps(unit):
        step = unit.plan.step(address)
        if address in but or address.partition("/")[0] in but or address == "plug-rewire.rewire":
            continue
        if unit.state.energised and step.function != "insulation":
            go_back(unit)
        take(unit, address)
    if unit.state.energised:
        go_back(unit)


def make_ready(unit: Watched) -> None:
    """Read the caution and take the meters: all that is left before mains."""
    unit.record(EntryKind.caution, caution="mains-live")
    unit.hold("tb-pm1")
    unit.hold("tb-m1")


def withdraw(unit: Watched, address: str) -> None:
    """Take the last answer there back."""
    entry = [e for e in unit.entries if e.address == address and e.kind is EntryKind.answer][-1]
    unit.withdraw(entry)


def try_to(act: Any) -> None:
    """Try it; the program may refuse."""
    try:
        act()
    except Refused:
        return


def assert_shut(unit: Watched, target: str, *conditions: str) -> None:
    """The oracle misses these conditions and nothing else, and the program refuses."""
    assert topics(against(unit, target)) == set(conditions), against(unit, target)
    with pytest.raises(Refused):
        well(unit, target)


def assert_open(unit: Watched, target: str) -> None:
    """The oracle misses nothing, and the program lets it be done."""
    assert against(unit, target) == []
    well(unit, target)
