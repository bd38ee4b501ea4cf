"""The size of the fault that leads: estimated from readings of circuits with any size, not those of the grid."""

import random
from collections.abc import Mapping, Sequence
from dataclasses import replace
from statistics import mean, median

import pytest

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.fault_modes import FaultMode, exactly, with_fault_modes
from benchapp.wiring.faults.weights import shipped_fault_weights
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.network.live import solve_live
from benchapp.wiring.network.solve import Corner, dead_network
from benchapp.wiring.search.diagnoser import Diagnoser
from benchapp.wiring.search.fault_magnitude import MagnitudeEstimator
from benchapp.wiring.search.likelihood import Reader
from benchapp.wiring.search.observations import Observation

MODES = shipped_fault_weights()
SECONDARIES = (("outlet.1", "outlet.2"), ("outlet.2", "outlet.3"), ("outlet.1", "outlet.3"))


def fault_of(circuit: Circuit, part: str, mode: Mode, size: float) -> FaultMode:
    index = next(i for i, branch in enumerate(circuit.branches) if branch.part == part)
    branch = circuit.branches[index]
    return FaultMode(part=part, mode=mode, branch=index, a=branch.a, b=branch.b, size=Range(low=size, high=size))


def readings(broken: Circuit, *, live: bool, rng: random.Random | None = None) -> list[Observation]:
    """Dead readings of the outputs and the primary, and the outputs' voltages; with `rng` scattered by 0.5 %."""
    network = dead_network(broken, State(), Corner.nominal)
    near = (lambda x: x * (1 + rng.uniform(-0.005, 0.005))) if rng else (lambda x: x)
    pairs = (*SECONDARIES, ("plug.L", "plug.N"))
    found = [Observation(a=a, b=b, kind=Kind.resistance, value=near(network.resistance(a, b) + 0.3)) for a, b in pairs]
    if live:
        assert broken.supply is not None
        solved = solve_live(broken, broken.supply, 240.0, state=State())
        found += [
            Observation(a=a, b=b, kind=Kind.voltage, value=near(abs(solved.between(a, b) or 0.0)), mains=240.0)
            for a, b in SECONDARIES
        ]
    return found


def errors_of(circuit: Circuit, units: Sequence[Circuit], part: str, rng: random.Random, *, live: bool) -> list[float]:
    """Estimate less truth, as shares of the winding, for random fractions on these units."""
    errors, sizer = [], MagnitudeEstimator(circuit, MODES.ranges(), Reader())
    for unit in units:
        share = rng.uniform(0.1, 0.9)
        broken = with_fault_modes(unit, [fault_of(unit, part, Mode.shorted_turns, share)])
        guess = (replace(fault_of(circuit, part, Mode.shorted_turns, 0.2), size=Range(low=0.12, high=0.25)),)
        found = sizer.likeliest(guess, readings(broken, live=live, rng=rng))
        errors.append(found[0].size.low - share)
    return errors


def scattered(circuit: Circuit, rng: random.Random) -> Circuit:
    """A unit whose resistances lie anywhere within their tolerances."""
    return replace(
        circuit,
        branches=tuple(
            branch
            if branch.resistance is None
            else replace(branch, resistance=exactly(rng.uniform(branch.resistance.low, branch.resistance.high)))
            for branch in circuit.branches
        ),
    )


@pytest.mark.parametrize("part", ["low", "high"])
def test_a_random_fraction_of_shorted_turns_is_estimated_from_volts_and_ohms(
    shipped: Mapping[str, Circuit], part: str
) -> None:
    rng, circuit = random.Random(31), shipped["tb-mu1"]
    errors = errors_of(circuit, [circuit] * 40, part, rng, live=True)
    assert max(map(abs, errors)) < 0.06
    assert abs(mean(errors)) < 0.02  # neither low nor high on the whole


@pytest.mark.parametrize("part", ["low", "high"])
def test_ohms_alone_do_nearly_as_well_on_a_unit_of_nominal_copper(shipped: Mapping[str, Circuit], part: str) -> None:
    rng, circuit = random.Random(32), shipped["tb-mu1"]
    errors = errors_of(circuit, [circuit] * 40, part, rng, live=False)
    assert max(map(abs, errors)) < 0.12
    assert abs(mean(errors)) < 0.03


@pytest.mark.parametrize("part", ["low", "high"])
def test_copper_anywhere_in_its_tolerance_blurs_the_estimate_but_does_not_bias_it(
    shipped: Mapping[str, Circuit], part: str
) -> None:
    rng, circuit = random.Random(33), shipped["tb-mu1"]
    errors = errors_of(circuit, [scattered(circuit, rng) for _ in range(60)], part, rng, live=True)
    assert median(map(abs, errors)) < 0.06
    assert sorted(map(abs, errors))[-6] < 0.2
    assert abs(mean(errors)) < 0.05


def test_the_search_says_the_estimated_share(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    broken = with_fault_modes(circuit, [fault_of(circuit, "low", Mode.shorted_turns, 0.35)])
    found = Diagnoser(circuit, MODES).diagnosis(readings(broken, live=True))
    first = found.suspects[0]
    assert first.part == "low"
    assert first.faults[0].size.low == pytest.approx(0.35, abs=0.03)
    assert f"about {first.faults[0].size.low * 100:.0f} % of its turns shorted" in first.words


def test_a_joint_of_any_resistance_is_estimated(shipped: Mapping[str, Circuit]) -> None:
    circuit, rng = shipped["tb-mu1"], random.Random(34)
    sizer = MagnitudeEstimator(circuit, MODES.ranges(), Reader())
    for _ in range(20):
        ohms = 10 ** rng.uniform(1.0, 4.5)
        broken = with_fault_modes(circuit, [fault_of(circuit, "high-b", Mode.high_resistance, ohms)])
        guess = (fault_of(circuit, "high-b", Mode.high_resistance, 5.0),)
        found = sizer.likeliest(guess, readings(broken, live=False, rng=rng))
        assert found[0].size.low == pytest.approx(ohms, rel=0.25)


def test_a_fault_without_a_size_keeps_none(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    opened = (replace(fault_of(circuit, "low", Mode.open, 0.0)),)
    assert (
        MagnitudeEstimator(circuit, MODES.ranges(), Reader()).likeliest(opened, readings(circuit, live=False)) == opened
    )
