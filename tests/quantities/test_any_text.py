"""Any text whatever gives a value or a sentence, at once; nothing else ever comes out."""

import gc
import time
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.errors import BenchError
from benchapp.files import parse_document
from benchapp.quantities import Kind, parse_formula, read_colours, read_marking, read_quantity, read_reading
from benchapp.quantities.foreign import foreign_unit
from benchapp.quantities.units import ANY_KIND

SLOWEST = 0.1
"""Seconds of processor time for one text."""
CASES = 30 * settings().max_examples
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


def mixed(words: list[str]) -> st.SearchStrategy[str]:
    """Texts of any characters, and texts made of the words that the reader knows."""
    pieces = st.sampled_from(words) | st.integers(0, 10**6).map(str) | st.text(max_size=3) | st.just(" ")
    return st.text(max_size=80) | st.lists(pieces, max_size=30).map("".join)


def taken_at_once(read, text: str) -> None:
    gc.disable()  # a collection of what other tests left behind is not the reader's time
    begun = time.thread_time()
    try:
        with suppress(BenchError):
            read(text)
        assert time.thread_time() - begun < SLOWEST
    finally:
        gc.enable()


@pytest.fixture(scope="module", autouse=True)
def _pint_is_loaded():
    """Loading pint, once in a process, is not part of reading a text."""
    assert foreign_unit("furlong") is not None


@settings(max_examples=CASES)
@given(mixed(BENCH_WORDS), st.none() | st.sampled_from(Kind), st.sampled_from(["", "V", "Mohm", "°C"]))
def test_any_text_is_a_reading_or_a_sentence(text, kind, unit):
    taken_at_once(lambda typed: read_reading(typed, kind=kind, unit=unit), text)


@settings(max_examples=CASES)
@given(mixed(BENCH_WORDS), st.none() | st.sampled_from(Kind))
def test_any_text_is_a_quantity_or_a_sentence(text, kind):
    taken_at_once(lambda typed: read_quantity(typed, kind=kind), text)


@settings(max_examples=CASES)
@given(mixed(BENCH_WORDS + FORMULA_WORDS))
def test_any_text_is_a_formula_or_a_sentence(text):
    def read_and_check(typed: str) -> None:
        formula = parse_formula(typed)
        formula.check(dict.fromkeys(formula.names, Kind.voltage))
        formula.value(dict.fromkeys(formula.names, 2.5))

    taken_at_once(read_and_check, text)


@settings(max_examples=CASES)
@given(mixed(YAML_WORDS))
def test_any_text_is_a_document_or_complaints(text):
    def read_and_point(typed: str) -> None:
        document = parse_document(typed, "a.yaml")
        for start, end in document.spans.values():
            assert 0 <= start <= end <= len(typed)

    taken_at_once(read_and_point, text)


@settings(max_examples=CASES // 4)
@given(mixed(BENCH_WORDS))
def test_any_text_is_a_marking_or_a_sentence(text):
    taken_at_once(read_marking, text)


@settings(max_examples=CASES // 4)
@given(
    st.lists(st.sampled_from(["black", "brown", "gold", "orange", "none", "pink"]) | st.text(max_size=8), max_size=8)
)
def test_any_bands_are_a_resistance_or_a_sentence(bands):
    taken_at_once(lambda _text: read_colours(bands), "")


@pytest.mark.parametrize(
    "text", ["(" * 500, "-" * 500, "min(" * 120, "1^9" * 160, "a-" * 250, "9 " * 250, "1e9" * 160, "0." + "0" * 490]
)
def test_long_runs_of_one_thing_are_refused_at_once(text):
    taken_at_once(parse_formula, text)
    taken_at_once(lambda typed: read_reading(typed, kind=Kind.voltage), text)
    taken_at_once(lambda typed: parse_document(typed, "a.yaml"), text)


@pytest.mark.parametrize(
    "text", ["[" * 100_000, "{a: " * 50_000, "- " * 100_000, "a: " * 100_000, "'" * 100_001, "? " * 100_000]
)
def test_deep_and_long_documents_are_refused_at_once(text):
    taken_at_once(lambda typed: parse_document(typed, "a.yaml"), text)
