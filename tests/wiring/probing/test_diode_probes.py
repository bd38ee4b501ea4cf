"""A probe counts as revealing only where a real ohmmeter would tell."""

from collections.abc import Callable

from benchapp.wiring.faults.fault_modes import fault_modes_of
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.network.diodes import WHICH_PROBE
from benchapp.wiring.probing.coverage import REVEALED, Ohmmeter, revealing, undetectable_faults
from benchapp.wiring.probing.probes import probe_plan
from tests.wiring.diode_circuits import circuit_of, diode, resistor

DC = "outputs: [{output: dc, between: [out.1, out.2], volts: 1 V, source: made up}]\n"


def revealing_pairs(circuit: Circuit, part: str, mode: Mode) -> set[tuple[str, str]]:
    fault_modes = fault_modes_of(circuit, REVEALED)
    table = revealing(circuit, State(), Ohmmeter(), fault_modes)
    row = next(n for n, one in enumerate(fault_modes) if (one.part, one.mode) == (part, mode))
    return {pair for pair, seen in zip(table.pairs, table.flags[row], strict=True) if seen}


def test_a_shorted_diode_shows_only_with_red_on_its_cathode_where_it_would_read_alike_the_other_way() -> None:
    in_series = resistor("r", "i0", "p1", 100.0)
    circuit = circuit_of((diode("d", "p0", "i0"), in_series))
    # black on the anode: blocked, and 100 ohm when shorted; the other way 101 ohm or more is what a sound one may read
    assert revealing_pairs(circuit, "d", Mode.shorted) == {("p0", "p1")}


def test_one_of_two_opposed_diodes_that_is_shorted_is_named_as_hidden_from_an_ohmmeter() -> None:
    circuit = circuit_of((diode("one", "p0", "i0"), diode("other", "p1", "i0")))
    assert not revealing_pairs(circuit, "one", Mode.shorted)
    why = {
        one.fault_mode.part: one.why
        for one in undetectable_faults(circuit, State())
        if one.fault_mode.mode is Mode.shorted
    }
    assert "test it as a diode" in why["one"]


def test_where_polarity_counts_the_plan_says_which_probe_goes_where(written: Callable[..., Circuit]) -> None:
    parts = "- {diode: d, between: [out.2, m]}\n- {resistor: r, between: [m, out.1], resistance: 100 ohm ± 1 %}"
    plan = probe_plan(written(parts, more=DC), "out")
    (probe,) = (one for one in plan if "the diode d" in one.why)
    assert (probe.a, probe.b) == ("out.2", "out.1")  # black on the anode's side
    assert probe.say == "Black probe on pin 2 of the out, red probe on pin 1 of the out."
    assert WHICH_PROBE in probe.band.cautions
    assert probe.band.lower is not None
    assert probe.band.lower > 1e3
