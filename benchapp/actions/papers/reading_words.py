"""An entry's reading, band and time in the words that paper carries."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement.statements.band import Band
    from benchapp.sequences.planning.answer_content import ReadingContent

_SIGNS = {"above": "> ", "below": "< "}


def reading_words(content: "ReadingContent") -> str:
    """The value as shown on the meter, with its unit: "9.12 V", "> 20 Mohm", "over range"."""
    from benchapp.quantities.display import show

    if content.value is None:
        return "over range"
    sign = _SIGNS.get(content.bound, "")
    return sign + show(float(content.value), content.kind, step=last_digit(content), unit=content.unit)


def source_words(content: "ReadingContent") -> str:
    """Where its digits come from, and what was sent: "by wire (+1.04E+01)"; empty where a person typed it."""
    return f"{content.source.value} ({content.sent})" if content.sent else ""


def last_digit(content: "ReadingContent") -> float | None:
    """The weight of the last digit typed, in SI, so that no digit is printed that the meter did not give."""
    from benchapp.errors import BenchError
    from benchapp.quantities.entry import read_reading

    try:
        typed = read_reading(content.kept or content.typed, kind=content.kind, unit=content.unit)
    except BenchError:
        return None
    return typed.si_step


def band_words(content: "ReadingContent") -> str:
    """The limits that applied: "8.1 V to 9.9 V", "at most 0.15 ohm", empty where none did."""
    from benchapp.judgement.statements.sentences import say_limits

    band = _band_of(content)
    return "" if band is None else say_limits(band)


def band_and_expected_words(content: "ReadingContent") -> str:
    """The limits with what was expected beside them: a limit alone hides half the strands broken."""
    from benchapp.quantities.display import show

    words, expected = band_words(content), content.expected
    if not words or expected is None or expected in (content.lower, content.upper):
        return words
    shown = show(float(expected), content.kind, unit=content.unit)
    return f"{words}, expected {shown}"


def _band_of(content: "ReadingContent") -> "Band | None":
    from benchapp.judgement.statements.band import Band

    if content.lower is None and content.upper is None:
        return None
    return Band(kind=content.kind, unit=content.unit, lower=content.lower, upper=content.upper)


def uncertainty_words(content: "ReadingContent") -> str:
    """The expanded uncertainty: "0.11 V", empty where none is known."""
    from benchapp.quantities.display import show_uncertainty

    if not content.expanded_uncertainty:
        return ""
    return show_uncertainty(float(content.expanded_uncertainty), content.kind, unit=content.unit)
