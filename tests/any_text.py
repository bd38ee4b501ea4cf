"""Any text whatever: how such texts are made, how many of them, and how long each may take.

Four surfaces take text from people and meters: reading entry, accept expressions, formulas, meter files. Each gives a
value or a sentence, never another exception, and at once. The cases of one run are counted as they are run.
"""

import gc
import time
from collections.abc import Callable, Sequence
from contextlib import suppress

from hypothesis import example, given, settings
from hypothesis import strategies as st

from benchapp.errors import BenchError

SLOWEST = 0.1
"""Seconds of this thread's own processor time for one text: what else the machine does does not count."""
CASES = {"reading entry": 60, "accept expressions": 60, "formulas": 60, "meter files": 30}
"""Texts for each surface: so many times what a test of one property tries, a hundred in an everyday run."""
MOST_TIMES = 300
"""A thorough run has three times the texts, which two cores read in a few minutes."""

AWKWARD = (
    *("", " ", "\x00", "\t", "\n", "\u00a0", "\u2009", "\u202f", "\u3000"),
    *("٣٤٥", "９.１２ V", "²³", "⁻³", "Ⅷ", "½", "9\u0301 V", "é", "e\u0301", "\u200f9.12 V", "\u202e9 V", "9\u200bV"),
    *("\ufeff9 V", "\ud800", "9 V \udfff", "\x1b[31m9 V", "9.12\x00V", "nan", "inf", "-inf", "NaN V", "Infinity"),
    *("1e999999999", "1e-999999999", "1e99 V", "9e30 V", "1e30 V ± 1e30 %", "0 V ± 1e-400 V", "9 V ± 1/0", "1/0"),
    *("9**9**9", "9^9^9", "((9^9)^9)^9", "(1e20^9)^9", "2^-9", "0^-1", "sqrt(-1)", "sqrt(1 V)", "1 V * 1 ohm"),
    *("mains.__class__", "__import__('os')", "lambda: 1", "{0}", "%s", "${x}", "mains[0]", "a.b.c", "a-b-c"),
    *("at most at most", "between and and", "limit ", "± ±", "9 V +1 % -", "from wiring x", "9 V ± 3", "9 V ± -5 %"),
    *("OL", ">OL", "-OL", "> -", "<0.01", ">>5 V", "4k7k", "R", "k47", "1,234", "1.2.3", "1'000", "- - 5 V", "+/-5 V"),
)
"""Texts that have once been, or could be, another program's undoing."""
LONG_RUNS = tuple(
    letters * (size // len(letters))
    for size in (500, 100_000)
    for letters in (
        "9",
        "(",
        ")",
        "-",
        " ",
        ".",
        ",",
        "a",
        "a-",
        "9 ",
        "+1",
        "^9",
        "%",
        "é",
        "\u0301",
        "\x00",
        "±",
        "min(",
    )
)

Reader = Callable[[str], object]


def mixed(words: Sequence[str]) -> st.SearchStrategy[str]:
    """Texts of any characters, and texts made of the words that the reader knows."""
    pieces = st.sampled_from(words) | st.integers(0, 10**6).map(str) | st.text(max_size=3) | st.just(" ")
    awkward = st.tuples(st.sampled_from(AWKWARD), st.text(max_size=3)).map("".join)
    return st.text(max_size=80) | st.lists(pieces, max_size=30).map("".join) | awkward


def hold(read: Reader, texts: st.SearchStrategy[str], surface: str, *, share: float = 1.0) -> None:
    """Try a surface's share of cases; fail on what is neither value nor sentence, on a slow text, on too few texts."""
    wanted = int(share * CASES[surface] * min(settings().max_examples, MOST_TIMES))
    tried = 0

    @settings(max_examples=wanted)
    @given(texts)
    def each(text: str) -> None:
        nonlocal tried
        tried += 1
        taken_at_once(read, text)

    for text in (*AWKWARD, *LONG_RUNS):
        each = example(text)(each)
    each()
    assert tried >= wanted, f"{surface}: {tried} texts of {wanted} were tried"


def taken_at_once(read: Reader, text: str) -> None:
    """Read one text: a value or a sentence that can be shown, within the time."""
    gc.disable()  # a collection of what other tests left behind is not the reader's time
    begun = time.thread_time()
    try:
        with suppress(BenchError):
            read(text)
        taken = time.thread_time() - begun
    finally:
        gc.enable()
    assert taken < SLOWEST, f"{taken:.3f} s for {text[:60]!r} ({len(text)} characters)"
