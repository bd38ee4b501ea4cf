"""Do the ratings of an equipment file agree with each other and with cord, fuse and class?"""

from collections.abc import Iterator, Mapping

from benchapp.wiring.assembly.feeding import feeding
from benchapp.wiring.assembly.ratings import computed_regulation
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Circuit, PartKind, Problem
from benchapp.wiring.model.equipment import Equipment, FusePart, ResistorPart, WindingPart
from benchapp.wiring.model.groups import groups_of

AGREES = (0.5, 2.0)  # stated regulation against what copper alone gives; common practice, no source
ABOVE_CORD = 2.2  # times the cord's current may its fuse be: 13 A with 0.75 mm² is met; common practice, no source
EXTRA_LOW = 50.0  # V AC; BS 7671 / IEC 61140
SPARE = 1.1  # outputs together against the plate's power: plates round; common practice, no source


def check_ratings(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """Every contradiction between ratings."""
    yield from _windings(equipment, feeding(circuit, equipment))
    yield from _power(equipment)
    yield from _supply_current(equipment, circuit)
    yield from _class(equipment)
    yield from _earth(equipment, circuit)
    yield from _core_with_no_supply(equipment)


def _windings(equipment: Equipment, feeds: Mapping[str, float]) -> Iterator[Problem]:
    for index, part in enumerate(equipment.circuit):
        if isinstance(part, WindingPart | ResistorPart) and part.resistance and not part.resistance.nominal:
            what = f"the {part.kind} '{part.id}' has no resistance at all: 0 ohm"
            expected = "what a sound one reads, or a 'link' for a wire"
            yield Problem(key=("circuit", index, "resistance"), what=what, expected=expected)
        if not isinstance(part, WindingPart):
            continue
        if part.resistance is None:
            what = f"the winding '{part.id}' has no resistance, and a dead test reads it"
            yield Problem(key=("circuit", index, part.kind.value), what=what, expected="'resistance: 1.2 ohm ± 15 %'")
        if part.tolerance is not None and part.tolerance >= 1:
            what = f"the turns of '{part.id}' cannot be out by {part.tolerance * 100:.4g} %"
            yield Problem(key=("circuit", index, "tolerance"), what=what, expected="'tolerance: 3 %'")
        yield from _taps(index, part)
        computed = computed_regulation(part, equipment, feeds)
        if part.regulation is None or computed is None:
            continue
        if not AGREES[0] * computed <= part.regulation <= AGREES[1] * computed:
            yield Problem(
                key=("circuit", index, "regulation"),
                what=f"the regulation of '{part.id}' is stated as {part.regulation * 100:.3g} %, "
                f"but its resistances and rated current give {computed * 100:.3g} %",
                expected=" to ".join(f"{share * computed * 100:.3g} %" for share in AGREES) + ", or other resistances",
            )


def _taps(index: int, part: WindingPart) -> Iterator[Problem]:
    if part.taps and part.rated is None:
        what = f"the winding '{part.id}' has taps but no rating of its own"
        yield Problem(key=("circuit", index, "taps"), what=what, expected="'rated: 240 V supply'")
        return
    for row, tap in enumerate(part.taps):
        if part.rated is not None and not 0 < tap.rated.volts < part.rated.volts:
            yield Problem(
                key=("circuit", index, "taps", row, "rated"),
                what=f"the tap at '{tap.at}' is rated {tap.rated.volts:g} V",
                expected=f"more than 0 V and less than the whole winding's {part.rated.volts:g} V",
            )


def _power(equipment: Equipment) -> Iterator[Problem]:
    supply = equipment.supply
    if supply is None or supply.power is None:
        return
    rated = [p.rated for p in equipment.circuit if isinstance(p, WindingPart) and p.rated is not None]
    outputs = sum(r.volts * (r.amps or 0.0) for r in rated if r.basis != "supply")
    if outputs > SPARE * supply.power:
        yield Problem(
            key=("supply", "power"),
            what=f"the outputs together are rated {outputs:.3g} VA, the supply only {supply.power:.3g} VA",
        )


def _supply_current(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    supply, cord = equipment.supply, equipment.cord
    if supply is None or supply.power is None:
        return
    amps = supply.power / supply.voltage
    if cord is not None and amps > assumptions.cord_current(cord.area):
        yield Problem(
            key=("cord", "area"),
            what=f"the cord of {cord.area * 1e6:g} mm² carries {assumptions.cord_current(cord.area):g} A, "
            f"the equipment draws {amps:.3g} A (BS 7671 Table 4F3A)",
        )
    yield from _fuse_above_cord(equipment)
    supplied = _mains_side(circuit)
    for index, part in enumerate(equipment.circuit):
        too_small = isinstance(part, FusePart) and part.rating is not None and part.rating < amps
        if isinstance(part, FusePart) and too_small and part.id in supplied:
            what = f"the fuse '{part.id}' of {part.rating:g} A is smaller than the rated current of {amps:.3g} A"
            yield Problem(key=("circuit", index, "rating"), what=what)


def _fuse_above_cord(equipment: Equipment) -> Iterator[Problem]:
    """A fuse in the plug is there for the cord: one that lets through far more than the cord carries contradicts it."""
    cord = equipment.cord
    for index, part in enumerate(equipment.circuit):
        if cord is None or not isinstance(part, FusePart) or part.place != "plug" or part.rating is None:
            continue
        carries = assumptions.cord_current(cord.area)
        if part.rating > ABOVE_CORD * carries:
            yield Problem(
                key=("circuit", index, "rating"),
                what=f"the fuse '{part.id}' of {part.rating:g} A is far above the {carries:g} A that the cord of "
                f"{cord.area * 1e6:g} mm² carries (BS 7671 Table 4F3A)",
                expected="a smaller fuse or a thicker cord",
            )


def _mains_side(circuit: Circuit) -> set[str]:
    """Parts that the whole supply current flows through: reached from the supply by links, fuses and switches alone."""
    if circuit.supply is None:
        return set()
    group = groups_of(circuit, frozenset({PartKind.link, PartKind.fuse, PartKind.switch}))
    supplied = {group[circuit.supply.live], group[circuit.supply.neutral]}
    return {branch.part for branch in circuit.branches if {group[branch.a], group[branch.b]} <= supplied}


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


def _earth(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    earths = [part for part, kind in circuit.parts.items() if kind is PartKind.earth]
    if equipment.equipment_class == "I" and not earths:
        yield Problem(
            key=("class",), what="equipment of class I has no earth part", expected="an 'earth' part in the circuit"
        )
    if equipment.equipment_class == "II" and earths:
        what = f"equipment of class II needs no protective earth, but '{earths[0]}' is one"
        yield Problem(key=("class",), what=what, expected="class I, or no earth part")
    cord = equipment.cord
    if equipment.equipment_class == "I" and cord is not None and cord.cores < 3:
        what = f"equipment of class I has a cord of {cord.cores} cores"
        yield Problem(key=("cord", "cores"), what=what, expected="3 cores: live, neutral and earth")


def _core_with_no_supply(equipment: Equipment) -> Iterator[Problem]:
    if equipment.supply is not None:
        return
    for index, part in enumerate(equipment.circuit):
        if isinstance(part, WindingPart) and part.rated is not None:
            what = f"the winding '{part.id}' is rated {part.rated.stated}, but the equipment has no supply"
            yield Problem(key=("circuit", index, "rated"), what=what, expected="a 'supply' with its voltage")
