"""How far tolerances move a live reading: cancelling windings, sizes, capacitors, and what feeds several outputs."""

import math
from collections.abc import Callable

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import parse_document
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.wiring.assembly.ratings import size_of
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Circuit, Load
from benchapp.wiring.model.equipment import Equipment

MAINS = KnownQuantity(value_si=240.0, standard_uncertainty=0.0, what="mains", source="made up")
PRIMARY = "- {winding: primary, between: [in.1, in.2], resistance: 1 ohm}\n"


def test_windings_that_nearly_cancel_may_cancel_wholly(written: Callable[..., Circuit]) -> None:
    # 9 V ± 6 % against 8.8 V ± 1 %: from 8.46 - 8.888 = -0.43 V through nothing to 9.54 - 8.712 = 0.828 V
    parts = PRIMARY + "- {winding: x, between: [out.1, m], rated: 9 V off load, resistance: 1 ohm, tolerance: 6 %}\n"
    parts += "- {winding: y, between: [out.2, m], rated: 8.8 V off load, resistance: 1 ohm, tolerance: 1 %}\n"
    band = expected_voltage(written(parts), "out.1", "out.2", mains=MAINS)
    assert band.expected == pytest.approx(0.2, abs=1e-6)
    assert band.lower is None
    assert band.upper == pytest.approx(0.828, rel=1e-4)


SIZES = """\
equipment: sizes
title: Two outputs
class: III
supply: {{voltage: 24 V, power: 100 VA, at: [in.1, in.2]}}
connectors: {{in: four, out: four}}
circuit:
  - {{winding: large, between: [out.1, out.2], rated: 9 V{amps} on load, resistance: 0.1 ohm}}
  - {{winding: small, between: [out.3, out.4], rated: 6 V at 0.01 A on load, resistance: 5 ohm}}
"""


@pytest.mark.parametrize(("amps", "size"), [("", 100.0), (" at 5 A", 45.06)], ids=["the plate's", "the outputs'"])
def test_a_small_winding_does_not_make_a_small_transformer(amps: str, size: float) -> None:
    equipment = build_model(parse_document(SIZES.format(amps=amps), "sizes.yaml"), Equipment)
    assert size_of(equipment.circuit[1], equipment) == pytest.approx(size)


def test_of_unknown_size_a_regulation_may_be_any(written: Callable[..., Circuit]) -> None:
    least = min(row.low for row in assumptions.REGULATIONS)
    most = max(row.high for row in assumptions.REGULATIONS)
    assert (assumptions.usual_regulation(None).low, assumptions.usual_regulation(None).high) == (least, most)


def test_a_capacitor_has_a_tolerance_at_mains_frequency(written: Callable[..., Circuit]) -> None:
    # |V_C| = V X / sqrt(R² + X²), X = 1 / (2 pi 50 Hz C), for C ± 10 % and V ± 3 %
    parts = PRIMARY + "- {winding: low, between: [out.1, out.2], rated: 12 V off load, resistance: 0.5 ohm ± 0 %}\n"
    parts += "- {resistor: series, between: [out.1, out.3], resistance: 1 kohm ± 0 %}\n"
    parts += "- {capacitor: across, between: [out.3, out.2], capacitance: 3.3 µF ± 10 %}\n"
    band = expected_voltage(written(parts), "out.3", "out.2", mains=MAINS)
    for found, by, turns in ((band.lower, 1.1, 0.97), (band.upper, 0.9, 1.03)):
        reactance = 1 / (2 * math.pi * 50 * 3.3e-6 * by)
        assert found == pytest.approx(12 * turns * reactance / math.hypot(1000.5, reactance), rel=3e-3)
    assert any("capacitance" in line.what for line in band.derivation)


@pytest.mark.parametrize("fed", ["one", "series", "parallel"])
def test_however_the_primary_is_made_the_rated_load_brings_the_rated_voltage(
    written: Callable[..., Circuit], fed: str
) -> None:
    # 480 ohm for 240 V, two halves of it in series, or two of twice that in parallel, are one and the same
    primaries = {
        "one": "- {winding: p, between: [in.1, in.2], rated: 240 V supply, resistance: 480 ohm}\n",
        "series": "- {winding: p, between: [in.1, half], rated: 120 V supply, resistance: 240 ohm}\n"
        "- {winding: q, between: [half, in.2], rated: 120 V supply, resistance: 240 ohm}\n",
        "parallel": "- {winding: p, between: [in.1, in.2], rated: 240 V supply, resistance: 960 ohm}\n"
        "- {winding: q, between: [in.1, in.2], rated: 240 V supply, resistance: 960 ohm}\n",
    }
    parts = primaries[fed] + "- {winding: low, between: [out.1, out.2], rated: 9 V at 0.6 A on load, "
    circuit = written(parts + "regulation: 16 %, resistance: 1.1 ohm}\n")
    load = (Load(a="out.1", b="out.2", ohms=15.0),)
    assert expected_voltage(circuit, "out.1", "out.2", mains=MAINS, loads=load).expected == pytest.approx(9.0, rel=1e-3)


def test_a_capacitance_is_written_with_or_without_a_tolerance() -> None:
    text = "equipment: c\ntitle: C\nclass: none\nconnectors: {in: four}\ncircuit:\n"
    text += "  - {capacitor: a, between: [in.1, in.2], capacitance: 100 nF ± 5 %}\n"
    text += "  - {capacitor: b, between: [in.1, in.2], capacitance: 100 nF}\n"
    first, second = build_model(parse_document(text, "c.yaml"), Equipment).circuit
    assert first.capacitance.high == pytest.approx(105e-9)
    assert second.capacitance.low == pytest.approx(80e-9)  # ± 20 %, common practice
