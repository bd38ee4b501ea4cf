"""A capacitor: open for an ohmmeter once it has charged, a path at mains frequency."""

from collections.abc import Mapping
from dataclasses import replace

from benchapp.files.locations import Key
from benchapp.judgement.statements.band import DerivationStep
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.model.assumptions import FILE
from benchapp.wiring.model.circuit import Branch, Circuit, Extreme, PartKind, Problem
from benchapp.wiring.model.equipment import Equipment, TwoEnded
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.written import TolerancedCapacitance


class CapacitorPart(TwoEnded):
    """A capacitor."""

    kind = PartKind(name="capacitor", place=7, fault_modes=(Mode.shorted, Mode.leaking), conducts=False, charges=True)
    capacitor: str
    """the part's own id"""
    capacitance: TolerancedCapacitance
    """its value, with its tolerance where it is known: 2200 µF, 100 nF ± 10 %"""

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """One, of its capacitance within its tolerance."""
        farads = self.capacitance
        low, high = show(farads.low, Kind.capacitance), show(farads.high, Kind.capacitance)
        why = DerivationStep(
            what=f"capacitance of {self.say or f'the capacitor {self.id}'}",
            value=f"{farads.stated}, from {low} to {high}",
            source=FILE,
        )
        ends = tuple(Extreme(ohms=farads.nominal / end) for end in (farads.low, farads.high) if end > 0)
        moves = (ends,) if farads.low != farads.high else ()
        return (replace(self.branch(), farads=farads.nominal, tolerance_ranges=moves, reasons=(why,)),)

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> tuple[Problem, ...]:
        """Nothing of its own."""
        return ()
