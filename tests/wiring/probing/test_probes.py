"""The probe plan: what is always probed, what the fewest continuity probes show, and in which order."""

from collections.abc import Mapping
from itertools import combinations, pairwise

import numpy as np
import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.faults.fault_modes import fault_modes_of
from benchapp.wiring.model.circuit import Circuit, State, WiringProblem
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.probing.coverage import (
    REVEALED,
    Ohmmeter,
    continuity_pairs,
    fewest,
    revealing,
    undetectable_faults,
)
from benchapp.wiring.probing.probes import ProbeKind, probe_plan


def kinds(circuit: Circuit, connector: str) -> dict[ProbeKind, set[frozenset[str]]]:
    found: dict[ProbeKind, set[frozenset[str]]] = {kind: set() for kind in ProbeKind}
    for probe in probe_plan(circuit, connector):
        found[probe.kind].add(frozenset({probe.a, probe.b}))
    return found


def test_the_outlet_of_the_two_output_unit_takes_three_continuity_probes(shipped: Mapping[str, Circuit]) -> None:
    probes = [p for p in probe_plan(shipped["tb-mu1"], "outlet") if p.kind is ProbeKind.continuity]
    assert [(p.a, p.b) for p in probes] == [
        ("outlet.1", "outlet.2"),
        ("outlet.1", "outlet.3"),
        ("outlet.1", "outlet.4"),
    ]
    assert probes[0].say == "Black probe on pin 1 of the outlet, red probe on pin 2 of the outlet."
    assert probes[0].why == "shows the 9 V winding, the joint at pin 1, the joint at pin 2"


def test_earth_isolation_and_unused_pins_are_always_there(shipped: Mapping[str, Circuit]) -> None:
    plug, outlet = kinds(shipped["tb-mu1"], "plug"), kinds(shipped["tb-mu1"], "outlet")
    assert plug[ProbeKind.earth] == {frozenset({"plug.E", "case"})}
    assert {frozenset({"plug.L", "case"}), frozenset({"plug.L", "outlet.1"})} <= plug[ProbeKind.isolation]
    assert outlet[ProbeKind.unused] == {frozenset({"outlet.5", "outlet.2"})}


def test_the_plug_of_a_double_insulated_unit_has_an_unused_earth_pin(shipped: Mapping[str, Circuit]) -> None:
    plug = kinds(shipped["tb-mu2"], "plug")
    assert not plug[ProbeKind.earth]
    assert plug[ProbeKind.unused] == {frozenset({"plug.E", "plug.L"})}


def test_only_the_kinds_asked_for_come_back(shipped: Mapping[str, Circuit]) -> None:
    only = probe_plan(shipped["tb-mu1"], "outlet", frozenset({ProbeKind.unused}))
    assert [probe.kind for probe in only] == [ProbeKind.unused]


def test_an_unknown_connector_is_refused(shipped: Mapping[str, Circuit]) -> None:
    with pytest.raises(WiringProblem, match="no connector 'socket'"):
        probe_plan(shipped["tb-mu1"], "socket")


def test_ids_are_unique_within_a_plan_and_one_probe_stays_put(shipped: Mapping[str, Circuit]) -> None:
    for circuit in shipped.values():
        for connector in circuit.connectors:
            for kind in ProbeKind:
                probes = [p for p in probe_plan(circuit, connector) if p.kind is kind]
                assert len({p.id for p in probes}) == len(probes)
                stands = [p.a for p in probes]
                assert sum(one != other for one, other in pairwise(stands)) == len(set(stands)) - (1 if stands else 0)


@pytest.mark.parametrize("name", ["tb-mu1", "tb-mu2", "tb-rec1", "tb-ls1"])
def test_the_plans_together_reveal_all_that_any_pair_on_one_connector_could(
    shipped: Mapping[str, Circuit], name: str
) -> None:
    circuit = shipped[name]
    fault_modes = [one for one in fault_modes_of(circuit, REVEALED) if one.part not in circuit.switches]
    table = revealing(circuit, State(), Ohmmeter(), fault_modes)
    for plug in circuit.connectors.values():
        probed = {frozenset({p.a, p.b}) for p in probe_plan(circuit, plug.name)}
        within = [i for i, pair in enumerate(table.pairs) if set(pair) <= set(plug.terminals) - plug.unused]
        taken = [i for i, pair in enumerate(table.pairs) if frozenset(pair) in probed]
        could = table.flags[:, within].any(axis=1)
        shown = table.flags[:, taken].any(axis=1)
        assert not [one for one, a, b in zip(fault_modes, could, shown, strict=True) if a and not b]


def test_no_smaller_set_of_probes_would_do(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    plug = circuit.connectors["outlet"]
    chosen = [pair for pair in continuity_pairs(circuit, plug, State(), []) if set(pair) <= set(plug.terminals)]
    fault_modes = fault_modes_of(circuit, REVEALED)
    table = revealing(circuit, State(), Ohmmeter(), fault_modes)
    here = [i for i, pair in enumerate(table.pairs) if set(pair) <= set(plug.terminals) - plug.unused]
    wanted = table.flags[:, here].any(axis=1)
    for few in combinations(here, len(chosen) - 1):
        assert not table.flags[wanted][:, list(few)].any(axis=1).all()


def test_the_exact_search_beats_the_greedy_trap() -> None:
    # the classic trap of the greedy cover: six faults, the big set of four is in no smallest cover
    sets = [{0, 1, 2, 3}, {0, 1, 4}, {2, 3, 5}]
    flags = np.array([[row in one for one in sets] for row in range(6)])
    pairs = [("a", "b"), ("c", "d"), ("e", "f")]
    assert fewest(flags, [0, 1, 2], np.zeros(6, dtype=bool), pairs) == [1, 2]


def test_a_worse_meter_reveals_less(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    fine = undetectable_faults(circuit, State(), Ohmmeter(share=0.002, ohms=0.01))
    coarse = undetectable_faults(circuit, State(), Ohmmeter(share=0.05, ohms=2.0))
    assert {h.fault_mode for h in fine} < {h.fault_mode for h in coarse}


def test_what_no_probe_can_show_is_said_with_its_reason(shipped: Mapping[str, Circuit]) -> None:
    hidden = {(h.fault_mode.mode, h.fault_mode.part): h.why for h in undetectable_faults(shipped["tb-mu1"], State())}
    assert hidden[Mode.crossed, "plug.L, plug.N"] == "no pair of terminals reads differently with it"
    assert "within tolerance" in hidden[Mode.high_resistance, "cord-live"]
    assert (Mode.open, "low-a") not in hidden


def test_on_a_harness_every_pin_is_kept_from_its_neighbours_and_nobody_walks_every_pair() -> None:
    """37 ways in two rows: 666 pairs of wires a side, of which solder can bridge those side by side."""
    pins = [(f"{i}", 2.77 * i - 27.7, 1.42) for i in range(1, 20)] + [
        (f"{i}", 2.77 * (i - 19) - 26.3, -1.42) for i in range(20, 38)
    ]
    row = "connector: rows\ntitle: Two rows\nsource: made up\nstatus: made up\n"
    row += "outline: [{shape: rectangle, width: 60, height: 10}]\npins:\n"
    row += "".join(f'  - {{pin: "{pin}", x: {x:.3f}, y: {y}, width: 1, height: 1}}\n' for pin, x, y in pins)
    connector = build_model(parse_document(row, "rows.yaml"), Connector)
    text = "equipment: harness\ntitle: A harness\nclass: none\nconnectors: {near: rows, far: rows}\ncircuit:\n"
    text += "".join(f"  - {{link: way-{i}, between: [near.{i}, far.{i}]}}\n" for i in range(1, 37))
    harness = compile_circuit(build_model(parse_document(text, "harness.yaml"), Equipment), {"rows": connector})
    plan = probe_plan(harness, "near")
    probed = {frozenset({probe.a, probe.b}) for probe in plan}
    assert {frozenset(pair) for pair in harness.connectors["near"].neighbours} <= probed
    assert len(plan) < 150
