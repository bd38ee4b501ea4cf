"""What does a winding give off load, and how much does it sag? From its rating, regulation and resistances.

Regulation is (V off load - V on load) / V on load (transformer makers' definition): V off load = rated × (1 + regulation).
"""

from benchapp.judgement import Because
from benchapp.wiring import assumptions
from benchapp.wiring.circuit import Spread
from benchapp.wiring.equipment import Equipment, WindingPart

FILE = "the equipment file"


def winding_emf(part: WindingPart, equipment: Equipment) -> tuple[Spread | None, tuple[Because, ...]]:
    """Off-load voltage (V) at the rated supply with its reasons; None for a coil that no supply feeds."""
    if equipment.supply is None:
        return None, ()
    rated = part.rated
    if rated is None or rated.basis == "supply":
        volts = equipment.supply.voltage if rated is None else rated.volts
        return Spread(nominal=volts, low=volts, high=volts, stated=f"{volts:g} V supply"), ()
    turns = assumptions.TURNS_TOLERANCE if part.tolerance is None else part.tolerance
    low, nominal, high, why = regulation_of(part, equipment)
    emf = Spread(
        nominal=rated.volts * (1 + nominal),
        low=rated.volts * (1 + low) * (1 - turns),
        high=rated.volts * (1 + high) * (1 + turns),
        stated=rated.stated,
    )
    tolerance = Because(
        what=f"tolerance of {part.id}'s turns",
        value=f"± {turns * 100:g} %",
        source=assumptions.COMMON_PRACTICE if part.tolerance is None else FILE,
    )
    return emf, (Because(what=f"rating of {part.id}", value=rated.stated, source=FILE), why, tolerance)


def regulation_of(part: WindingPart, equipment: Equipment) -> tuple[float, float, float, Because]:
    """Lowest, likely and highest rise (ratio) from the rated voltage to off load, and why."""
    rated = part.rated
    assert rated is not None
    what = f"regulation of {part.id}"
    if rated.basis == "off load":
        return 0.0, 0.0, 0.0, Because(what=what, value="0 %: the rating is off load", source=FILE)
    floor = 0.0 if rated.basis == "unknown" else 1.0  # a silent plate may mean off load already
    if part.regulation is not None:
        value, by = part.regulation, assumptions.REGULATION_TOLERANCE
        low, high, source = value * (1 - by) * floor, value * (1 + by), f"{FILE}; ± 25 % {assumptions.COMMON_PRACTICE}"
    elif (value := computed_regulation(part, equipment)) is not None:
        down, up = assumptions.FROM_RESISTANCE
        low, high, source = value * down * floor, value * up, "winding resistances and rated current"
    else:
        usual = assumptions.usual_regulation(size_of(part, equipment))
        low, high, source = usual.low * floor, usual.high, assumptions.COMMON_PRACTICE
        value = (low + high) / 2
    likely = value if floor else (low + high) / 2
    silent = "" if floor else "; the plate does not say on load or off load"
    text = f"{low * 100:.3g} % to {high * 100:.3g} %{silent}"
    return low, likely, high, Because(what=what, value=text, source=source)


def computed_regulation(part: WindingPart, equipment: Equipment) -> float | None:
    """The copper's share of regulation at full load (ratio): own drop plus the primary's; None when not known."""
    rated = part.rated
    if rated is None or rated.amps is None or part.resistance is None:
        return None
    shared = primary_drop(equipment, part.core)
    return None if shared is None else part.resistance.nominal * rated.amps / rated.volts + shared


def primary_drop(equipment: Equipment, core: str) -> float | None:
    """Drop of the shared primary, as a ratio, with every output of the core at its rated current."""
    windings = [p for p in equipment.circuit if isinstance(p, WindingPart) and p.core == core]
    primaries = [p for p in windings if p.rated is None or p.rated.basis == "supply"]
    outputs = [p.rated for p in windings if p.rated is not None and p.rated.basis != "supply"]
    if len(primaries) != 1 or primaries[0].resistance is None or equipment.supply is None:
        return None
    if any(rated.amps is None for rated in outputs):
        return None
    volts = equipment.supply.voltage
    amps = sum(rated.volts * (rated.amps or 0.0) for rated in outputs) / volts
    return primaries[0].resistance.nominal * amps / volts


def working_resistance(part: WindingPart, equipment: Equipment) -> Spread | None:
    """Resistance (ohm) that gives the stated regulation at the rated current, without the shared primary's part."""
    rated = part.rated
    if rated is None or rated.amps is None or part.regulation is None:
        return None
    shared = primary_drop(equipment, part.core) or 0.0
    own = max(part.regulation - shared, 0.0) * rated.volts / rated.amps
    if part.resistance is not None:
        own = max(own, part.resistance.low)
    by = assumptions.REGULATION_TOLERANCE
    return Spread(nominal=own, low=own * (1 - by), high=own * (1 + by), stated=f"{part.regulation * 100:g} % regulation")


def size_of(part: WindingPart, equipment: Equipment) -> float | None:
    """The transformer's size (VA): its winding's, else the plate's; None when neither is stated."""
    rated = part.rated
    if rated is not None and rated.amps is not None:
        return rated.volts * rated.amps
    return equipment.supply.power if equipment.supply is not None else None
