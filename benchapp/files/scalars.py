"""Plain words of a YAML file as text, numbers, truth or nothing.

YAML 1.2.2 core schema (chapter 10.3.2), read by our own rules: `no`, `off`, `12:30` and `1_000` are text, `010` is ten,
`1e6` is a number. A number keeps how it was written, so that a text field that is given `4.70` or `010` gets just that.
"""

import math
import re

Scalar = str | int | float | bool | None

_NULL = frozenset({"", "~", "null", "Null", "NULL"})
_TRUTH = {
    "true": True, "True": True, "TRUE": True,
    "false": False, "False": False, "FALSE": False,
}  # fmt: skip
_WHOLE = re.compile(r"[-+]?[0-9]+")
_OCTAL = re.compile(r"0o[0-7]+")
_HEX = re.compile(r"0x[0-9a-fA-F]+")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
SMALLEST, LARGEST = 1e-15, 1e15
"""Sizes of a plain number where one is needed, wider than anything at the bench (own choice)."""
LONGEST_NUMBER = 60
"""Characters of a number; more is no measurement, and reading it would take time (own choice)."""


class WrittenInt(int):
    """A whole number that was written otherwise than Python would write it."""

    written: str

    def __str__(self) -> str:
        return self.written


class WrittenFloat(float):
    """A number that was written otherwise than Python would write it."""

    written: str

    def __str__(self) -> str:
        return self.written


def is_of_a_bench(number: float) -> bool:
    """Whether a number has a size that later sums can be done with."""
    return number == 0 or SMALLEST <= abs(number) <= LARGEST


def read_plain(text: str) -> Scalar:
    """The value of an unquoted word; raises ValueError with a sentence for a number that is none."""
    if text in _NULL:
        return None
    if text in _TRUTH:
        return _TRUTH[text]
    if not (text[0].isdigit() or text[0] in "+-."):
        return text
    return _read_number(text)


def _read_number(text: str) -> Scalar:
    if _NOT_FINITE.fullmatch(text):
        raise ValueError(f"{text} is no number that can be measured")
    whole, decimal = _WHOLE.fullmatch(text), _FLOAT.fullmatch(text)
    based = 8 if _OCTAL.fullmatch(text) else 16 if _HEX.fullmatch(text) else 0
    if not (whole or decimal or based):
        return text
    if len(text) > LONGEST_NUMBER:
        raise ValueError(f"a number of {len(text)} characters is too long")
    if based:
        return _written_int(int(text[2:], based), text)
    if whole:
        return _written_int(int(text), text)
    value = float(text)
    if math.isinf(value):
        raise ValueError(f"{text} is too large for a number")
    return _written_float(value, text)


def _written_int(value: int, text: str) -> int:
    if str(value) == text:
        return value
    kept = WrittenInt(value)
    kept.written = text
    return kept


def _written_float(value: float, text: str) -> float:
    if str(value) == text:
        return value
    kept = WrittenFloat(value)
    kept.written = text
    return kept
