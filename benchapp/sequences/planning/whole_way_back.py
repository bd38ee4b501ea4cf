"""What a way back reads on one design before hands come near it, and what one leaves out.

A file of another id may have a way back of its own, never a shorter one: mains and stored charge are where the design
has them. Read all round, and with an instrument that is proved again after its last reading: HSE GS38, 4th ed. 2015.
"""

from collections.abc import Iterator, Sequence
from itertools import chain

from benchapp.judgement.meters.functions import Function
from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.paths import Ends, Path, ends_of
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.wiring.model.circuit import Circuit

LOW = "limit voltage-low"
WORK = "work"
QUIET = (WORK, "wait")
"""kinds of step that may stand on a way back beside its readings"""
SWITCHED_ON, SWITCHED_OFF = frozenset({"switch on", "fuse in"}), frozenset({"switch off", "fuse in"})
AS_SET_UP = {
    Path.past_the_switch: SWITCHED_OFF,
    Path.live_to_touched: SWITCHED_ON,
    Path.across_outputs: SWITCHED_ON,
    Path.across_reservoirs: frozenset[str](),
}
"""The paths along which every design is read, each with the set-up without which the reading shows nothing."""


def left_out(circuit: Circuit, way_back: Sequence[PlannedStep]) -> str:
    """What this way back does not do on this design, or does too soon, for a sentence; empty where it is whole."""
    return next(chain(_too_soon(way_back), _unread(circuit, way_back), _unproved(way_back)), "")


def _too_soon(way_back: Sequence[PlannedStep]) -> Iterator[str]:
    """The plug comes out first, and until all is read nobody looks in or reads anything but that it is low."""
    if not way_back or Role.plug_out not in way_back[0].shows:
        yield "its first step is not that the plug comes out"
    for step in way_back:
        low = step.function is Function.dc_voltage and step.accept == LOW
        if step.opens or not (low or step.kind in QUIET):
            yield f"{step.address} is no work, no wait and no voltage that is proved low"


def _unread(circuit: Circuit, way_back: Sequence[PlannedStep]) -> Iterator[str]:
    for path, set_up in AS_SET_UP.items():
        for ends in ends_of(circuit, path):
            if not any(_reads(step, ends, path, set_up) for step in way_back):
                yield f"{_where(circuit, ends, path)} (path: {path})"


def _where(circuit: Circuit, ends: Ends, path: Path) -> str:
    if path.is_inside:
        return f"nothing is read across {circuit.part_names[ends.part]}"
    return f"{circuit.say(ends.a)} is not read against {circuit.say(ends.b)}"


def _reads(step: PlannedStep, ends: Ends, path: Path, set_up: frozenset[str]) -> bool:
    """Whether it reads these ends down to the limit on every unit; outside the case on DC and on AC."""
    both = path.is_inside or getattr(step.model, "also", "") == Function.ac_voltage
    low = step.function is Function.dc_voltage and step.accept == LOW and both
    there = set(step.terminals) == {ends.a, ends.b} and step.inside == path.is_inside
    return low and there and not step.when and set_up <= set(step.set_up)


def _unproved(way_back: Sequence[PlannedStep]) -> Iterator[str]:
    """Work, as on the meter, comes after the last reading on every unit."""
    if not way_back or way_back[-1].kind != WORK or way_back[-1].when:
        yield "the meter is not proved again after its last reading"
