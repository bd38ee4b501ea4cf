"""What a way back reads on one design before hands come near it, and what one leaves out.

A file of another id may have a way back of its own, never a shorter one: mains and stored charge are where the design
has them. Read all round, and with an instrument that is proved again after its last reading: HSE GS38, 4th ed. 2015.
"""

from collections.abc import Iterator, Sequence

from benchapp.judgement.meters.functions import Function
from benchapp.sequences.planning.paths import Ends, Path, ends_of
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.wiring.model.circuit import Circuit

LOW = "limit voltage-low"
SWITCHED_ON, SWITCHED_OFF = frozenset({"switch on", "fuse in"}), frozenset({"switch off", "fuse in"})
AS_SET_UP = {
    Path.past_the_switch: SWITCHED_OFF,
    Path.live_to_touched: SWITCHED_ON,
    Path.across_outputs: SWITCHED_ON,
    Path.across_reservoirs: frozenset[str](),
}
"""The paths along which every design is read, each with the set-up without which the reading shows nothing."""


def left_out(circuit: Circuit, way_back: Sequence[PlannedStep]) -> str:
    """What this way back does not do on this design, for a sentence; empty where it does it all."""
    read = next(_unread(circuit, way_back), "")
    return read or ("" if _proves_again(way_back) else "the meter is not proved again after its last reading")


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


def _proves_again(way_back: Sequence[PlannedStep]) -> bool:
    """Whether work, as on the meter, comes after the last reading on every unit."""
    return bool(way_back) and way_back[-1].kind == "work" and not way_back[-1].when
