"""The search for the broken part: against a simulator that is not the diagnoser's own table."""

import importlib.util
import random
import sys
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations
from pathlib import Path
from statistics import mean
from types import ModuleType

import numpy as np
import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.quantities.dimensions import Kind
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.faults.fault_modes import FaultMode, fault_modes_of, with_fault_modes
from benchapp.wiring.faults.weights import Repaired, shipped_fault_weights, weigh
from benchapp.wiring.model.circuit import Circuit, State, WiringProblem
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.network.live import solve_live
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.hypotheses import boxes
from benchapp.wiring.search.likelihood import Reader
from benchapp.wiring.search.observations import ObservationProblem, read_observation
from tests.wiring.figures import made_up_circuits, run_one


@pytest.fixture(scope="module")
def bench() -> ModuleType:
    """The made-up technician and units of simulator.py."""
    spec = importlib.util.spec_from_file_location("simulator", Path(__file__).parents[1] / "simulator.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["simulator"] = module
    spec.loader.exec_module(module)
    return module


MODES = shipped_fault_weights()


def a_cable(cores: int) -> Circuit:
    """A made-up cable: two faces of one row, a core from each pin to the same pin of the other."""
    pins = "\n".join(f'  - {{pin: "{n}", x: {4 * n}, y: 4, width: 1, height: 1}}' for n in range(1, cores + 1))
    face = f"""connector: row
title: A row
say: row
source: made up
status: from memory
view: from the mating side
outline:
  - {{shape: rectangle, x: {2 * cores}, y: 4, width: {4 * cores + 8}, height: 8}}
pins:
"""
    links = "\n".join(f"  - {{link: core-{n}, between: [near.{n}, far.{n}]}}" for n in range(1, cores + 1))
    text = f"equipment: cable\ntitle: A cable\nclass: none\nconnectors: {{near: row, far: row}}\ncircuit:\n{links}\n"
    connector = build_model(parse_document(face + pins + "\n", "row.yaml"), Connector)
    equipment = build_model(parse_document(text, "cable.yaml"), Equipment)
    return compile_circuit(equipment, {"row": connector})


def diagnosis_of(circuit: Circuit, *texts: str, mains: float | None = None):
    return Diagnoser(circuit, MODES).diagnosis([read_observation(text, circuit, mains=mains) for text in texts])


def test_an_open_joint_is_found_and_said_as_a_technician_would(shipped: Mapping[str, Circuit]) -> None:
    found = diagnosis_of(shipped["tb-mu1"], "outlet.1,outlet.4=OL", "outlet.1,outlet.2=1.4 ohm", "outlet.2,outlet.4=OL")
    assert found.suspects[0].words == "the joint at pin 4 is open"
    assert found.suspects[0].speaks_for[0] == "OL between pin 1 of the outlet and pin 4 of the outlet"


def test_after_one_open_reading_the_next_probe_splits_the_two_joints(shipped: Mapping[str, Circuit]) -> None:
    found = diagnosis_of(shipped["tb-mu1"], "outlet.1,outlet.4=OL")
    assert {suspect.part for suspect in found.suspects[:2]} == {"low-a", "low-a-twin"}
    assert found.next_probe is not None
    assert len({found.next_probe.a, found.next_probe.b} & {"outlet.1", "outlet.4"}) == 1
    assert found.next_probe.bits > 0.8


def test_a_crossed_pair_is_found(shipped: Mapping[str, Circuit], bench: ModuleType) -> None:
    circuit = shipped["tb-mu1"]
    crossed = FaultMode(part="outlet.2, outlet.3", mode=Mode.crossed, a="outlet.2", b="outlet.3")
    read = bench.technician(with_fault_modes(circuit, [crossed]), random.Random(1), noise=True)
    found, observations = bench.search(Diagnoser(circuit, MODES), read)
    assert found.found == ("outlet.2, outlet.3",)
    assert "crossed" in found.sentence
    assert len(observations) < 8


def test_shorted_turns_are_found_by_voltages_where_the_ohmmeter_sees_nothing(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    assert circuit.supply is not None
    low = next(i for i, branch in enumerate(circuit.branches) if branch.part == "low")
    short = FaultMode(
        part="low", mode=Mode.shorted_turns, branch=low, a="low.a", b="common", size=Range(low=0.21, high=0.21)
    )
    solution = solve_live(with_fault_modes(circuit, [short]), circuit.supply, 240.0, state=State())
    pairs = [("outlet.1", "outlet.2"), ("outlet.2", "outlet.3"), ("outlet.4", "outlet.2")]
    volts = [f"{a},{b}={abs(solution.between(a, b) or 0):.2f} V" for a, b in pairs]
    found = diagnosis_of(circuit, "outlet.1,outlet.3=13.3 ohm", "plug.L,plug.N=480 ohm", *volts, mains=240.0)
    assert found.suspects[0].part == "low"
    assert "of its turns shorted" in found.suspects[0].words
    assert found.suspects[0].share > 0.5


def test_repairs_of_this_workshop_move_the_first_guess(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    history = [Repaired(part="cord-live", mode=Mode.open)] * 4 + [Repaired(part="low", mode=Mode.open)] * 2
    reading = [read_observation("plug.L,plug.N=OL", circuit)]
    before = Diagnoser(circuit, MODES).diagnosis(reading)
    after = Diagnoser(circuit, MODES, history=history).diagnosis(reading)
    assert before.suspects[0].part == "plug-fuse"
    assert after.suspects[0].part == "cord-live"
    expected = "4 of your last 6 faults on this design were the live core of the cord"
    assert after.suspects[0].history == expected


def test_chances_add_up_and_a_mode_of_no_weight_is_left_out(shipped: Mapping[str, Circuit]) -> None:
    weighted = weigh(shipped["tb-rec1"], MODES)
    assert sum(weighted.chances) == pytest.approx(1.0)
    assert min(weighted.chances) > 0


def test_a_marginal_reading_moves_chances_only_a_little(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    start = Diagnoser(circuit, MODES).diagnosis([])
    at_the_edge = Diagnoser(circuit, MODES).diagnosis([read_observation("plug.L,plug.N=428 ohm", circuit)])
    share = {suspect.part: suspect.share for suspect in start.suspects}
    for suspect in at_the_edge.suspects:
        if suspect.part in share:
            assert suspect.share < 5 * share[suspect.part] + 0.05


def test_readings_that_nothing_explains_are_named_to_be_taken_again(shipped: Mapping[str, Circuit]) -> None:
    found = diagnosis_of(
        shipped["tb-mu1"], "outlet.1,outlet.4=47 kohm", "outlet.2,outlet.1=1.2 ohm", "outlet.2,outlet.4=1.2 ohm"
    )
    assert [observation.pair for observation in found.inconsistent] == [frozenset({"outlet.1", "outlet.4"})]
    assert "Take these again: 47 kohm between pin 1" in found.sentence


def test_readings_that_a_rare_fault_explains_are_not_called_contradictory() -> None:
    """Bridged pins of a long cable are so rare beside a slip that they do not lead at once."""
    cable = a_cable(cores=37)
    readings = ("near.3,near.4=0.3 ohm", "near.3,far.3=0.5 ohm", "near.4,near.5=OL")
    found = diagnosis_of(cable, *readings)
    assert not found.inconsistent
    assert "near.3, near.4" in [suspect.part for suspect in found.suspects]
    assert found.sentence.startswith("No fault stands out yet; the likeliest: pin 3 of the")
    assert found.next_probe is not None


def test_a_joint_in_a_broad_range_is_not_ruled_out_by_a_drifted_part_that_a_narrow_one_fits() -> None:
    """A joint of 31.6 kohm in series with a resistor: ten readings through both named the resistor, for certain."""
    circuit = made_up_circuits(47, 1)[46]
    joint = next(one for one in fault_modes_of(circuit, {}) if one.part == "j24" and one.mode is Mode.high_resistance)
    joint = replace(joint, size=Range(low=31622.8, high=31622.8))
    assert run_one(Diagnoser(circuit, MODES), joint, random.Random(3), noise=False, slips=False).right


def test_a_search_does_not_end_with_nothing_wrong_before_every_fault_that_shows_was_looked_at() -> None:
    """A bridge of 1.7 kohm over 415 ohm is unlikely: no probe was worth its bits, and the search ended without it."""
    circuit = made_up_circuits(69, 1)[68]
    bridge = next(one for one in fault_modes_of(circuit, {}) if one.part == "pin.5, pin.6" and one.mode is Mode.bridged)
    bridge = replace(bridge, size=Range(low=1732.05, high=1732.05))
    assert run_one(Diagnoser(circuit, MODES), bridge, random.Random(0), noise=False, slips=False).right


def test_readings_that_all_agree_with_a_sound_unit_accuse_nobody(shipped: Mapping[str, Circuit]) -> None:
    """Behind its capacitor no ohmmeter sees the small driver: that it may be open is said, and nobody is accused."""
    found = diagnosis_of(shipped["tb-ls1"], "input.black,input.red=6.4 ohm", "input.red,basket=OL")
    assert found.next_probe is None
    assert found.found == ("",)
    assert found.suspects[0].part == ""
    assert "small-driver" in found.ambiguity_group
    assert "" not in found.ambiguity_group
    assert found.sentence.startswith("Every reading agrees with a sound unit. What these readings would not show: the")


def test_a_reading_that_failed_by_more_than_the_meter_errs_ends_with_no_sound_unit(
    shipped: Mapping[str, Circuit],
) -> None:
    """Its least is 0.92 ohm, the meter's standard uncertainty 0.03 ohm: 0.87 ohm is told from it, though not surely."""
    circuit = shipped["tb-mu2"]
    texts = ("output.inner,output.outer=0.87 ohm twice", "plug.L,plug.N=311 ohm", "plug.L,output.inner=OL")
    texts += ("output.inner,plug.E=OL", "plug.E,plug.L=OL")
    readings = [read_observation(text, circuit) for text in texts]
    ends = [
        Diagnoser(circuit, MODES).diagnosis([replace(readings[0], uncertainty=u), *readings[1:]]) for u in (0.03, 0.1)
    ]
    assert [one.next_probe for one in ends] == [None, None]
    assert ends[0].found != ("",)
    assert ends[0].suspects[0].part == "secondary"
    assert ends[1].found == ("",)


@pytest.mark.parametrize(
    ("between_pins", "live_to_earth", "neutral_to_earth"), [("99.6", "6.7", "106.0"), ("99.6", "146.0", "41.0")]
)
def test_a_leak_of_few_ohms_behind_the_live_parts_is_no_bridge_of_pins_alone(
    shipped: Mapping[str, Circuit], between_pins: str, live_to_earth: str, neutral_to_earth: str
) -> None:
    """Of 6 ohm from the element's live end, and of 41 ohm from its neutral one: what reads is 106 ohm of element."""
    found = diagnosis_of(
        shipped["tb-hp1"],
        f"plug.L,plug.N={between_pins} ohm",
        f"plug.L,plug.E={live_to_earth} ohm",
        f"plug.N,plug.E={neutral_to_earth} ohm",
    )
    named = {one.part for one in found.suspects[:3]}
    assert {"mains-to-case", "mains-to-plate"} & named


def test_insulation_is_thought_to_leak_at_every_place_that_reads_otherwise(shipped: Mapping[str, Circuit]) -> None:
    """The hot plate's mains side has two: what metal joins to the live pin, and what it joins to neutral."""
    leaks = [one for one in weigh(shipped["tb-hp1"], MODES).fault_modes if one.part == "mains-to-case"]
    assert {(one.a, one.b) for one in leaks} == {("mains.L", "case"), ("mains.N", "case")}
    assert min(one.size.low for one in leaks if one.mode is Mode.leaking) == 1.0


def test_while_the_search_goes_on_it_says_so_far(shipped: Mapping[str, Circuit]) -> None:
    readings = ("outlet.1,outlet.3=13.4", "outlet.2,outlet.3=12.2", "outlet.2,outlet.4=1.4", "plug.L,plug.N=480")
    found = diagnosis_of(shipped["tb-mu1"], *readings)
    assert found.next_probe is not None
    assert found.found in ((), ("",))
    assert "Every reading agrees" not in found.sentence


@pytest.mark.parametrize(
    ("text", "error", "words"),
    [
        ("outlet.1,outlet.9=OL", WiringProblem, "no terminal 'outlet.9'"),
        ("outlet.1=OL", ObservationProblem, "write it like"),
        ("outlet.1,outlet.1=OL", ObservationProblem, "write it like"),
        ("outlet.1,outlet.2=7.1 V", ObservationProblem, "mains voltage"),
    ],
)
def test_a_reading_that_cannot_be_used_is_refused_in_a_sentence(
    shipped: Mapping[str, Circuit], text: str, error: type[Exception], words: str
) -> None:
    with pytest.raises(error, match=words):
        read_observation(text, shipped["tb-mu1"])


def test_two_readings_of_one_pair_are_refused(shipped: Mapping[str, Circuit]) -> None:
    with pytest.raises(ObservationProblem, match="two readings between"):
        diagnosis_of(shipped["tb-mu1"], "outlet.1,outlet.2=1.2 ohm", "outlet.2,outlet.1=OL")


def outcome(
    bench: ModuleType, diagnoser: Diagnoser, fault_mode: FaultMode, rng: random.Random, **how: bool
) -> tuple[bool, int] | None:
    """Whether the search names the faulty part, and its probes; None when no reading could show this fault."""
    circuit = diagnoser.circuit
    if not bench.can_be_seen(circuit, fault_mode):
        return None
    unit = bench.made_up_unit(circuit, rng) if how["noise"] else circuit
    slip_at = rng.randrange(4) if how.get("slip") and rng.random() < 0.2 else -1
    read = bench.technician(with_fault_modes(unit, [fault_mode]), rng, noise=how["noise"], slip_at=slip_at)
    found, observations = bench.search(diagnoser, read)
    return fault_mode.part in bench.reported_parts(found), len(observations)


@pytest.mark.parametrize("name", ["tb-mu1", "tb-mu2", "tb-rec1", "tb-ls1"])
def test_every_single_fault_on_the_grid_is_found_without_noise(
    shipped: Mapping[str, Circuit], bench: ModuleType, name: str
) -> None:
    circuit = shipped[name]
    diagnoser, rng = Diagnoser(circuit, MODES), random.Random(3)
    for fault_mode in weigh(circuit, MODES).fault_modes[::9]:
        size = fault_mode.size.middle
        result = outcome(bench, diagnoser, replace(fault_mode, size=Range(low=size, high=size)), rng, noise=False)
        assert result is None or result[0], fault_mode


def made_up(bench: ModuleType, count: int, seed: int) -> list[Circuit]:
    rng = random.Random(seed)
    return [bench.made_up_circuit(rng.randint(5, 40), rng) for _ in range(count)]


@pytest.mark.parametrize(("slip", "bar"), [(False, 0.97), (True, 0.90)])
def test_faults_off_the_grid_are_found_with_an_imperfect_meter(
    shipped: Mapping[str, Circuit], bench: ModuleType, slip: bool, bar: float
) -> None:
    rng = random.Random(5)
    results = []
    for circuit in [*shipped.values(), *made_up(bench, 4, 7)]:
        diagnoser = Diagnoser(circuit, MODES)
        results += [
            outcome(bench, diagnoser, bench.made_up_fault(circuit, rng), rng, noise=True, slip=slip) for _ in range(8)
        ]
    seen = [result for result in results if result is not None]
    assert len(seen) > 30
    assert mean(right for right, _ in seen) >= bar


@pytest.mark.parametrize("slip", [0.04, 1e-6], ids=["guarding against slips", "trusting every reading"])
def test_the_search_takes_few_more_probes_than_the_best_possible_tree(bench: ModuleType, slip: float) -> None:
    only = MODES.model_copy(update={"parts": {kind: {Mode.open: 1.0} for kind in MODES.parts}, "pins": {}})
    ours, best = [], []
    for seed in range(48):
        rng = random.Random(seed)
        circuit = bench.made_up_circuit(rng.choice([4, 5, 7]), rng)
        opens = [fault_mode for fault_mode in weigh(circuit, MODES).fault_modes if fault_mode.mode is Mode.open]
        diagnoser = Diagnoser(circuit, only, reader=Reader(slip=slip))
        reads = [bench.technician(with_fault_modes(circuit, [one]), rng, noise=False) for one in opens]
        ours.append(mean(len(bench.search(diagnoser, read)[1]) for read in reads))
        best.append(least_mean_probes(circuit, opens))
    assert mean(best) >= 1.0
    assert mean(ours) <= 1.25 * mean(best)


def least_mean_probes(circuit: Circuit, fault_modes: Sequence[FaultMode]) -> float:
    """Mean depth of the best decision tree over equally likely faults, by trying every probe at every node.

    Number 0 is the sound circuit: it must be told from every fault too, but nobody searches for it.
    """
    table = boxes(circuit, State(), fault_modes, Reader(leads=(0.0, 0.0)))
    middle = np.round(np.log((table.low + table.high) / 2 + 1.0), 1)
    columns = {tuple(column) for column in middle.T}

    @cache
    def total(faults: frozenset[int]) -> int:
        if len(faults) < 2:
            return 0
        costs = []
        for column in columns:
            groups: dict[float, set[int]] = {}
            for fault in faults:
                groups.setdefault(column[fault], set()).add(fault)
            if len(groups) > 1:
                costs.append(len(faults - {0}) + sum(total(frozenset(group)) for group in groups.values()))
        return min(costs, default=0)

    return total(frozenset(range(len(fault_modes) + 1))) / len(fault_modes)


def test_the_best_tree_respects_the_entropy_bound(shipped: Mapping[str, Circuit]) -> None:
    # Shannon: n equally likely faults, read in at most k different ways, take log n / log k probes on average
    circuit = shipped["tb-mu1"]
    names = ("low-a", "low-a-twin", "high-b")
    joints = [one for one in weigh(circuit, MODES).fault_modes if one.mode is Mode.open and one.part in names]
    sound_or_open = 2
    assert np.log(len(joints)) / np.log(sound_or_open) <= least_mean_probes(circuit, joints) <= len(joints)


def test_every_pair_of_terminals_has_its_box(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-rec1"]
    table = boxes(circuit, State(), weigh(circuit, MODES).fault_modes, Reader())
    assert set(table.column) == {frozenset(pair) for pair in combinations(circuit.terminals, 2)}
    assert bool((table.low <= table.high).all())


def test_a_reading_typed_with_a_unit_is_read_in_si(shipped: Mapping[str, Circuit]) -> None:
    observation = read_observation("line.1, line.2 = 98k", shipped["tb-rec1"])
    assert (observation.kind, observation.value) == (Kind.resistance, 98_000.0)
