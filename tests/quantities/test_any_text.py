"""Any text whatever gives a value or a sentence, at once; nothing else ever comes out."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.files.reader import parse_document
from benchapp.quantities.colours import COLOURS, read_colours
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity, read_reading
from benchapp.quantities.foreign import foreign_unit
from benchapp.quantities.formula import parse_formula
from benchapp.quantities.markings import read_marking
from benchapp.quantities.parts import preference_of, read_part
from benchapp.quantities.units import ANY_KIND
from tests.any_text import hold, mixed, taken_at_once

BENCH_WORDS = [
    *sorted(ANY_KIND),
    "OL",
    ">",
    "<",
    "±",
    "4k7",
    "R47",
    "between",
    "at most",
    "e",
    "E5",
    "-",
    "+",
    ".",
    ",",
]
FORMULA_WORDS = ["mains", "a-b", "x.y", "min(", "max(", "sqrt(", "abs(", ")", "(", "^", "**", "9", "-", "<=", "=", "%"]
YAML_WORDS = [
    "a",
    ":",
    " ",
    "\n",
    "  ",
    "- ",
    "[",
    "]",
    "{",
    "}",
    ",",
    '"',
    "'",
    "|",
    ">",
    "#",
    "&x",
    "*x",
    "!t",
    "?",
    "---",
    "\t",
]


@pytest.fixture(scope="module", autouse=True)
def _pint_is_loaded():
    """Loading pint, once in a process, is not part of reading a text."""
    assert foreign_unit("furlong") is not None


@pytest.mark.parametrize(("kind", "unit"), [(None, ""), (Kind.voltage, "V"), (Kind.resistance, "ohm")])
def test_any_text_is_a_reading_or_a_sentence(kind, unit):
    hold(lambda typed: read_reading(typed, kind=kind, unit=unit), mixed(BENCH_WORDS), "reading entry", share=0.2)


def test_any_text_is_a_reading_of_any_kind_or_a_sentence():
    """The kind is drawn by the text itself, so that each text is tried with one of them."""
    kinds = tuple(Kind)

    def read(typed: str) -> None:
        read_reading(typed, kind=kinds[sum(map(ord, typed)) % len(kinds)], unit="")

    hold(read, mixed(BENCH_WORDS), "reading entry", share=0.2)


@pytest.mark.parametrize("kind", [None, Kind.time])
def test_any_text_is_a_quantity_or_a_sentence(kind):
    hold(lambda typed: read_quantity(typed, kind=kind), mixed(BENCH_WORDS), "reading entry", share=0.1)


@pytest.mark.parametrize("value", [2.5, Decimal("2.5")], ids=["floats", "decimals"])
def test_any_text_is_a_formula_or_a_sentence(value):
    def read_and_check(typed: str) -> None:
        formula = parse_formula(typed)
        formula.check(dict.fromkeys(formula.names, Kind.voltage))
        formula.value(dict.fromkeys(formula.names, value))

    hold(read_and_check, mixed(BENCH_WORDS + FORMULA_WORDS), "formulas", share=0.5)


def test_any_text_is_a_document_or_complaints():
    def read_and_point(typed: str) -> None:
        document = parse_document(typed, "a.yaml")
        for start, end in document.spans.values():
            assert 0 <= start <= end <= len(typed)

    hold(read_and_point, mixed(YAML_WORDS), "meter files", share=0.3)


def test_any_text_is_a_marking_or_a_sentence():
    hold(read_marking, mixed(BENCH_WORDS), "reading entry", share=0.1)


def test_any_text_is_what_stands_on_a_part_or_a_sentence():
    def read_and_compare(typed: str) -> None:
        for part in read_part(typed):
            assert part.limits is None or part.limits[0] <= part.quantity.si_exact <= part.limits[1]
            preference_of(part.quantity.si_exact, part.quantity.unit.kind)

    colours = st.lists(st.sampled_from(sorted(COLOURS)), max_size=9).map(" ".join)
    hold(read_and_compare, colours | mixed([*BENCH_WORDS, *sorted(COLOURS)]), "reading entry", share=0.1)


@settings(max_examples=7 * settings().max_examples)
@given(
    st.lists(st.sampled_from(["black", "brown", "gold", "orange", "none", "pink"]) | st.text(max_size=8), max_size=8)
)
def test_any_bands_are_a_resistance_or_a_sentence(bands):
    taken_at_once(lambda _text: read_colours(bands), "")


@pytest.mark.parametrize(
    "text", ["[" * 100_000, "{a: " * 50_000, "- " * 100_000, "a: " * 100_000, "'" * 100_001, "? " * 100_000]
)
def test_deep_and_long_documents_are_refused_at_once(text):
    taken_at_once(lambda typed: parse_document(typed, "a.yaml"), text)
