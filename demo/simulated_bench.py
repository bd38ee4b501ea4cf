"""What eyes and meters would find on a unit: answers for every step, from the circuit with its hidden fault.

Readings scatter within a fraction of the tolerance, always in the same way for the same seed.
"""

from dataclasses import dataclass, field
from random import Random
from typing import TYPE_CHECKING

from benchapp.errors import BenchError
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.limiters import nominal_mains
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.terminals import circuit_state
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.expected.first_power import expected_current
from benchapp.wiring.expected.limiters import Lamp
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.faults.fault_modes import FaultMode, with_fault_modes
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode, Range
from demo.scenario import Day, Hidden, LotOfTheDay

if TYPE_CHECKING:
    from benchapp.desktop.bench.search_words import Asked

SCATTER = 0.004
"""relative scatter of simulated readings; well inside every tolerance"""
LAMP_ASKED = "first-power.lamp-watts"
SIZES = {
    Mode.high_resistance: Range(low=3.0, high=3.0),
    Mode.shorted_turns: Range(low=0.35, high=0.35),
    Mode.leaking: Range(low=2e5, high=2e5),
}


@dataclass
class SimulatedUnit:
    """One unit on the simulated bench; `mended` once its repair was carried out."""

    day: Day
    lot: LotOfTheDay
    mark: str
    mended: bool = False
    _scatter: Random = field(init=False)

    def __post_init__(self) -> None:
        self._scatter = Random(f"{self.day.seed} {self.mark}")  # noqa: S311 - scatter, no secret

    @property
    def hidden(self) -> Hidden:
        """What is wrong with it now."""
        return Hidden() if self.mended else self.lot.hidden.get(self.mark, Hidden())

    @property
    def wrong(self) -> Hidden:
        """What was wrong with it when it came in."""
        return self.lot.hidden.get(self.mark, Hidden())

    def marks(self, step: PlannedStep) -> dict[str, str]:
        """The checkpoints of an inspection that are not good."""
        return dict(self.hidden.marks.get(step.address, {}))

    def answer(self, step: PlannedStep) -> str:
        """The answer to a question."""
        for answers in (self.hidden.answers, self.lot.answers, self.day.answers):
            if step.address in answers:
                return answers[step.address]
        return str(step.model.answers[0].answer)

    def reading(self, plan: Plan, step: PlannedStep) -> str:
        """What the meter shows, as a technician types it."""
        match step.function:
            case "insulation":
                return ">200 Mohm"
            case "mains voltage":
                return f"{self._near(read_quantity(self.day.mains).si):.1f} V"
            case "continuity":
                return f"{self._leads('tb-it1'):.2f} ohm"
            case "earth continuity":
                return f"{self._near(0.05) + self._leads('tb-it1'):.2f} ohm"
            case "protective conductor current" | "touch current":
                return f"{self._near(0.06):.3f} mA"
            case "DC voltage":
                return "0.0 V"
            case "AC current":
                return self._current(plan, limited=step.supply is Supply.limited)
            case "AC voltage":
                return self._voltage(plan, step)
            case _:
                return self._resistance(plan, step)

    def circuit(self, plan: Plan) -> Circuit:
        """The unit's circuit as it really is."""
        wrong = self.hidden.defect
        if not wrong:
            return plan.circuit
        mode = Mode(wrong["mode"])
        if mode is Mode.crossed:
            a, b = wrong["part"].split(", ")
            return with_fault_modes(plan.circuit, [FaultMode(part=wrong["part"], mode=mode, a=a, b=b)])
        numbers = [number for number, branch in enumerate(plan.circuit.branches) if branch.part == wrong["part"]]
        size = _size(wrong.get("size", "")) or SIZES.get(mode, Range(low=0.0, high=0.0))
        return with_fault_modes(
            plan.circuit, [FaultMode(part=wrong["part"], mode=mode, branch=number, size=size) for number in numbers]
        )

    def _resistance(self, plan: Plan, step: PlannedStep) -> str:
        if not step.terminals:
            return f"{self._leads('tb-m1'):.2f} ohm"  # touched together
        return self._between(plan, *step.terminals, step.circuit_state)

    def probe(self, plan: Plan, asked: "Asked", set_up: tuple[str, ...]) -> str:
        """What the meter shows between any two terminals: volts with mains on, else ohms in that set-up."""
        if asked.live:
            return self._volts(plan, asked.a, asked.b, None)
        return self._between(plan, asked.a, asked.b, circuit_state(plan.circuit, set_up))

    def _between(self, plan: Plan, a: str, b: str, state: State | None) -> str:
        band = expected_resistance(self.circuit(plan), a, b, state=state)
        if band.expected is None:
            return "OL"
        return _three_digits(self._near(band.expected) + self._leads("tb-m1"), "ohm")

    def _voltage(self, plan: Plan, step: PlannedStep) -> str:
        return self._volts(plan, *step.terminals, step.circuit_state)

    def _volts(self, plan: Plan, a: str, b: str, state: State | None) -> str:
        mains = KnownQuantity(value_si=read_quantity(self.day.mains).si, what="mains", source="simulated")
        band = expected_voltage(self.circuit(plan), a, b, mains=mains, profile=plan.profile, state=state)
        middle = band.expected if band.expected is not None else ((band.lower or 0.0) + (band.upper or 0.0)) / 2
        return f"{self._near(middle):.2f} V"

    def _current(self, plan: Plan, *, limited: bool) -> str:
        mains = nominal_mains(plan)
        limiter = Lamp(watts=read_quantity(self.day.answers[LAMP_ASKED]).si, mains=mains) if limited else None
        try:
            band = expected_current(plan.circuit, limiter, mains=mains)
        except BenchError:
            return "10 mA"
        top = band.upper or 0.03
        middle = band.expected if band.expected is not None else (max(band.lower or 0.0, 0.0) + top) / 2
        many = self.hidden.defect.get("mode") == Mode.shorted_turns and not self.hidden.defect.get("size")
        excess = 4 * top if many else 0.0  # a few turns alone draw what a loaded transformer draws
        return f"{1000 * (self._near(middle) + excess):.0f} mA"

    def _leads(self, meter: str) -> float:
        return float(self.day.leads[meter])

    def _near(self, value: float) -> float:
        return value * (1 + self._scatter.uniform(-SCATTER, SCATTER))


def _size(words: str) -> Range | None:
    """The size that a hidden fault states, as "10 %"; None where it states none."""
    if not words:
        return None
    share = read_quantity(words, kind=Kind.ratio).si
    return Range(low=share, high=share)


def _three_digits(value: float, unit: str) -> str:
    """As many digits as a hand meter shows."""
    for factor, prefix in ((1e6, "M"), (1e3, "k")):
        if value >= factor:
            return f"{value / factor:.3g} {prefix}{unit}"
    return f"{value:.1f} {unit}" if value >= 10 else f"{value:.2f} {unit}"
