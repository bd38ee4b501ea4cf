"""Two faults at once: found from dead readings, and from live ones that an ohmmeter cannot replace."""

import random
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations
from statistics import mean

import numpy as np
import pytest

from benchapp.quantities import Kind
from benchapp.wiring import Circuit, Clue, Findings, Locator, State, probe_plan
from benchapp.wiring.defects import Defect, Mode, Range, defects_of, with_defects
from benchapp.wiring.faults import shipped_fault_modes
from benchapp.wiring.live import solve_live
from benchapp.wiring.solve import Corner
from tests.wiring.figures import faults_of
from tests.wiring.simulator import can_be_seen, made_up_circuit, made_up_unit, readings, search, technician

MODES = shipped_fault_modes()


def pairs_of(circuit: Circuit, rng: random.Random, count: int) -> list[tuple[Defect, Defect]]:
    """Pairs of faults that can be told apart: each is seen beside the other, and nothing else reads like it."""
    single = [d for d in faults_of(circuit, rng) if d.mode not in (Mode.crossed, Mode.bridged)]
    seen = [defect for defect in single if can_be_seen(circuit, defect)]
    alone = told_from_all_others(circuit, seen)
    every = [pair for pair in combinations(alone, 2) if apart(*pair) and both_show(circuit, *pair)]
    return rng.sample(every, min(count, len(every)))


def told_from_all_others(circuit: Circuit, defects: Sequence[Defect]) -> list[Defect]:
    """Those that some pair of terminals tells from every fault of every other part, of whatever size."""
    others = [d for d in defects_of(circuit, MODES.ranges()) if d.mode not in (Mode.crossed, Mode.bridged)]
    boxes = [(other.part, *box_of(circuit, other)) for other in others]
    kept = []
    for defect in defects:
        low, high = box_of(circuit, defect)
        if all(
            part == defect.part or bool(np.any((low > most * 1.03 + 1.0) | (high < least * 0.97 - 1.0)))
            for part, least, most in boxes
        ):
            kept.append(defect)
    return kept


def box_of(circuit: Circuit, defect: Defect) -> tuple[np.ndarray, np.ndarray]:
    """Lowest and highest reading between every two terminals over tolerances and the size of the fault."""
    ends = [
        readings(with_defects(circuit, [replace(defect, size=Range(low=size, high=size))]), corner)
        for size in dict.fromkeys((defect.size.low, defect.size.high))
        for corner in (Corner.low, Corner.high)
    ]
    return np.min(ends, axis=0), np.max(ends, axis=0)


def apart(one: Defect, other: Defect) -> bool:
    return one.part != other.part and not {one.a, one.b} & {other.a, other.b}


def both_show(circuit: Circuit, one: Defect, other: Defect) -> bool:
    """Whether each still moves some reading once the other is there: behind an open joint nothing can be told."""
    return all(can_be_seen(with_defects(circuit, [first]), second) for first, second in ((one, other), (other, one)))


def named(found: Findings) -> set[str]:
    return {suspect.part for suspect in found.suspects[:3]} | set(found.inseparable)


def test_two_faults_at_once_are_among_the_first_three_suspects() -> None:
    rng, right, made_up = random.Random(11), [], random.Random(12)
    for circuit in [made_up_circuit(made_up.randint(5, 14), made_up) for _ in range(12)]:
        locator, plan = Locator(circuit, MODES), probe_plan(circuit, "pin")
        for two in pairs_of(circuit, rng, 4):
            read = technician(with_defects(made_up_unit(circuit, rng), two), rng, noise=True)
            found, _ = search(locator, read, [read(probe.a, probe.b, 99) for probe in plan])
            right.append({one.part for one in two} <= named(found))
    assert len(right) >= 40
    assert mean(right) >= 0.9


def defect_of(circuit: Circuit, part: str, mode: Mode, size: float = 0.0) -> Defect:
    found = next(d for d in defects_of(circuit, {}) if d.part == part and d.mode is mode)
    return replace(found, size=Range(low=size, high=size))


def live_clues(circuit: Circuit, two: Sequence[Defect], pairs: Sequence[tuple[str, str]]) -> list[Clue]:
    assert circuit.supply is not None
    solved = solve_live(with_defects(circuit, two), circuit.supply, 240.0, state=State())
    volts = [solved.between(a, b) for a, b in pairs]
    return [
        Clue(a=a, b=b, kind=Kind.voltage, value=round(abs(v), 2), mains=240.0)
        for (a, b), v in zip(pairs, volts, strict=True)
        if v is not None
    ]


OUTPUTS = (("outlet.1", "outlet.2"), ("outlet.2", "outlet.3"), ("outlet.4", "outlet.2"), ("outlet.4", "outlet.3"))
LIVE_PAIRS = [  # shorted turns that dead readings hardly show, beside a joint that they do
    (("low", Mode.shorted_turns, 0.2), ("high-b", Mode.high_resistance, 40.0)),
    (("high", Mode.shorted_turns, 0.15), ("low-a-twin", Mode.open, 0.0)),
    (("primary", Mode.shorted_turns, 0.3), ("low-a", Mode.open, 0.0)),
    (("low", Mode.shorted_turns, 0.3), ("cord-earth", Mode.open, 0.0)),
    (("high", Mode.shorted_turns, 0.4), ("case-bond", Mode.high_resistance, 25.0)),
]


@pytest.mark.parametrize("two", LIVE_PAIRS, ids=lambda two: " and ".join(one[0] for one in two))
def test_a_pair_of_which_only_volts_show_one_is_found_from_live_and_dead_readings(
    shipped: Mapping[str, Circuit], two: tuple[tuple[str, Mode, float], ...]
) -> None:
    circuit = shipped["tb-mu1"]
    faults = [defect_of(circuit, *one) for one in two]
    read = technician(with_defects(circuit, faults), random.Random(5), noise=False)
    dead = [read(a, b, 99) for a, b in (*OUTPUTS, ("outlet.1", "outlet.4"), ("plug.E", "case"), ("plug.L", "plug.N"))]
    found = Locator(circuit, MODES).findings([*dead, *live_clues(circuit, faults, OUTPUTS)])
    assert {one.part for one in faults} <= named(found), found.sentence


def test_live_readings_do_not_keep_pairs_from_being_tried(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    faults = [defect_of(circuit, "high-b", Mode.open), defect_of(circuit, "case-bond", Mode.open)]
    read = technician(with_defects(circuit, faults), random.Random(6), noise=False)
    pairs = [("plug.E", "case"), ("outlet.1", "outlet.2"), ("outlet.2", "outlet.3"), ("outlet.1", "outlet.3")]
    clues = [replace(read(a, b, 99), times=2) for a, b in pairs]
    clues += live_clues(circuit, faults, [("outlet.1", "outlet.2"), ("outlet.4", "outlet.2")])
    found = Locator(circuit, MODES).findings(clues)
    assert not found.disagreeing
    assert len(found.suspects[0].faults) == 2
