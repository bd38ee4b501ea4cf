"""A capacitor from mains to metal makes metal live when it passes more than a hand or an earth core may carry.

Limits: 0.5 mA AC to a hand (IEC 61140, 5.2.7), 3.5 mA AC in an earth core (EN 50678, EN 50699).
"""

from math import tau

import pytest

from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.model.mains_on_metal import on_the_mains
from tests.sequences.bench import catalogue

BARRIER = "  - barrier:"
TO_A_HAND, IN_THE_EARTH_CORE = 0.5e-3, 3.5e-3


def touched(design, *parts):
    """What of a shipped design is on the mains once these parts are written into it."""
    name = f"resources/equipment/{design}.yaml"
    text = catalogue().texts[name]
    cut = text.index(BARRIER)
    read = catalogue_from_texts({**catalogue().texts, name: text[:cut] + "".join(parts) + text[cut:]})
    return on_the_mains(compile_circuit(read.equipment[design], read.connectors))


def capacitor(capacitance, a, b, name="filter"):
    return f"  - capacitor: {name}\n    between: [{a}, {b}]\n    capacitance: {capacitance}\n"


def passing(amperes):
    """Capacitance at 264 V (240 V and a tenth) and 50 Hz."""
    return f"{amperes / (tau * 50 * 264) * 1e9:.4f} nF ± 1 %"


@pytest.mark.parametrize("design", ["tb-mu1", "tb-mu2", "tb-rec1", "tb-hp1"])
def test_no_shipped_design_has_mains_on_its_metal(design):
    assert touched(design) == ""


def test_filter_capacitors_to_earthed_metal_are_no_live_chassis():
    """Two of 4.7 nF, as filters of class I have them (common practice, no source for the value)."""
    both = capacitor("4.7 nF ± 20 %", "mains.L", "case", "y1"), capacitor("4.7 nF ± 20 %", "mains.N", "case", "y2")
    assert touched("tb-mu1", *both) == ""


@pytest.mark.parametrize(
    ("design", "metal", "limit"), [("tb-mu1", "case", IN_THE_EARTH_CORE), ("tb-mu2", "output.outer", TO_A_HAND)]
)
def test_metal_counts_as_live_from_the_limit_on(design, metal, limit):
    assert touched(design, capacitor(passing(0.98 * limit), "mains.L", metal)) == ""
    assert touched(design, capacitor(passing(1.02 * limit), "mains.L", metal)) != ""


def test_the_upper_end_of_the_tolerance_counts():
    nearly = passing(0.9 * TO_A_HAND)
    assert touched("tb-mu2", capacitor(nearly, "mains.L", "output.outer")) == ""
    assert touched("tb-mu2", capacitor(nearly.replace("1 %", "20 %"), "mains.L", "output.outer")) != ""


def test_capacitors_on_both_poles_count_together():
    half = passing(0.6 * TO_A_HAND)
    both = (capacitor(half, "mains.L", "output.outer", "y1"), capacitor(half, "mains.N", "output.outer", "y2"))
    assert touched("tb-mu2", both[0]) == ""
    assert touched("tb-mu2", *both) != ""
