"""An entry's reading, band and time in the words that paper carries."""

from collections.abc import Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.judgement.statements.band import Band

_SIGNS = {"above": "> ", "below": "< "}


def reading_words(content: Mapping[str, Any]) -> str:
    """The value as shown on the meter, with its unit: "9.12 V", "> 20 Mohm", "over range"."""
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.display import show

    value, kind = content.get("value"), content.get("kind")
    if kind is None or (value is None and content.get("bound") is None):
        return str(content.get("typed", ""))
    sign = _SIGNS.get(str(content.get("bound")), "")
    if value is None:
        return "over range"
    return sign + show(float(value), Kind(kind), step=last_digit(content), unit=str(content.get("unit") or ""))


def last_digit(content: Mapping[str, Any]) -> float | None:
    """The weight of the last digit typed, in SI, so that no digit is printed that the meter did not give."""
    from benchapp.errors import BenchError
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.entry import read_reading

    if content.get("kind") is None:
        return None
    text = str(content.get("kept") or content.get("typed", ""))
    try:
        typed = read_reading(text, kind=Kind(content["kind"]), unit=str(content.get("unit") or ""))
    except BenchError:
        return None
    return typed.si_step


def band_words(content: Mapping[str, Any]) -> str:
    """The limits that applied: "8.1 V to 9.9 V", "at most 0.15 ohm", empty where none did."""
    from benchapp.judgement.statements.sentences import say_limits

    band = _band_of(content)
    return "" if band is None else say_limits(band)


def band_and_expected_words(content: Mapping[str, Any]) -> str:
    """The limits with what was expected beside them: a limit alone hides half the strands broken."""
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.display import show

    words, expected = band_words(content), content.get("expected")
    if not words or expected is None or expected in (content.get("lower"), content.get("upper")):
        return words
    shown = show(float(expected), Kind(content["kind"]), unit=str(content.get("unit") or ""))
    return f"{words}, expected {shown}"


def _band_of(content: Mapping[str, Any]) -> "Band | None":
    from benchapp.judgement.statements.band import Band
    from benchapp.quantities.dimensions import Kind

    lower, upper, kind = content.get("lower"), content.get("upper"), content.get("kind")
    if kind is None or (lower is None and upper is None):
        return None
    return Band(kind=Kind(kind), unit=str(content.get("unit") or ""), lower=lower, upper=upper)


def uncertainty_words(content: Mapping[str, Any]) -> str:
    """The expanded uncertainty: "0.11 V", empty where none is known."""
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.display import show_uncertainty

    expanded, kind = content.get("expanded_uncertainty"), content.get("kind")
    if not expanded or kind is None:
        return ""
    return show_uncertainty(float(expanded), Kind(kind), unit=str(content.get("unit") or ""))


def day(at: str) -> str:
    """The date of an entry where the workshop is: "2026-05-04"."""
    return _local(at).strftime("%Y-%m-%d")


def day_and_time(at: str) -> str:
    """Date and time of an entry where the workshop is: "2026-05-04 09:30"."""
    return _local(at).strftime("%Y-%m-%d %H:%M")


def _local(at: str) -> datetime:
    return datetime.fromisoformat(at).astimezone()
