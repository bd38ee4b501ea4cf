"""Where the ratings of an equipment file do not agree with each other, with the cord or with the class."""

from collections.abc import Iterator

from benchapp.files.locations import Key
from benchapp.wiring.assembly.ratings import Winding, outputs_of
from benchapp.wiring.kinds.resistor import ResistorPart
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Problem, Toleranced
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.kind_of_load import KindOfLoad

EXTRA_LOW = 50.0  # V AC; BS 7671 / IEC 61140
LEAST_SHARE = 0.25  # of its stated value that a resistance or a current may fall to; common practice, no source
SPARE = 1.1  # outputs together against the plate's power: plates round; common practice, no source


def check_ratings(equipment: Equipment) -> Iterator[Problem]:
    """Every contradiction between ratings that is of no one part."""
    yield from _range(equipment)
    yield from _power(equipment)
    yield from _supply_current(equipment)
    yield from _no_load(equipment)
    yield from _heater(equipment)
    yield from _class(equipment)
    yield from _earth(equipment)
    yield from _wide(equipment)


def _range(equipment: Equipment) -> Iterator[Problem]:
    """Of two voltages on a plate one is that at which its transformer gives what its outputs are rated."""
    if equipment.supply is None or not equipment.supply.volts.is_range:
        return
    for row, part in enumerate(equipment.circuit):
        if isinstance(part, Winding) and part.rated is None and outputs_of(equipment, part.core):
            yield Problem(
                key=("circuit", row, part.kind.name),
                what=f"its plate says {equipment.supply.volts.words}, and nothing says at which of them the outputs "
                "are as they are rated",
                expected=f"'rated: {equipment.supply.voltage:g} V supply' at the winding '{part.id}'",
            )


def _power(equipment: Equipment) -> Iterator[Problem]:
    supply = equipment.supply
    if supply is None or supply.power is None:
        return
    rated = [p.rated for p in equipment.circuit if isinstance(p, Winding) and p.rated is not None]
    outputs = sum(r.volts * (r.amps or 0.0) for r in rated if r.basis != "supply")
    if outputs > SPARE * supply.power:
        yield Problem(
            key=("supply", "power"),
            what=f"the outputs together are rated {outputs:.3g} VA, the supply only {supply.power:.3g} VA",
        )


def _supply_current(equipment: Equipment) -> Iterator[Problem]:
    supply, cord = equipment.supply, equipment.cord
    if cord is not None and cord.length > assumptions.LONGEST_CORD:
        what = f"a cord of {cord.length:g} m makes any earth path look good"
        yield Problem(key=("cord", "length"), what=what, expected=f"at most {assumptions.LONGEST_CORD:g} m")
    amps = supply.current if supply is not None else None
    if amps is None:
        return
    if cord is not None and amps > assumptions.cord_current(cord.area):
        yield Problem(
            key=("cord", "area"),
            what=f"the cord of {cord.area * 1e6:g} mm² carries {assumptions.cord_current(cord.area):g} A, "
            f"the equipment draws {amps:.3g} A (BS 7671 Table 4F3A)",
        )


def _no_load(equipment: Equipment) -> Iterator[Problem]:
    """A sound item draws no more off load than its plate: a larger figure would let a short pass at first power."""
    supply = equipment.supply
    if supply is None or supply.current is None or supply.no_load_current is None:
        return
    amps, idle = supply.current, supply.no_load_current.nominal
    if idle > SPARE * amps:
        yield Problem(
            key=("supply", "no load current"),
            what=f"it is to draw {idle * 1000:.3g} mA off load, and its plate says {amps * 1000:.3g} mA",
            expected="what it draws with nothing on its outputs, less than the plate's own current",
        )


def _heater(equipment: Equipment) -> Iterator[Problem]:
    """A heater goes to mains by its element's resistance, and a winding is none: a short in it would be passed."""
    supply = equipment.supply
    if supply is None or supply.kind_of_load is not KindOfLoad.heater:
        return
    wound = [part for part in equipment.circuit if isinstance(part, Winding) and part.rated is not None]
    primary = next((part for part in wound if part.rated is not None and part.rated.basis == "supply"), None)
    if primary is not None:
        yield Problem(
            key=("supply", "kind of load"),
            what=f"it is to be a heater, and mains goes into the winding '{primary.id}'",
            expected="'kind of load: transformer', or nothing: then it is as its parts show",
        )


def _class(equipment: Equipment) -> Iterator[Problem]:
    """Class III is fed with extra-low voltage (50 V AC at most, IEC 61140), an item of no class with nothing."""
    supply, written = equipment.supply, equipment.equipment_class
    if supply is None or supply.voltage <= EXTRA_LOW:
        return
    says = {"III": "is fed with extra-low voltage", "none": "takes no mains"}
    if written in says:
        what = f"equipment of class {written} {says[written]}, but its supply is {supply.voltage:g} V"
        expected = "class I or II as its rating plate shows, or 'class: unknown'"
        yield Problem(key=("class",), what=what, expected=expected)


def _earth(equipment: Equipment) -> Iterator[Problem]:
    if equipment.equipment_class == "I" and not any(part.kind.protects for part in equipment.circuit):
        yield Problem(
            key=("class",), what="equipment of class I has no earth part", expected="an 'earth' part in the circuit"
        )
    if equipment.equipment_class == "I" and equipment.live_chassis:
        what = "equipment of class I has its metal on earth, and this is to have a live chassis"
        yield Problem(key=("live chassis",), what=what, expected="the class that its circuit shows, or no live chassis")
    cord = equipment.cord
    if equipment.equipment_class == "I" and cord is not None and cord.cores < 3:
        what = f"equipment of class I has a cord of {cord.cores} cores"
        yield Problem(key=("cord", "cores"), what=what, expected="3 cores: live, neutral and earth")


def _wide(equipment: Equipment) -> Iterator[Problem]:
    """What may be nearly nothing says nothing: a shorted winding would read as a good one."""
    stated: list[tuple[Key, Toleranced | None]] = [
        (("circuit", number, "resistance"), part.resistance)
        for number, part in enumerate(equipment.circuit)
        if isinstance(part, Winding | ResistorPart)
    ]
    if equipment.supply is not None:
        stated.append((("supply", "no load current"), equipment.supply.no_load_current))
    for key, value in stated:
        if value is not None and value.low < LEAST_SHARE * value.nominal:
            what = f"“{value.stated}” may be nearly nothing, and what is shorted or open would pass as good"
            yield Problem(key=key, what=what, expected=f"a tolerance of at most ± {100 * (1 - LEAST_SHARE):g} %")
