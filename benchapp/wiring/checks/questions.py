"""What in an equipment file is so far from what the trade makes that it is asked about; it may still be right.

The ranges are wide: common practice, no source, where a line does not name one.
"""

import re
from collections.abc import Iterator

from benchapp.files.locations import Key
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.assembly.ratings import Winding, is_primary
from benchapp.wiring.kinds.barrier import BarrierPart
from benchapp.wiring.kinds.capacitor import CapacitorPart
from benchapp.wiring.kinds.fuse import FusePart
from benchapp.wiring.kinds.resistor import ResistorPart
from benchapp.wiring.model.circuit import Circuit, Problem
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.groups import groups_of
from benchapp.words import say

PLATE = "Look at it again, and at the letter before the unit."
MEASURED = "Look at it again: its decimal point, and the letter before the unit."
COPPER_SHARE = (0.003, 1.0)
"""of its rating lost in a winding's own copper at the rated current: toroids of 1 kVA 1 %, shaded-pole motors half"""
ELEMENT_DRAWS = (0.5, 20.0)
"""times its plate's power that an element draws by its resistance: tungsten cold is 10 to 16 times below hot"""
USUAL: dict[str, tuple[float, float, Kind]] = {
    "voltage": (6.0, 480.0, Kind.voltage),
    "frequency": (45.0, 65.0, Kind.frequency),
    "power": (0.5, 15e3, Kind.power),
    "length": (0.3, 10.0, Kind.length),
    "area": (0.4e-6, 6e-6, Kind.area),
    "rating": (0.01, 63.0, Kind.current),
    "capacitance": (1e-12, 0.1, Kind.capacitance),
    "at least": (0.1e6, 1e9, Kind.resistance),
}
"""what a plate, a cord, a fuse, a capacitor and a barrier usually say, SI units"""
_MILLIFARAD = re.compile(r"[0-9]\s*mF\b")


def questions_about(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """Everything to ask its author about a design that holds."""
    for key, value in _figures(equipment):
        low, high, kind = USUAL[str(key[-1])]
        if value is not None and not low <= value <= high:
            usual = f"{show(low, kind)} to {show(high, kind)}"
            yield Problem(
                key=key,
                what=say(
                    "is {value} right? Usual is {usual}. {look}", value=show(value, kind), usual=usual, look=PLATE
                ),
            )
    yield from _millifarad(equipment)
    yield from _windings(equipment)
    yield from _elements(equipment, circuit)
    yield from _unearthed_points(equipment, circuit)


def _figures(equipment: Equipment) -> Iterator[tuple[Key, float | None]]:
    """Each figure that has a usual range, by its key."""
    supply, cord = equipment.supply, equipment.cord
    if supply is not None:
        yield ("supply", "voltage"), supply.voltage
        yield ("supply", "frequency"), supply.frequency
        yield ("supply", "power"), supply.power
    if cord is not None:
        yield ("cord", "length"), cord.length
        yield ("cord", "area"), cord.area
    for index, part in enumerate(equipment.circuit):
        key = ("circuit", index)
        match part:
            case FusePart():
                yield (*key, "rating"), part.rating
            case CapacitorPart():
                yield (*key, "capacitance"), part.capacitance.nominal
            case BarrierPart():
                yield (*key, "at least"), part.at_least


def _millifarad(equipment: Equipment) -> Iterator[Problem]:
    """A capacitance in mF: on old parts and in old lists that is microfarad."""
    for index, part in enumerate(equipment.circuit):
        if (
            isinstance(part, CapacitorPart)
            and _MILLIFARAD.search(part.capacitance.stated)
            and part.capacitance.nominal < 0.1
        ):
            value = show(part.capacitance.nominal, Kind.capacitance)
            yield Problem(
                key=("circuit", index, "capacitance"),
                what=say(
                    "is “{stated}” right? It is {value}, and mF on an old part means µF. Write it in µF.",
                    stated=part.capacitance.stated,
                    value=value,
                ),
            )


def _windings(equipment: Equipment) -> Iterator[Problem]:
    """Windings whose copper would lose next to nothing, or more than all, of what they are rated for."""
    supply = equipment.supply
    if supply is None or supply.power is None:
        return
    for index, part in enumerate(equipment.circuit):
        if not isinstance(part, Winding) or part.resistance is None:
            continue
        volts = supply.voltage if part.rated is None else part.rated.volts
        rated = part.rated.amps if part.rated is not None else None
        most = COPPER_SHARE[1] if is_primary(part) or rated is not None else float("inf")
        share = part.resistance.nominal * (supply.power / volts if rated is None else rated) / volts
        if not COPPER_SHARE[0] <= share <= most:
            yield Problem(
                key=("circuit", index, "resistance"),
                what=say(
                    "is {stated} right for '{part}'? At its rated current {share} % of {volts} would be lost in its "
                    "copper. {look}",
                    stated=part.resistance.stated,
                    part=part.id,
                    share=f"{share * 100:.2g}",
                    volts=show(volts, Kind.voltage),
                    look=MEASURED,
                ),
            )


def _elements(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """Elements across the supply that would draw far more, or all together far less, than the plate says."""
    supply, at = equipment.supply, circuit.supply
    if supply is None or supply.power is None or at is None:
        return
    wired = groups_of(circuit, lambda branch: branch.kind.carries_voltage_on and not branch.kind.protects)
    ends = {wired[at.live], wired[at.neutral]}
    draws = {
        index: (supply.voltage**2 / part.resistance.nominal, part)
        for index, part in enumerate(equipment.circuit)
        if isinstance(part, ResistorPart) and len(ends) == 2 and {wired[node] for node in part.between} == ends
    }
    heats = equipment.kind_of_load is not None and equipment.kind_of_load.value == "heater"
    too_weak = heats and bool(draws) and sum(watts for watts, _ in draws.values()) < ELEMENT_DRAWS[0] * supply.power
    for index, (watts, part) in draws.items():
        if watts > ELEMENT_DRAWS[1] * supply.power or too_weak:
            yield Problem(
                key=("circuit", index, "resistance"),
                what=say(
                    "is {stated} right for '{part}'? On {volts} it draws {watts}, and the plate says {plate}. {look}",
                    stated=part.resistance.stated,
                    part=part.id,
                    volts=show(supply.voltage, Kind.voltage),
                    watts=show(float(f"{watts:.2g}"), Kind.power),
                    plate=show(supply.power, Kind.power),
                    look=MEASURED,
                ),
            )


def _unearthed_points(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """In class I, a point beside the earthed metal that no earth part reaches."""
    if equipment.equipment_class != "I" or not equipment.bare_metal:
        return
    group = groups_of(circuit)
    for point in equipment.points:
        if point not in circuit.exposed and not any(group[point] == group[other] for other in circuit.exposed):
            yield Problem(
                key=("points", point),
                what=say(
                    "is {point} really not earthed? In class I bare metal is: write an 'earth' part that ends at "
                    "'{name}', unless it is insulated from all the rest.",
                    point=circuit.say(point),
                    name=point,
                ),
            )
