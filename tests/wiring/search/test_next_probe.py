"""The plan follows from tolerance and meter, and whatever it cannot show is named with its reason."""

from collections.abc import Callable, Mapping
from itertools import combinations

import pytest

from benchapp.wiring.faults.fault_modes import fault_modes_of
from benchapp.wiring.model.circuit import Circuit, State
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.probing.coverage import REVEALED, Ohmmeter, revealing, undetectable_faults
from benchapp.wiring.probing.probes import ProbeKind, probe_plan

CONTINUITY = frozenset({ProbeKind.continuity})
FINE = Ohmmeter(share=0.001, ohms=0.02)
COARSE = Ohmmeter(share=0.03, ohms=2.0)


def twins(written: Callable[..., Circuit], tolerance: str) -> Circuit:
    """A coil between pin 1 and a node that pins 2 and 3 share."""
    return written(
        f"""
        - {{resistor: coil, between: [m, n], resistance: 40 ohm ± {tolerance}}}
        - {{link: joint-1, between: [n, out.1]}}
        - {{link: joint-2, between: [m, out.2]}}
        - {{link: joint-3, between: [m, out.3]}}
        - {{winding: primary, between: [in.1, in.2], resistance: 300 ohm}}
        """
    )


THROUGH_THE_COIL = {frozenset({"out.1", "out.2"}), frozenset({"out.1", "out.3"})}
BETWEEN_THE_TWINS = frozenset({"out.2", "out.3"})


def probed(circuit: Circuit, meter: Ohmmeter | None = None) -> set[frozenset[str]]:
    pairs = {frozenset({probe.a, probe.b}) for probe in probe_plan(circuit, "out", CONTINUITY, meter=meter)}
    return {pair for pair in pairs if pair <= set(circuit.connectors["out"].terminals)}


def test_the_plan_changes_with_tolerance(written: Callable[..., Circuit]) -> None:
    # within 1 % of 40 ohm a joint of 10 ohm shows through the coil, and black stays on pin 1;
    # within 30 % it does not, so the twins are read against each other
    assert probed(twins(written, "1 %")) == THROUGH_THE_COIL
    broad = probed(twins(written, "30 %"))
    assert BETWEEN_THE_TWINS in broad
    assert len(broad) == 2


def test_the_plan_changes_with_the_meter(written: Callable[..., Circuit]) -> None:
    circuit = twins(written, "1 %")
    coarse = Ohmmeter(share=0.15, ohms=0.2)  # 10 ohm more than 40 ohm are within what it tells apart
    assert probed(circuit, FINE) == THROUGH_THE_COIL
    assert BETWEEN_THE_TWINS in probed(circuit, coarse)
    assert hidden(circuit, FINE) < hidden(circuit, coarse)


def test_a_fault_within_the_tolerance_leaves_the_plan_and_is_named(written: Callable[..., Circuit]) -> None:
    def high_joint(tolerance: str) -> tuple[set[str], set[tuple[str, Mode]]]:
        circuit = written(
            f"""
            - {{link: joint, between: [out.1, m]}}
            - {{winding: coil, between: [m, out.2], rated: 9 V off load, resistance: 40 ohm ± {tolerance}}}
            - {{winding: primary, between: [in.1, in.2], resistance: 300 ohm}}
            """
        )
        whys = {probe.why for probe in probe_plan(circuit, "out", CONTINUITY)}
        return whys, {(h.fault_mode.part, h.fault_mode.mode) for h in undetectable_faults(circuit, State())}

    close, wide = high_joint("5 %"), high_joint("30 %")
    assert ("joint", Mode.high_resistance) not in close[1]
    assert ("joint", Mode.high_resistance) in wide[1]  # 10 ohm more are within 40 ohm ± 30 %
    assert any("joint" in why for why in wide[0])  # an open joint is shown still


def hidden(circuit: Circuit, meter: Ohmmeter) -> set[str]:
    return {h.fault_mode.words(circuit) + str(h.fault_mode.size) for h in undetectable_faults(circuit, State(), meter)}


def test_a_probe_counts_for_nothing_where_faulty_and_sound_bands_overlap(shipped: Mapping[str, Circuit]) -> None:
    circuit = shipped["tb-mu1"]
    fault_modes = fault_modes_of(circuit, REVEALED)
    fine, coarse = (revealing(circuit, State(), meter, fault_modes).flags for meter in (FINE, COARSE))
    assert (coarse <= fine).all()
    assert coarse.sum() < fine.sum()


@pytest.mark.parametrize("name", ["tb-mu1", "tb-mu2", "tb-rec1", "tb-ls1"])
def test_every_single_fault_is_shown_by_some_pair_or_named_with_its_reason(
    shipped: Mapping[str, Circuit], name: str
) -> None:
    circuit = shipped[name]
    fault_modes = fault_modes_of(circuit, REVEALED)
    flags = revealing(circuit, State(), Ohmmeter(), fault_modes).flags
    named = {h.fault_mode: h.why for h in undetectable_faults(circuit, State())}
    for fault_mode, seen in zip(fault_modes, flags.any(axis=1), strict=True):
        assert bool(seen) != (fault_mode in named), fault_mode
    for why in named.values():
        assert why == "no pair of terminals reads differently with it" or "within tolerance" in why


@pytest.mark.parametrize("name", ["tb-mu1", "tb-mu2", "tb-rec1", "tb-ls1"])
def test_one_probe_stays_put_as_long_as_it_can_while_the_other_walks(shipped: Mapping[str, Circuit], name: str) -> None:
    circuit = shipped[name]
    for connector in circuit.connectors:
        for kind in ProbeKind:
            probes = probe_plan(circuit, connector, frozenset({kind}))
            stands = [probe.a for probe in probes]
            assert stands == sorted(stands, key=stands.index)  # never left and come back to
            for one, other in combinations(range(len(probes)), 2):
                if stands[one] != stands[other]:  # what could be read from where black stood before is read there
                    assert stands[one] not in (probes[other].a, probes[other].b)
