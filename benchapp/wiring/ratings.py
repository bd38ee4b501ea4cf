"""What does a winding give off load, and how much does it sag? From its rating, regulation and resistances.

Regulation is (V off load - V on load) / V on load, as transformer makers define it: V off load = rated × (1 + it).
"""

from benchapp.judgement import Because
from benchapp.wiring import assumptions
from benchapp.wiring.circuit import Spread
from benchapp.wiring.equipment import Equipment, WindingPart

FILE = "the equipment file"
ROUNDS = 30  # of the fixed point between drop and current; each round shrinks the error by the drop itself


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
        what=f"turns of {_name(part)}",
        value=f"± {turns * 100:g} %",
        source=assumptions.COMMON_PRACTICE if part.tolerance is None else FILE,
    )
    return emf, (Because(what=f"rating of {_name(part)}", value=rated.stated, source=FILE), why, tolerance)


def regulation_of(part: WindingPart, equipment: Equipment) -> tuple[float, float, float, Because]:
    """Lowest, likely and highest rise (ratio) from the rated voltage to off load, and why."""
    rated = part.rated
    assert rated is not None
    what = f"regulation of {_name(part)}"
    if rated.basis == "off load":
        return 0.0, 0.0, 0.0, Because(what=what, value="0 %: the rating is off load", source=FILE)
    floor = 0.0 if rated.basis == "unknown" else 1.0  # a silent plate may mean off load already
    computed = computed_regulation(part, equipment)
    if part.regulation is not None:
        value, by = part.regulation, assumptions.REGULATION_TOLERANCE
        low, high, source = value * (1 - by) * floor, value * (1 + by), f"{FILE}; ± 25 % {assumptions.COMMON_PRACTICE}"
    elif computed is not None:
        value, (down, up) = computed, assumptions.FROM_RESISTANCE
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
    """The regulation (ratio) at full load that the copper alone gives; None when not everything for it is known."""
    shared = primary_drop(equipment, part.core)
    if shared is None or part.rated is None or part.rated.amps is None or part.resistance is None:
        return None
    own = part.resistance.nominal * part.rated.amps / part.rated.volts
    return (own + shared) / (1 - shared)


def primary_drop(equipment: Equipment, core: str) -> float | None:
    """Drop in the shared primary, as a ratio of the supply, with every output of the core at its rated current.

    Each output takes its current times its off-load voltage from the primary: I = sum of I_s V_s (1 + r_s) / V.
    None unless there is one primary and all its outputs' currents are stated.
    """
    windings = [p for p in equipment.circuit if isinstance(p, WindingPart) and p.core == core]
    primaries = [p for p in windings if p.rated is None or p.rated.basis == "supply"]
    outputs = [p for p in windings if p.rated is not None and p.rated.basis != "supply"]
    if len(primaries) != 1 or primaries[0].resistance is None or equipment.supply is None:
        return None
    if any(p.rated is None or p.rated.amps is None or p.resistance is None for p in outputs):
        return None
    volts = equipment.supply.voltage
    drop = 0.0
    for _ in range(ROUNDS):
        amps = sum(_taken(p, drop) for p in outputs) / volts
        drop = min(primaries[0].resistance.nominal * amps / volts, 0.9)
    return drop


def _taken(part: WindingPart, drop: float) -> float:
    """VA that a winding at its rated current takes from the core, for a drop (ratio) in the shared primary."""
    assert part.rated is not None
    assert part.rated.amps is not None
    assert part.resistance is not None
    rated, amps = part.rated.volts, part.rated.amps
    if part.rated.basis == "off load":
        return rated * amps
    own = part.resistance.nominal * amps / rated
    rise = part.regulation if part.regulation is not None else (own + drop) / (1 - drop)
    return rated * amps * (1 + rise)


def working_resistance(part: WindingPart, equipment: Equipment) -> Spread | None:
    """Resistance (ohm) that gives the stated regulation at the rated current, without the shared primary's part."""
    rated = part.rated
    if rated is None or rated.amps is None or part.regulation is None or rated.basis == "supply":
        return None
    shared = (primary_drop(equipment, part.core) or 0.0) * (1 + part.regulation)
    own = max(part.regulation - shared, 0.0) * rated.volts / rated.amps
    if part.resistance is not None:
        own = max(own, part.resistance.low)
    by = assumptions.REGULATION_TOLERANCE
    stated = f"{part.regulation * 100:g} % regulation"
    return Spread(nominal=own, low=own * (1 - by), high=own * (1 + by), stated=stated)


def size_of(part: WindingPart, equipment: Equipment) -> float | None:
    """The transformer's size (VA): its winding's, else the plate's; None when neither is stated."""
    rated = part.rated
    if rated is not None and rated.amps is not None:
        return rated.volts * rated.amps
    return equipment.supply.power if equipment.supply is not None else None


def _name(part: WindingPart) -> str:
    return part.say or f"the winding {part.id}"
