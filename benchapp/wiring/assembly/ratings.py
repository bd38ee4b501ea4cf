"""What a winding gives off load and how far it sags: from its rating, regulation and resistances.

Regulation is (V off load - V on load) / V on load, as transformer makers define it: V off load = rated × (1 + it).
With d the drop in what feeds the core (a ratio) and R the winding's own resistance, the output at the rated current is
V off load × (1 - d) - I R; so a regulation r asks for R = V (r - d (1 + r)) / I where the plate's V is on load, and for
R = V (1 - d - 1 / (1 + r)) / I where it is off load.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from benchapp.judgement.statements.band import DerivationStep
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.assumptions import FILE
from benchapp.wiring.model.circuit import Extreme, Toleranced, ToleranceRange
from benchapp.wiring.model.equipment import Equipment, TwoEnded
from benchapp.wiring.model.written import Rated, RatedText, Ratio, TolerancedResistance
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


@dataclass(frozen=True)
class Ratings:
    """What follows from the plate of a winding; `feeds` holds for each core the resistance (ohm) before it."""

    part: Winding
    equipment: Equipment
    feeds: Mapping[str, float]

    @cached_property
    def emf(self) -> Toleranced | None:
        """Off-load voltage (V) at the rated supply; None for a coil that no supply feeds."""
        if self.equipment.supply is None:
            return None
        rated, turns = self._output, self._turns
        if rated is None:
            volts = self.equipment.supply.voltage if self.part.rated is None else self.part.rated.volts
            return Toleranced(nominal=volts, low=volts, high=volts, stated=f"{volts:g} V supply")
        low, likely, high = self._rise(rated)
        return Toleranced(
            nominal=rated.volts * (1 + likely),
            low=rated.volts * (1 + low) * (1 - turns),
            high=rated.volts * (1 + high) * (1 + turns),
            stated=rated.stated,
        )

    @cached_property
    def reasons(self) -> tuple[DerivationStep, ...]:
        """Why: the plate, the regulation and the tolerance of the turns; nothing for a primary."""
        rated, part = self._output, self.part
        if rated is None:
            return ()
        name = part.say or f"the winding {part.id}"
        turns = assumptions.COMMON_PRACTICE if part.tolerance is None else FILE
        if rated.basis == "off load":
            regulation, source = "0 %: the rating is off load", FILE
        else:
            low, _, high = self._rise(rated)
            silent = "; the plate does not say on load or off load" if rated.basis == "unknown" else ""
            regulation, source = f"{low * 100:.3g} % to {high * 100:.3g} %{silent}", self._sag.source
        return (
            DerivationStep(what=f"rating of {name}", value=rated.stated, source=FILE),
            DerivationStep(what=f"regulation of {name}", value=regulation, source=source),
            DerivationStep(what=f"turns of {name}", value=f"± {self._turns * 100:g} %", source=turns),
        )

    @cached_property
    def computed_regulation(self) -> float | None:
        """The regulation (ratio) at full load that the copper alone gives; None when not all for it is known."""
        part, shared = self.part, self._shared_drop
        if shared is None or part.rated is None or part.rated.amps is None or part.resistance is None:
            return None
        own = part.resistance.nominal * part.rated.amps / part.rated.volts
        return (own + shared) / (1 - shared)

    @cached_property
    def working_resistance(self) -> Toleranced | None:
        """Resistance (ohm) that gives the regulation at the rated current, without the part of what feeds the core.

        None where the copper's own is all that is known: without a rated current, without a regulation, or where the
        plate is off load and states none.
        """
        rated, part = self._output, self.part
        if rated is None or rated.amps is None or not self._sag.of_copper:
            return None
        if rated.basis == "off load" and part.regulation is None:
            return None
        sag = self._sag
        low, own, high = (self._own(regulation, rated.basis) for regulation in (sag.low, sag.likely, sag.high))
        if part.resistance is not None:
            own = max(own, part.resistance.low)
        stated = f"{sag.likely * 100:.3g} % regulation"
        return Toleranced(nominal=own, low=min(low, own), high=max(high, own), stated=stated)

    @cached_property
    def tolerance_ranges(self) -> tuple[ToleranceRange, ...]:
        """What tolerances move by themselves: the turns, and the regulation, which moves voltage and resistance.

        A plate that does not say on load or off load may mean either, with any regulation of the range.
        """
        rated, working = self._output, self.working_resistance
        if rated is None:
            return ()
        _, likely, _ = self._rise(rated)
        ends = []
        for basis in ("on load", "off load") if rated.basis == "unknown" else (rated.basis,):
            for regulation in (self._sag.low, self._sag.high):
                rise = 0.0 if basis == "off load" else regulation
                ohms = 1.0 if working is None else self._own(regulation, basis) / working.nominal
                ends.append(Extreme(emf=(1 + rise) / (1 + likely), ohms=ohms))
        turns = (Extreme(emf=1 - self._turns), Extreme(emf=1 + self._turns))
        return tuple(one for one in (turns, tuple(dict.fromkeys(ends))) if set(one) != {Extreme()})

    @property
    def _output(self) -> Rated | None:
        """The plate of a winding that the supply feeds through its core; None for any other."""
        return None if self.equipment.supply is None or is_primary(self.part) else self.part.rated

    @property
    def _turns(self) -> float:
        """The tolerance (ratio) of its turns."""
        return assumptions.TURNS_TOLERANCE if self.part.tolerance is None else self.part.tolerance

    @cached_property
    def _sag(self) -> Sag:
        """The regulation that the file states, else that the copper gives, else a usual one."""
        value, computed = self.part.regulation, self.computed_regulation
        if value is not None:
            by = assumptions.REGULATION_TOLERANCE
            source = f"{FILE}; ± {by * 100:g} % {assumptions.COMMON_PRACTICE}"
            return Sag(low=value * (1 - by), likely=value, high=value * (1 + by), source=source)
        if computed is not None:
            down, up = assumptions.FROM_RESISTANCE
            source = "winding resistances and rated current"
            return Sag(low=computed * down, likely=computed, high=computed * up, source=source)
        usual = assumptions.usual_regulation(size_of(self.part, self.equipment))
        middle, source = (usual.low + usual.high) / 2, assumptions.COMMON_PRACTICE
        return Sag(low=usual.low, likely=middle, high=usual.high, source=source, of_copper=False)

    def _rise(self, rated: Rated) -> tuple[float, float, float]:
        """Lowest, likely and highest rise (ratio) from the rated voltage to off load."""
        if rated.basis == "off load":
            return 0.0, 0.0, 0.0
        sag = self._sag
        if rated.basis == "unknown":  # such a plate may mean off load already
            return 0.0, sag.high / 2, sag.high
        return sag.low, sag.likely, sag.high

    def _own(self, regulation: float, basis: str) -> float:
        """Ohm of the winding itself for a regulation (ratio) and what the plate means."""
        rated, drop = self.part.rated, self._shared_drop or 0.0
        assert rated is not None
        assert rated.amps is not None
        share = 1 - drop - 1 / (1 + regulation) if basis == "off load" else regulation - drop * (1 + regulation)
        return max(share * rated.volts / rated.amps, FLOOR)

    @cached_property
    def _shared_drop(self) -> float | None:
        """Drop in what feeds the core, as a ratio of the supply, with every output of the core at its rated current.

        Each output takes its current times its off-load voltage from the supply: I = sum of I_s V_s (1 + r_s) / V.
        None unless something feeds the core and all its outputs' currents are stated.
        """
        supply, core = self.equipment.supply, self.part.core
        outputs = outputs_of(self.equipment, core)
        if core not in self.feeds or supply is None:
            return None
        if any(one.rated is None or one.rated.amps is None or one.resistance is None for one in outputs):
            return None
        drop = 0.0
        for _ in range(ROUNDS):
            amps = sum(_volt_amperes(one, drop) for one in outputs) / supply.voltage
            drop = min(self.feeds[core] * amps / supply.voltage, 0.9)
        return drop


def _volt_amperes(part: Winding, drop: float) -> float:
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


def size_of(part: Winding, equipment: Equipment) -> float | None:
    """The transformer's size (VA): all outputs of its core together, else the plate's; None when neither is stated."""
    outputs = outputs_of(equipment, part.core)
    rated = [one.rated for one in outputs if one.rated is not None and one.rated.amps is not None]
    if len(rated) == len(outputs):
        return sum(one.volts * (one.amps or 0.0) for one in rated)
    return equipment.supply.power if equipment.supply is not None else None
