"""What a repair makes stale: no part that could move a reading is left out."""

from collections.abc import Callable, Mapping
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.wiring.expected.influence import parts_behind
from benchapp.wiring.faults.fault_modes import exactly
from benchapp.wiring.model.circuit import Circuit, State, WiringProblem
from benchapp.wiring.network.live import solve_live
from benchapp.wiring.network.solve import Corner, dead_network


def test_a_joint_moves_the_readings_at_its_own_pin(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    assert parts_behind(circuit, "outlet.1", "outlet.2") == {"low-a", "low", "common-wire"}
    assert parts_behind(circuit, "outlet.1", "outlet.4") == {"low-a", "low-a-twin"}
    assert parts_behind(circuit, "plug.E", "case") == {"cord-earth", "case-bond"}


def test_a_live_reading_rests_on_everything_that_drives_it(shipped: Mapping[str, Circuit]) -> None:
    behind = parts_behind(shipped["tb-mu1"], "outlet.1", "outlet.2", live=True)
    assert {"plug-fuse", "cord-live", "cord-neutral", "primary", "low", "high", "low-a-twin"} <= behind
    assert "cord-earth" not in behind


def test_isolation_rests_on_its_barriers_and_on_what_hangs_on_either_side(shipped: Mapping[str, Circuit]) -> None:
    behind = parts_behind(shipped["tb-mu1"], "plug.L", "outlet.1")
    assert {"mains-to-outlet", "plug-fuse", "primary", "low-a"} <= behind


def test_an_open_switch_counts_when_closing_it_would_move_the_reading(shipped: Mapping[str, Circuit]) -> None:
    off = State(switches=frozenset({("power", "off")}))
    assert "power" in parts_behind(shipped["tb-rec1"], "plug.L", "plug.N", state=off)


def test_an_unknown_terminal_is_refused(shipped: Mapping[str, Circuit]) -> None:
    with pytest.raises(WiringProblem, match=r"outlet\.7"):
        parts_behind(shipped["tb-mu1"], "outlet.7", "outlet.1")


EDGE = st.tuples(st.integers(0, 5), st.integers(0, 5), st.sampled_from([1.0, 1.0, 1.0, 2.0, 47.0]))


@given(st.lists(EDGE.filter(lambda edge: edge[0] != edge[1]), min_size=3, max_size=12), st.data())
def test_no_repaired_resistor_leaves_a_reading_standing_that_it_could_have_changed(
    network: Callable[..., Circuit], edges: list[tuple[int, int, float]], data: st.DataObject
) -> None:
    circuit = network(edges)
    a, b = data.draw(
        st.sampled_from(
            [(x, y) for x in circuit.terminals for y in circuit.terminals if x < y][3:] or [circuit.terminals[:2]]
        )
    )
    if not {a, b} <= set(circuit.nodes):
        return
    behind = parts_behind(circuit, a, b)
    sound = dead_network(circuit, State(), Corner.nominal).resistance(a, b)
    for index, branch in enumerate(circuit.branches):
        for ohms in (1e-3, 3.3, 1e6):
            changed = list(circuit.branches)
            changed[index] = replace(branch, resistance=exactly(ohms))
            other = replace(circuit, branches=tuple(changed))
            read = dead_network(other, State(), Corner.nominal).resistance(a, b)
            if read != pytest.approx(sound, rel=1e-7):
                assert branch.part in behind


@pytest.mark.parametrize("name", ["tb-mu1", "tb-mu2", "tb-rec1"])
def test_no_part_outside_the_scope_moves_a_live_reading(shipped: Mapping[str, Circuit], name: str) -> None:
    circuit = shipped[name]
    assert circuit.supply is not None
    sound = solve_live(circuit, circuit.supply, 240.0, state=State())
    pairs = [
        (a, b) for a in circuit.terminals for b in circuit.terminals if a < b and sound.groups[a] == sound.groups[b]
    ]
    for part, kind in circuit.parts.items():
        if kind.name in ("barrier", "diode"):
            continue
        opened = solve_live(circuit, circuit.supply, 240.0, state=State(open_parts=frozenset({part})))
        for a, b in pairs:
            before, after = sound.between(a, b), opened.between(a, b)
            assert before is not None
            if after is None or abs(after - before) > 1e-6:
                assert part in parts_behind(circuit, a, b, live=True), (part, a, b)
