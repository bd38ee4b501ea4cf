"""What a winding gives off load and how far it sags: from its rating, regulation and resistances.

Regulation is (V off load - V on load) / V on load, as transformer makers define it: V off load = rated × (1 + it).
With d the drop in what feeds the core (a ratio) and R the winding's own resistance, the output at the rated current is
V off load × (1 - d) - I R; so a regulation r asks for R = V (r - d (1 + r)) / I where the plate's V is on load, and for
R = V (1 - d - 1 / (1 + r)) / I where it is off load.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from benchapp.judgement.statements.band import DerivationStep
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.assumptions import FILE
from benchapp.wiring.model.circuit import Extreme, Toleranced, ToleranceRange
from benchapp.wiring.model.equipment import Equipment, TwoEnded
from benchapp.wiring.model.written import RatedText, Ratio, TolerancedResistance
from benchapp.wiring.network.solve import FLOOR

ROUNDS = 30  # of the fixed point between drop and current; each round shrinks the error by the drop itself


class Winding(TwoEnded):
    """What a file says of the ratings of a winding, whatever kind of part it is."""

    rated: RatedText | None = None
    """as the plate states it: 9 V at 0.6 A on load, 24 V off load, 240 V supply"""
    regulation: Ratio | None = None
    """how far its voltage falls from no load to full load: 14 %"""
    resistance: TolerancedResistance | None = None
    """of its copper at room temperature: 1.2 ohm ± 15 %"""
    tolerance: Ratio | None = None
    """of its turns, where the maker states one"""
    core: str = "transformer"
    """which windings share a core; one transformer needs no name"""


def outputs_of(equipment: Equipment, core: str) -> list[Winding]:
    """The windings of a core that are not there for the supply."""
    return [p for p in equipment.circuit if isinstance(p, Winding) and p.core == core and not is_primary(p)]


def is_primary(part: Winding) -> bool:
    """Whether the winding is there for the supply."""
    return part.rated is None or part.rated.basis == "supply"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sag:
    """The lowest, likely and highest regulation (ratio) of a winding, and where it comes from."""

    low: float
    likely: float
    high: float
    source: str
    of_copper: bool = True  # stated or computed, so that it tells the resistance under load


def winding_emf(
    part: Winding, equipment: Equipment, feeds: Mapping[str, float]
) -> tuple[Toleranced | None, tuple[DerivationStep, ...]]:
    """Off-load voltage (V) at the rated supply with its reasons; None for a coil that no supply feeds.

    `feeds` holds for each core the resistance (ohm) between it and the supply, here and below.
    """
    if equipment.supply is None:
        return None, ()
    rated = part.rated
    if rated is None or rated.basis == "supply":
        volts = equipment.supply.voltage if rated is None else rated.volts
        return Toleranced(nominal=volts, low=volts, high=volts, stated=f"{volts:g} V supply"), ()
    turns = turns_tolerance(part)
    low, nominal, high, why = rise_of(part, equipment, feeds)
    emf = Toleranced(
        nominal=rated.volts * (1 + nominal),
        low=rated.volts * (1 + low) * (1 - turns),
        high=rated.volts * (1 + high) * (1 + turns),
        stated=rated.stated,
    )
    tolerance = DerivationStep(
        what=f"turns of {_name(part)}",
        value=f"± {turns * 100:g} %",
        source=assumptions.COMMON_PRACTICE if part.tolerance is None else FILE,
    )
    return emf, (DerivationStep(what=f"rating of {_name(part)}", value=rated.stated, source=FILE), why, tolerance)


def turns_tolerance(part: Winding) -> float:
    """The tolerance (ratio) of a winding's turns."""
    return assumptions.TURNS_TOLERANCE if part.tolerance is None else part.tolerance


def sag_of(part: Winding, equipment: Equipment, feeds: Mapping[str, float]) -> Sag:
    """The regulation that the file states, else that the copper gives, else a usual one."""
    computed = computed_regulation(part, equipment, feeds)
    if part.regulation is not None:
        value, by = part.regulation, assumptions.REGULATION_TOLERANCE
        source = f"{FILE}; ± {by * 100:g} % {assumptions.COMMON_PRACTICE}"
        return Sag(low=value * (1 - by), likely=value, high=value * (1 + by), source=source)
    if computed is not None:
        down, up = assumptions.FROM_RESISTANCE
        source = "winding resistances and rated current"
        return Sag(low=computed * down, likely=computed, high=computed * up, source=source)
    usual = assumptions.usual_regulation(size_of(part, equipment))
    middle = (usual.low + usual.high) / 2
    return Sag(low=usual.low, likely=middle, high=usual.high, source=assumptions.COMMON_PRACTICE, of_copper=False)


def rise_of(
    part: Winding, equipment: Equipment, feeds: Mapping[str, float]
) -> tuple[float, float, float, DerivationStep]:
    """Lowest, likely and highest rise (ratio) from the rated voltage to off load, and why."""
    rated = part.rated
    assert rated is not None
    what = f"regulation of {_name(part)}"
    if rated.basis == "off load":
        return 0.0, 0.0, 0.0, DerivationStep(what=what, value="0 %: the rating is off load", source=FILE)
    sag = sag_of(part, equipment, feeds)
    silent = rated.basis == "unknown"  # such a plate may mean off load already
    low, likely = (0.0, sag.high / 2) if silent else (sag.low, sag.likely)
    more = "; the plate does not say on load or off load" if silent else ""
    text = f"{low * 100:.3g} % to {sag.high * 100:.3g} %{more}"
    return low, likely, sag.high, DerivationStep(what=what, value=text, source=sag.source)


def computed_regulation(part: Winding, equipment: Equipment, feeds: Mapping[str, float]) -> float | None:
    """The regulation (ratio) at full load that the copper alone gives; None when not everything for it is known."""
    shared = shared_drop(equipment, part.core, feeds)
    if shared is None or part.rated is None or part.rated.amps is None or part.resistance is None:
        return None
    own = part.resistance.nominal * part.rated.amps / part.rated.volts
    return (own + shared) / (1 - shared)


def shared_drop(equipment: Equipment, core: str, feeds: Mapping[str, float]) -> float | None:
    """Drop in what feeds the core, as a ratio of the supply, with every output of the core at its rated current.

    Each output takes its current times its off-load voltage from the supply: I = sum of I_s V_s (1 + r_s) / V.
    None unless something feeds the core and all its outputs' currents are stated.
    """
    outputs = outputs_of(equipment, core)
    if core not in feeds or equipment.supply is None:
        return None
    if any(p.rated is None or p.rated.amps is None or p.resistance is None for p in outputs):
        return None
    volts = equipment.supply.voltage
    drop = 0.0
    for _ in range(ROUNDS):
        amps = sum(_taken(p, drop) for p in outputs) / volts
        drop = min(feeds[core] * amps / volts, 0.9)
    return drop


def _taken(part: Winding, drop: float) -> float:
    """VA that a winding at its rated current takes from the core, for a drop (ratio) in what feeds it."""
    assert part.rated is not None
    assert part.rated.amps is not None
    assert part.resistance is not None
    rated, amps = part.rated.volts, part.rated.amps
    if part.rated.basis == "off load":
        return rated * amps
    own = part.resistance.nominal * amps / rated
    rise = part.regulation if part.regulation is not None else (own + drop) / (1 - drop)
    return rated * amps * (1 + rise)


def working_resistance(part: Winding, equipment: Equipment, feeds: Mapping[str, float]) -> Toleranced | None:
    """Resistance (ohm) that gives the regulation at the rated current, without the part of what feeds the core.

    None where the copper's own is all that is known: without a rated current, without a regulation, or where the plate
    is off load and states none.
    """
    rated = part.rated
    if rated is None or rated.amps is None or rated.basis == "supply" or equipment.supply is None:
        return None
    sag = sag_of(part, equipment, feeds)
    if not sag.of_copper or (rated.basis == "off load" and part.regulation is None):
        return None
    low, own, high = (_own(part, r, equipment, feeds) for r in (sag.low, sag.likely, sag.high))
    if part.resistance is not None:
        own = max(own, part.resistance.low)
    stated = f"{sag.likely * 100:.3g} % regulation"
    return Toleranced(nominal=own, low=min(low, own), high=max(high, own), stated=stated)


def _own(
    part: Winding, regulation: float, equipment: Equipment, feeds: Mapping[str, float], basis: str | None = None
) -> float:
    """Ohm of the winding itself for a regulation (ratio); `basis` as if the plate said so."""
    rated = part.rated
    assert rated is not None
    assert rated.amps is not None
    drop = shared_drop(equipment, part.core, feeds) or 0.0
    off_load = (basis or rated.basis) == "off load"
    share = 1 - drop - 1 / (1 + regulation) if off_load else regulation - drop * (1 + regulation)
    return max(share * rated.volts / rated.amps, FLOOR)


def winding_tolerance_ranges(
    part: Winding, equipment: Equipment, feeds: Mapping[str, float]
) -> tuple[ToleranceRange, ...]:
    """What tolerances move by themselves: the turns, and the regulation, from which voltage and resistance follow.

    A plate that does not say on load or off load may mean either, with any regulation of the range.
    """
    rated = part.rated
    if equipment.supply is None or rated is None or rated.basis == "supply":
        return ()
    by = turns_tolerance(part)
    turns = (Extreme(emf=1 - by), Extreme(emf=1 + by))
    sag, working = sag_of(part, equipment, feeds), working_resistance(part, equipment, feeds)
    _, likely, _, _ = rise_of(part, equipment, feeds)
    ends = []
    for basis in ("on load", "off load") if rated.basis == "unknown" else (rated.basis,):
        for regulation in (sag.low, sag.high):
            rise = 0.0 if basis == "off load" else regulation
            ohms = 1.0
            if working is not None:
                ohms = _own(part, regulation, equipment, feeds, basis) / working.nominal
            ends.append(Extreme(emf=(1 + rise) / (1 + likely), ohms=ohms))
    return tuple(
        tolerance_range
        for tolerance_range in (turns, tuple(dict.fromkeys(ends)))
        if set(tolerance_range) != {Extreme()}
    )


def size_of(part: Winding, equipment: Equipment) -> float | None:
    """The transformer's size (VA): all outputs of its core together, else the plate's; None when neither is stated."""
    outputs = outputs_of(equipment, part.core)
    rated = [p.rated for p in outputs if p.rated is not None and p.rated.amps is not None]
    if len(rated) == len(outputs):
        return sum(one.volts * (one.amps or 0.0) for one in rated)
    return equipment.supply.power if equipment.supply is not None else None


def _name(part: Winding) -> str:
    return part.say or f"the winding {part.id}"
