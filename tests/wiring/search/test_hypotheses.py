"""The boxes of what hypotheses read: their ends are the ends of the fault and of the tolerances together."""

from collections.abc import Mapping

import pytest

from benchapp.wiring.faults.fault_modes import FaultMode
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.search.hypotheses import boxes
from benchapp.wiring.search.likelihood import Reader


def test_a_first_fault_of_shorted_turns_reaches_both_its_ends(shipped: Mapping[str, Circuit]) -> None:
    # 1.2 ohm ± 15 % with 60 % to 80 % of its turns shorted: 0.2 of the lowest at 15 °C to 0.4 of the highest at 35 °C,
    # copper 0.00393 per kelvin (IEC 60228), and two joints of up to 0.2 ohm (at least the solver's milliohm each)
    circuit = shipped["tb-mu1"]
    number = next(index for index, branch in enumerate(circuit.branches) if branch.part == "low")
    size = Range(low=0.6, high=0.8)
    turns = FaultMode(part="low", mode=Mode.shorted_turns, branch=number, a="low.a", b="common", size=size)
    found = boxes(circuit, State(), [], Reader(leads=(0.0, 0.0)), first=(turns,))
    column = found.column[frozenset({"outlet.1", "outlet.2"})]
    assert found.low[0, column] == pytest.approx(1.2 * 0.85 * 0.2 * (1 - 0.00393 * 5) + 0.002, rel=1e-4)
    assert found.high[0, column] == pytest.approx(1.2 * 1.15 * 0.4 * (1 + 0.00393 * 15) + 0.4, rel=1e-4)
