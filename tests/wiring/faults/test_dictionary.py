"""The table of all faulty readings agrees with rebuilding the circuit for every single fault."""

from collections.abc import Callable, Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.wiring.faults.dictionary import OPEN, fault_dictionary
from benchapp.wiring.faults.fault_modes import FaultMode, fault_modes_of, with_fault_modes
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.network.solve import Corner, dead_network
from benchapp.wiring.probing.coverage import REVEALED


def rebuilt(circuit: Circuit, fault_mode: FaultMode, state: State) -> list[float]:
    network = dead_network(with_fault_modes(circuit, [fault_mode]), state, Corner.nominal)
    names = circuit.terminals
    return [min(network.resistance(a, b), OPEN) for i, a in enumerate(names) for b in names[i + 1 :]]


@pytest.mark.parametrize("name", ["tb-mu1", "tb-mu2", "tb-rec1", "tb-ls1"])
@pytest.mark.parametrize("state", [State(), State(switches=frozenset({("power", "off")})), State(selector="220 V")])
def test_every_fault_of_the_shipped_equipment(shipped: Mapping[str, Circuit], name: str, state: State) -> None:
    circuit = shipped[name]
    fault_modes = fault_modes_of(circuit, REVEALED)
    table = fault_dictionary(circuit, state, Corner.nominal, fault_modes)
    for row, fault_mode in enumerate(fault_modes):
        for ours, slow in zip(table.faulty[row], rebuilt(circuit, fault_mode, state), strict=True):
            if slow < 1e7:
                # groups that nothing joins are tied by OPEN, which lies in parallel to every leak between them
                assert ours == pytest.approx(slow, rel=1e-6 + 1.1 * slow / OPEN, abs=1e-6), fault_mode
            else:
                assert ours > 1e7, fault_mode


@given(st.sampled_from(["open", "shorted", "drifted high"]), st.integers(0, 9), st.floats(1.5, 100.0))
def test_changing_one_resistor_of_a_ladder(
    network: Callable[..., Circuit], mode: str, which: int, factor: float
) -> None:
    edges = [(i, i + 1, 10.0 + i) for i in range(5)] + [(i, 6, 100.0 + i) for i in range(5)]
    circuit = network(edges)
    branch = circuit.branches[which]
    size = Range(low=factor, high=factor)
    fault_mode = FaultMode(part=branch.part, mode=Mode(mode), branch=which, a=branch.a, b=branch.b, size=size)
    table = fault_dictionary(circuit, State(), Corner.nominal, [fault_mode])
    slow = rebuilt(circuit, fault_mode, State())
    for ours, other in zip(table.faulty[0], slow, strict=True):
        assert (ours == pytest.approx(other, rel=1e-8)) or (ours > 1e7 and other > 1e7)


def test_sound_readings_are_the_networks(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-rec1"]
    table = fault_dictionary(circuit, State(), Corner.high, ())
    network = dead_network(circuit, State(), Corner.high)
    for (i, j), ohms in zip(table.pairs, table.sound, strict=True):
        assert ohms == pytest.approx(min(network.resistance(table.terminals[i], table.terminals[j]), OPEN), rel=0.01)


def test_a_lead_that_joins_two_pins_stays_there_when_the_wires_behind_one_are_crossed(
    shipped: Mapping[str, Circuit],
) -> None:
    # Live and earth crossed in the plug of tb-mu1, L and N joined for an insulation test: the joined pins now hang on
    # the case and on neutral, pin E on live; between them lie fuse, cord and primary in series (Kirchhoff, added up).
    circuit, joined = shipped["tb-mu1"], State(joined=(("plug.L", "plug.N"),))
    wrong = FaultMode(part="plug.L, plug.E", mode=Mode.crossed, a="plug.L", b="plug.E")
    table = fault_dictionary(circuit, joined, Corner.nominal, [wrong])
    read = {(table.terminals[i], table.terminals[j]): table.faulty[0, n] for n, (i, j) in enumerate(table.pairs)}
    core = 1.8 / (58e6 * 0.75e-6)
    assert read["plug.L", "plug.E"] == pytest.approx(480 + 0.1 / 3 + 2 * core + 0.01, rel=1e-4)
    assert read["plug.N", "case"] == pytest.approx(core + 0.02 + 0.01, rel=1e-3)


@pytest.mark.parametrize("ohms", [0.1, 1.0])
def test_a_short_lies_across_what_still_conducts(shipped: Mapping[str, Circuit], ohms: float) -> None:
    circuit = shipped["tb-mu1"]
    number = next(index for index, branch in enumerate(circuit.branches) if branch.part == "low")
    size = Range(low=ohms, high=ohms)
    wrong = FaultMode(part="low", mode=Mode.shorted, branch=number, a="low.a", b="common", size=size)
    table = fault_dictionary(circuit, State(), Corner.nominal, [wrong], terminals=("outlet.1", "outlet.2"))
    assert table.faulty[0, 0] == pytest.approx(1.2 * ohms / (1.2 + ohms) + 0.04, rel=1e-6)
