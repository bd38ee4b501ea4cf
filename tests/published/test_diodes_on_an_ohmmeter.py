"""What the plan claims of diodes against ngspice, a circuit simulator of other authors (Debian package ngspice).

Random networks of resistors and diodes are read there by ohmmeters of several test voltages, from one too low for any
junction to a moving-coil meter's strong lowest range, with junctions of silicon and of germanium. Every sound reading
must lie in the band for these probes, and a probe that counts as revealing a fault must read apart on every one of
the meters. Meters and junctions are common practice, no source.
"""

import random
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import permutations
from pathlib import Path

import pytest

from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.faults.fault_modes import fault_modes_of, with_fault_modes
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.probing.coverage import Ohmmeter, revealing
from tests.published.circuit_simulator import needs_simulator, printed
from tests.wiring.diode_circuits import PINS, made_up

METERS = ((0.2, 1e3), (0.5, 1e5), (1.5, 15.0), (2.8, 1e3), (3.0, 1e6))  # V open, ohm inside
JUNCTIONS = ("D(IS=1e-14 N=1)", "D(IS=1e-9 N=1.9)", "D(IS=2e-6 N=1)")
OVER_RANGE = 2e7
SIZES = {Mode.high_resistance: (Range(low=10, high=10),), Mode.drifted: (Range(low=2, high=2),)}

pytestmark = needs_simulator


@dataclass(frozen=True)
class Reading:
    """A circuit, the probes on it and the meter they come from; `about` finds it again."""

    circuit: Circuit
    black: str
    red: str
    volts: float
    inside: float
    about: object


def lines_of(number: int, one: Reading) -> Iterator[str]:
    def node(name: str) -> str:
        return "0" if name == one.black else f"n{number}_{name}"

    yield f"V{number} s{number} 0 {one.volts}"
    yield f"Rm{number} s{number} {node(one.red)} {one.inside}"
    for index, branch in enumerate(one.circuit.branches):
        ends = f"{node(branch.a)} {node(branch.b)}"
        if branch.kind.one_way:
            yield f"D{number}_{index} {ends} junction"
        elif branch.resistance is not None:
            yield f"R{number}_{index} {ends} {branch.resistance.nominal!r}"
    yield from (f"Rt{number}_{k} {node(name)} 0 1e12" for k, name in enumerate(one.circuit.nodes) if name != one.black)


def simulated(readings: list[Reading], junction: str, folder: Path) -> list[float]:
    """Ohm that each meter shows, infinite over its range."""
    deck = ["* ohmmeters", f".model junction {junction}"]
    deck += [line for number, one in enumerate(readings) for line in lines_of(number, one)]
    shown = [f"print v(n{number}_{one.red})" for number, one in enumerate(readings)]
    deck += [".options reltol=1e-6 abstol=1e-15", ".control", "set numdgt=12", "op", *shown, ".endc", ".end", ""]
    said = printed("\n".join(deck), folder)
    found = [float(value) for value in re.findall(r"^v\(n\d+_\w+\) = (\S+)$", said, re.MULTILINE)]
    assert len(found) == len(readings), said[-2000:]
    ohms = []
    for one, volts in zip(readings, found, strict=True):
        amperes = (one.volts - volts) / one.inside
        ohms.append(float("inf") if amperes <= volts / OVER_RANGE else max(volts, 0.0) / amperes)
    return ohms


@pytest.mark.parametrize("seed", range(30))
def test_every_claim_about_diodes_holds_on_every_ohmmeter(
    seed: int, tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    rng = random.Random(seed)
    circuit, junction = made_up(rng, diodes=rng.randint(1, 3)), JUNCTIONS[seed % len(JUNCTIONS)]
    fault_modes = fault_modes_of(circuit, SIZES)
    table = revealing(circuit, State(), Ohmmeter(), fault_modes)
    claims = [
        (pair, number)
        for column, pair in enumerate(table.pairs)
        for number in range(len(fault_modes))
        if table.flags[number, column]
    ]
    asked = [
        Reading(with_fault_modes(circuit, faults), black, red, volts, inside, (black, red, number))
        for volts, inside in METERS
        for (black, red), number, faults in (
            *((pair, -1, ()) for pair in permutations(PINS, 2)),
            *((pair, number, (fault_modes[number],)) for pair, number in claims),
        )
    ]
    read = {(one.about, one.volts): ohms for one, ohms in zip(asked, simulated(asked, junction, tmp_path), strict=True)}
    for volts, _ in METERS:
        for black, red in permutations(PINS, 2):
            sound = read[(black, red, -1), volts]
            band = expected_resistance(circuit, black, red, red_on_b=True, temperature=20.0)
            assert band.lower is None or sound >= band.lower * 0.999, (black, red, volts)
            assert band.upper is None or sound <= band.upper * 1.001, (black, red, volts)
        for (black, red), number in claims:
            sound, faulty = read[(black, red, -1), volts], read[(black, red, number), volts]
            apart = abs(sound - faulty) > 0.2 + 0.01 * min(sound, faulty)
            assert apart, (fault_modes[number], black, red, volts, sound, faulty)
    record_property("compared with ngspice, claims about diodes", len(claims) * len(METERS))
