"""What does it cost to understand text: a typed reading against pint, a file against libyaml's own composing."""

import time
from decimal import Decimal
from pathlib import Path
from statistics import median

import pint
import pytest
import yaml

from benchapp.files.reader import parse_document
from benchapp.files.shipped import shipped_folder
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading
from benchapp.quantities.formula import parse_formula

pytestmark = pytest.mark.performance

ROUNDS = 30


def _time(action) -> float:
    begun = time.perf_counter()
    action()
    return time.perf_counter() - begun


def _ratio(ours, floor) -> tuple[float, float]:
    """The median ratio of the two, taken in turn, and our median time in seconds."""
    pairs = [(_time(ours), _time(floor)) for _ in range(ROUNDS)]
    return median(one / other for one, other in pairs), median(one for one, _ in pairs)


def test_a_typed_reading_costs_a_small_part_of_what_pint_takes():
    registry = pint.UnitRegistry(non_int_type=Decimal)
    typed = [f"{number / 100} V" for number in range(900, 1000)]
    ratio, seconds = _ratio(
        lambda: [read_reading(text, kind=Kind.voltage).si for text in typed],
        lambda: [registry.Quantity(text).to("V").magnitude for text in typed],
    )
    print(f"\na typed reading: {seconds / len(typed) * 1e6:.1f} µs, {1 / ratio:.0f} times faster than pint")
    assert ratio <= 1 / 10


def test_a_file_costs_little_more_than_composing_it():
    texts = [path.read_text(encoding="utf-8") for path in sorted(Path(shipped_folder("resources")).rglob("*.yaml"))]
    ratio, seconds = _ratio(
        lambda: [parse_document(text, "a.yaml") for text in texts],
        lambda: [yaml.compose(text, Loader=yaml.CBaseLoader) for text in texts],
    )
    print(f"\nreading {len(texts)} files with places: {seconds * 1e3:.1f} ms, {ratio:.1f} times bare composing")
    assert ratio <= 4


def test_a_formula_costs_little_more_than_the_same_in_python():
    formula = parse_formula("9 V * mains / (240 V) * (1 + 14 %)")
    ratio, seconds = _ratio(
        lambda: [formula.value({"mains": float(mains)}) for mains in range(216, 254)],
        lambda: [Decimal(9) * Decimal(mains) / Decimal(240) * (1 + Decimal("0.14")) for mains in range(216, 254)],
    )
    print(f"\na formula: {seconds / 38 * 1e6:.1f} µs, {ratio:.1f} times the same in decimal arithmetic")
    assert ratio <= 20
