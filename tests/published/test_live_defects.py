"""What a meter reads live of a unit with a fault, against ngspice with that fault put into its network by hand.

Shorted turns are a section of the winding with a wire across it: a loaded winding more on the same core. A short across
a winding leaves the winding where it is. A leaking capacitor goes on charging. ngspice is a circuit simulator of other
authors (Debian package ngspice; skipped with its reason where it is absent). Beside it stand closed formulas.
"""

import random

import pytest

from benchapp.actions.standalone.circuits import read_circuit
from benchapp.wiring.faults.fault_modes import FaultMode, with_fault_modes
from benchapp.wiring.faults.live_change import SolvedCircuit
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.network.live import solve_live, supply_of
from tests.published.circuit_simulator import magnitudes, needs_simulator

MAINS, PRIMARY, PINS = 243.0, 200.0, ("outlet.1", "outlet.2", "outlet.3")
WINDINGS = {"primary": (240.0, PRIMARY), "low": (9.0, 1.5), "high": (18.0, 9.0)}
ENDS = {"primary": ("l", "0"), "low": ("o1", "o2"), "high": ("o2", "o3")}
TEXT = f"""\
equipment: made-up
title: Made up
class: II
supply: {{voltage: 240 V, frequency: 50 Hz, power: 20 VA}}
connectors: {{plug: gb-13a-plug, outlet: din-5-180}}
circuit:
  - {{winding: primary, between: [plug.L, plug.N], rated: 240 V supply, resistance: {PRIMARY} ohm}}
  - {{winding: low, between: [outlet.1, outlet.2], rated: 9 V off load, resistance: 1.5 ohm}}
  - {{winding: high, between: [outlet.2, outlet.3], rated: 18 V off load, resistance: 9 ohm}}
  - {{resistor: across, between: [outlet.1, outlet.3], resistance: 220 ohm}}
  - {{resistor: series, between: [outlet.3, mid], resistance: 1 kohm}}
  - {{capacitor: charge, between: [mid, outlet.2], capacitance: 2.2 µF}}
  - {{link: to-4, between: [mid, outlet.4]}}
  - {{barrier: apart, between: [plug, outlet]}}
"""


@pytest.fixture(scope="module")
def circuit(tmp_path_factory: pytest.TempPathFactory) -> Circuit:
    path = tmp_path_factory.mktemp("unit") / "made-up.yaml"
    path.write_text(TEXT, encoding="utf-8")
    return read_circuit(str(path))


def deck(part: str, mode: Mode, size: float) -> str:
    """The unit of TEXT with one fault, written down by hand."""
    lines, coils = ["* unit with a fault", f"V1 l 0 AC {MAINS!r}", "Rt o2 0 1g", "Racross o1 o3 220"], []
    for name, (volts, ohms) in WINDINGS.items():
        a, b = ENDS[name]
        share = size if (name, mode) == (part, Mode.shorted_turns) else 0.0
        sections = [(1 - share, a, f"{name}m" if share else b)] + ([(share, f"{name}m", b)] if share else [])
        for index, (part_of, start, end) in enumerate(sections):
            coil = f"{name}{index}"
            lines.append(f"L{coil} {start} {coil}i {2.0 * (volts * part_of) ** 2!r}")
            lines.append(f"R{coil} {coil}i {end} {ohms * part_of!r}")
            coils.append(coil)
        if share:
            lines.append(f"Rwire {name}m {b} 1u")
        if (name, mode) == (part, Mode.shorted):
            lines.append(f"Rshort {a} {b} {size!r}")
    for index, one in enumerate(coils):
        lines += [f"K{one}{other} L{one} L{other} 0.999999999" for other in coils[index + 1 :]]
    lines += ["Rseries o3 mid 1k", "Ccharge mid o2 2.2u"]
    if mode is Mode.leaking:
        lines.append(f"Rleak mid o2 {size!r}")
    return "\n".join([*lines, ".ac lin 1 50 50", ".print ac vm(o1,o2) vm(o2,o3) vm(o1,o3) vm(mid,o2)", ".end", ""])


def fault_mode(circuit: Circuit, part: str, mode: Mode, size: float) -> FaultMode:
    number = next(i for i, branch in enumerate(circuit.branches) if branch.part == part)
    return FaultMode(
        part=part,
        mode=mode,
        branch=number,
        a=circuit.branches[number].a,
        b=circuit.branches[number].b,
        size=Range(low=size, high=size),
    )


PAIRS = (("outlet.1", "outlet.2"), ("outlet.2", "outlet.3"), ("outlet.1", "outlet.3"), ("outlet.4", "outlet.2"))


def solved_whole(circuit: Circuit, wrong: FaultMode) -> list[float]:
    found = solve_live(with_fault_modes(circuit, [wrong]), supply_of(circuit), MAINS, state=State())
    return [abs(found.between(a, b) or 0.0) for a, b in PAIRS]


def solved_by_update(circuit: Circuit, wrong: FaultMode) -> list[float]:
    found = SolvedCircuit(circuit, State(), MAINS).with_fault_mode(wrong)
    assert found is not None
    location = circuit.terminals.index
    return [abs(found[0][location(a)] - found[0][location(b)]) for a, b in PAIRS]


@needs_simulator
@pytest.mark.parametrize("solved", [solved_whole, solved_by_update])
@pytest.mark.parametrize(
    ("part", "mode", "sizes"),
    [
        ("low", Mode.shorted_turns, (0.02, 0.9)),
        ("high", Mode.shorted_turns, (0.02, 0.9)),
        ("primary", Mode.shorted_turns, (0.02, 0.9)),
        ("low", Mode.shorted, (0.05, 1.0)),
        ("high", Mode.shorted, (0.05, 1.0)),
        ("charge", Mode.leaking, (300.0, 2e5)),
    ],
)
def test_a_fault_reads_what_the_simulator_reads(circuit, solved, part, mode, sizes, tmp_path, record_property) -> None:
    rng = random.Random(f"{part} {mode}")
    for _ in range(4):
        size = rng.uniform(*sizes)
        theirs = magnitudes(deck(part, mode, size), tmp_path)
        assert solved(circuit, fault_mode(circuit, part, mode, size)) == pytest.approx(theirs, rel=3e-3, abs=3e-3), size
    record_property("compared with ngspice, live readings of faults", 4 * len(PAIRS))


@pytest.mark.parametrize("share", [0.05, 0.3, 0.8])
def test_shorted_turns_of_the_primary_do_not_show_at_the_outputs(circuit: Circuit, share: float) -> None:
    # With all turns on one core and no stray field: the shorted share s of voltage s V behind s R seen from the rest
    # is R (1 - s)² / s in parallel with the core, behind R (1 - s); the core keeps 1 - s of the mains over 1 - s of the
    # turns, so the same volts for each turn as before. Ohmmeter and current show them, a voltmeter does not.
    sound = solve_live(circuit, supply_of(circuit), MAINS, state=State())
    read = solved_whole(circuit, fault_mode(circuit, "primary", Mode.shorted_turns, share))
    assert read[0] == pytest.approx(abs(sound.between(*PAIRS[0]) or 0.0), rel=0.02)


@pytest.mark.parametrize("ohms", [0.1, 0.5, 1.0])
def test_a_short_across_a_winding_leaves_what_its_copper_divides(circuit: Circuit, ohms: float) -> None:
    # e r / (R + r) of the flux that is left: 1 / (1 + R_primary e² / ((R + r) V²)); the load across both adds little
    flux = 1 / (1 + PRIMARY * 9.0**2 / ((1.5 + ohms) * 240.0**2))
    read = solved_whole(circuit, fault_mode(circuit, "low", Mode.shorted, ohms))
    assert read[0] == pytest.approx(MAINS / 240 * 9.0 * flux * ohms / (1.5 + ohms), rel=0.03)
