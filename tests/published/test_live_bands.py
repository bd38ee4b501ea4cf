"""The ends of a live band lie where the parts' tolerances end: every corner and random points, against ngspice.

ngspice is a circuit simulator of other authors (Debian package ngspice; skipped with its reason where it is absent).
Its transformer is coupled inductors at 50 Hz. What each drawn unit is made of follows from textbook definitions, worked
out here: regulation = (V off load - V on load) / V on load, so V off load = V (1 + r), and at the rated current the
copper and what feeds the core drop the rest; copper 0.00393 per kelvin (IEC 60228) from 15 to 35 °C.
"""

import random
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from pathlib import Path

import pytest

from benchapp.actions.standalone.circuits import read_circuit
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.model.circuit import Load
from tests.published.circuit_simulator import magnitudes, needs_simulator

SUPPLY, MAINS = 240.0, 243.0
COLD, WARM = 1 + 0.00393 * (15 - 20), 1 + 0.00393 * (35 - 20)
USUAL_TURNS = 0.03
REGULATED = 0.25  # of a stated regulation, either way, as resources say

pytestmark = needs_simulator


@dataclass(frozen=True)
class Wound:
    """A winding: its ends, rated V and A, what the plate says of load, regulation, ohm with its tolerance (ratio)."""

    a: str
    b: str
    volts: float
    ohms: float
    by: float
    amps: float = 0.0
    basis: str = "off load"
    regulation: float = 0.0

    def written(self, name: str) -> str:
        current = f" at {self.amps!r} A" if self.amps else ""
        rated = f"{self.volts!r} V{current} {self.basis}".strip()
        more = f", regulation: {self.regulation * 100:g} %" if self.regulation else ""
        return (
            f"- {{winding: {name}, between: [{self.a}, {self.b}], rated: {rated}{more}, "
            f"resistance: {self.ohms!r} ohm ± {self.by * 100:g} %}}"
        )


@dataclass(frozen=True)
class Bench:
    """A made-up unit, its loads (two terminals and ohm), and the two terminals that are read."""

    windings: Mapping[str, Wound]
    read: tuple[str, str]
    loads: tuple[tuple[str, str, float], ...] = ()


def primary(a: str = "plug.L", b: str = "plug.N", volts: float = SUPPLY, ohms: float = 200.0) -> Wound:
    return Wound(a=a, b=b, volts=volts, ohms=ohms, by=0.1, basis="supply")


ONE, TWO, THREE = "outlet.1", "outlet.2", "outlet.3"
BENCHES = {
    "two windings against each other that nearly cancel": Bench(
        {"p": primary(), "x": Wound(ONE, "m", 9.0, 1.0, 0.1), "y": Wound(TWO, "m", 8.8, 1.0, 0.1)}, (ONE, TWO)
    ),
    "twice the rated current": Bench(
        {"p": primary(), "x": Wound(ONE, TWO, 9.0, 1.5, 0.15, 0.6, "on load", 0.16)}, (ONE, TWO), ((ONE, TWO, 7.5),)
    ),
    "half the rated current": Bench(
        {"p": primary(), "x": Wound(ONE, TWO, 9.0, 1.5, 0.15, 0.6, "on load", 0.16)}, (ONE, TWO), ((ONE, TWO, 30.0),)
    ),
    "a plate that is silent about load, at its rated current": Bench(
        {"p": primary(), "x": Wound(ONE, TWO, 9.0, 1.5, 0.15, 0.6, "", 0.16)}, (ONE, TWO), ((ONE, TWO, 15.0),)
    ),
    "a plate off load with a regulation": Bench(
        {"p": primary(), "x": Wound(ONE, TWO, 9.0, 1.4, 0.15, 0.6, "off load", 0.16)}, (ONE, TWO), ((ONE, TWO, 13.0),)
    ),
    "two unequal windings in parallel under load": Bench(
        {"p": primary(), "x": Wound(ONE, TWO, 9.0, 1.0, 0.15), "y": Wound(ONE, TWO, 8.8, 1.4, 0.15)},
        (ONE, TWO),
        ((ONE, TWO, 20.0),),
    ),
    "a centre tap with one half loaded, read across the whole": Bench(
        {"p": primary(), "x": Wound(ONE, TWO, 12.0, 1.2, 0.15), "y": Wound(TWO, THREE, 12.0, 1.2, 0.15)},
        (ONE, THREE),
        ((ONE, TWO, 10.0),),
    ),
    "two halves of a primary in series and two loaded outputs": Bench(
        {
            "p": primary("plug.L", "half", 120.0, 60.0),
            "q": primary("half", "plug.N", 120.0, 60.0),
            "x": Wound(ONE, TWO, 9.0, 1.5, 0.15, 0.6, "on load", 0.14),
            "y": Wound(TWO, THREE, 18.0, 12.0, 0.15, 0.2, "on load", 0.16),
        },
        (ONE, TWO),
        ((ONE, TWO, 15.0), (TWO, THREE, 90.0)),
    ),
    "two halves of a primary in parallel": Bench(
        {
            "p": primary("plug.L", "plug.N", SUPPLY, 400.0),
            "q": primary("plug.L", "plug.N", SUPPLY, 400.0),
            "x": Wound(ONE, TWO, 9.0, 1.5, 0.15, 0.6, "on load", 0.16),
        },
        (ONE, TWO),
        ((ONE, TWO, 15.0),),
    ),
}


def text_of(bench: Bench) -> str:
    parts = "\n".join(f"  {wound.written(name)}" for name, wound in bench.windings.items())
    return f"""\
equipment: made-up
title: Made up
class: II
supply: {{voltage: {SUPPLY:g} V, frequency: 50 Hz, power: 60 VA}}
connectors: {{plug: gb-13a-plug, outlet: din-5-180}}
circuit:
{parts}
  - {{barrier: apart, between: [plug, outlet]}}
"""


def feeding_drop(bench: Bench) -> float:
    """Drop before the core, a ratio: volt-amperes of all outputs through the primaries' resistance."""
    supplied = [w for w in bench.windings.values() if w.basis == "supply"]
    in_series = sum(w.volts for w in supplied) == SUPPLY
    ohms = sum(w.ohms for w in supplied) if in_series else 1 / sum(1 / w.ohms for w in supplied)
    outputs = [w for w in bench.windings.values() if w.basis != "supply"]
    taken = sum(w.volts * w.amps * (1 + (w.regulation if w.basis != "off load" else 0.0)) for w in outputs)
    return ohms * taken / SUPPLY**2


def drawn(wound: Wound, drop: float, turns: float, other: float, *, off: bool) -> tuple[float, float]:
    """Off-load V and ohm of one winding, for turns and regulation (or copper and warmth) from -1 to 1."""
    if wound.basis == "supply" or not wound.regulation:
        least, most = wound.ohms * (1 - wound.by) * COLD, wound.ohms * (1 + wound.by) * WARM
        by = 0.0 if wound.basis == "supply" else USUAL_TURNS
        return wound.volts * (1 + by * turns), least + (most - least) * (other + 1) / 2
    regulation = wound.regulation * (1 + REGULATED * other)
    free, loaded = (1.0, 1 / (1 + regulation)) if off else (1 + regulation, 1.0)
    ohms = (free * (1 - drop) - loaded) * wound.volts / wound.amps
    return wound.volts * free * (1 + USUAL_TURNS * turns), ohms


def units(bench: Bench, rng: random.Random) -> Iterator[dict[str, tuple[float, float]]]:
    """Every corner of the tolerances, then random units inside them: V off load and ohm of every winding."""
    drop = feeding_drop(bench)
    bases = [(False, True) if w.basis == "" else (w.basis == "off load",) for w in bench.windings.values()]
    turned = [(0.0,) if w.basis == "supply" else (-1.0, 1.0) for w in bench.windings.values()]
    ends = [list(product(turns, (-1.0, 1.0), basis)) for turns, basis in zip(turned, bases, strict=True)]
    for corner in product(*ends):
        yield {
            name: drawn(wound, drop, turns, other, off=off)
            for (name, wound), (turns, other, off) in zip(bench.windings.items(), corner, strict=True)
        }
    for _ in range(60):
        yield {
            name: drawn(wound, drop, rng.uniform(-1, 1), rng.uniform(-1, 1), off=rng.choice(basis))
            for (name, wound), basis in zip(bench.windings.items(), bases, strict=True)
        }


def simulated(bench: Bench, made: list[dict[str, tuple[float, float]]], folder: Path) -> list[float]:
    """What ngspice reads of each unit: all of them side by side in one deck."""
    lines = ["* units of one design"]
    for number, unit in enumerate(made):

        def at(node: str, number: int = number) -> str:
            return f"{node.replace('.', '')}x{number}"

        low = bench.read[1]
        lines += [f"V{number} {at('plug.L')} {at('plug.N')} AC {MAINS!r}", f"Rn{number} {at('plug.N')} 0 1"]
        lines.append(f"Rt{number} {at(low)} 0 1g")
        for name, (volts, ohms) in unit.items():
            wound = bench.windings[name]
            lines.append(f"L{name}{number} {at(wound.a)} {name}i{number} {2.0 * volts**2!r}")
            lines.append(f"R{name}{number} {name}i{number} {at(wound.b)} {ohms!r}")
        names = list(unit)
        for index, one in enumerate(names):
            lines += [
                f"K{one}{other}{number} L{one}{number} L{other}{number} 0.999999999" for other in names[index + 1 :]
            ]
        lines += [f"Rl{i}{number} {at(a)} {at(b)} {ohms!r}" for i, (a, b, ohms) in enumerate(bench.loads)]
    a, b = (end.replace(".", "") for end in bench.read)
    shown = [f".print ac vm({a}x{number},{b}x{number})" for number in range(len(made))]
    found = magnitudes("\n".join([*lines, ".ac lin 1 50 50", *shown, ".end", ""]), folder)
    assert len(found) == len(made)
    return found


@pytest.mark.parametrize("name", list(BENCHES))
def test_the_ends_of_a_live_band_are_the_extremes_of_all_tolerances(
    name: str, tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    bench = BENCHES[name]
    path = tmp_path / "made-up.yaml"
    path.write_text(text_of(bench), encoding="utf-8")
    mains = KnownQuantity(value_si=MAINS, standard_uncertainty=0.0, what="mains", source="made up")
    loads = tuple(Load(a=a, b=b, ohms=ohms) for a, b, ohms in bench.loads)
    band = expected_voltage(read_circuit(str(path)), *bench.read, mains=mains, loads=loads)
    read = simulated(bench, list(units(bench, random.Random(7))), tmp_path)
    assert band.upper is not None
    near = 2e-3 * band.upper
    assert max(read) <= band.upper + near
    assert band.upper <= max(read) + near
    if band.lower is None:
        assert min(read) < 0.15 * band.upper
    else:
        assert band.lower - near <= min(read) <= band.lower + near
    record_property("compared with ngspice, units inside live bands", len(read))
