"""Figures as the page says them: rounded, without numbers of entries; the record keeps them exact. Qt-free."""

import re
from math import floor, log10
from typing import TYPE_CHECKING

from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.judgement.statements.band import Band
    from benchapp.quantities.dimensions import Kind

_DIGITS = 2
_ROUNDED = 0.05
"""share of a figure by which two digits may move it"""
_WHOLE = 0.5
"""from here on a lower limit is said as a whole number of the upper one's unit"""
_ENTRY = re.compile(r"^entry \d+, (?P<meter>[^,]+), \d{4}-\d\d-\d\dT(?P<time>\d\d:\d\d)$")
_ADDRESS = re.compile(r"^(?:[a-z0-9-]+\.)?(?P<step>[a-z][a-z0-9-]*)$")


def rounded(value: float) -> float:
    """The value with two digits, as a person says it."""
    if not value:
        return value
    place = floor(log10(abs(value))) - _DIGITS + 1
    return round(value, -place)


def about(value: float, kind: "Kind", unit: str = "") -> str:
    """A figure with two digits."""
    from benchapp.quantities.display import show

    return show(rounded(value), kind, unit=unit)


def band_words(band: "Band") -> str:
    """The band in one short sentence; a published limit and one that its author stated keep their digits."""
    from benchapp.quantities.display import show

    say = show if is_stated(band) else about
    if band.upper is not None and band.lower == -band.upper:
        return tr("{upper} or less, either way round").format(upper=say(band.upper, band.kind, unit=band.unit))
    if band.lower is not None and band.upper is not None:
        limits = _limits_of(band)
        return limits if is_stated(band) else tr("about {limits}").format(limits=limits)
    lower, upper = (None if one is None else say(one, band.kind, unit=band.unit) for one in (band.lower, band.upper))
    if lower:
        return tr("{lower} or more").format(lower=lower)
    return tr("{upper} or less").format(upper=upper) if upper else ""


def with_plain_band(sentence: str, band: "Band | None", value: float | None) -> str:
    """A judgement's sentence with the band as the page spells it; exact where the rounded one would deny it."""
    from benchapp.judgement.statements.sentences import say_limits

    if band is None or band.lower is None or band.upper is None or abs(band.lower) == abs(band.upper):
        return sentence
    if value is None or _is_at_edge(value, band):
        return sentence
    return sentence.replace(say_limits(band), _limits_of(band))


def _limits_of(band: "Band") -> str:
    """Both limits as the page spells them: two digits where they were worked out, and the unit once."""
    lower, upper = _both(band)
    return tr("{lower} to {upper}").format(lower=_in_unit_of(lower, upper, band), upper=upper)


def _both(band: "Band") -> tuple[str, str]:
    """Both limits, each with its unit."""
    from benchapp.quantities.display import show

    say = show if is_stated(band) else about
    lower, upper = (say(one or 0.0, band.kind, unit=band.unit) for one in (band.lower, band.upper))
    return lower, upper


def _is_at_edge(value: float, band: "Band") -> bool:
    """Whether rounding a limit could carry it across the value: two digits move one by a twentieth at most."""
    if is_stated(band):
        return False
    lower, upper = (text.rpartition(" ")[2] for text in _both(band))
    apart = ((band.lower, _ROUNDED if lower == upper else 1.0), (band.upper, _ROUNDED))
    return any(limit is not None and abs(value - limit) <= share * abs(limit) for limit, share in apart)


def is_stated(band: "Band") -> bool:
    """Whether the band's limits are figures that somebody stated, rather than worked out from the circuit."""
    if str(band.kind) == "current" and len(band.derivation) > 1 and not band.safety:
        return False  # what a sound one draws is worked out, and has no middle
    return band.safety or band.expected is None or band.expected in (band.lower, band.upper)


def _in_unit_of(lower: str, upper: str, band: "Band") -> str:
    """The lower figure without its unit where the upper one has the same; 667 µA below 37 mA is 1 mA, or 0.7."""
    number, _, unit = lower.partition(" ")
    other, _, larger = upper.partition(" ")
    if unit == larger:
        return number
    if is_stated(band) or not band.lower or not band.upper or not other:
        return lower
    share = band.lower / band.upper * float(other)
    return f"{share:.0f}" if share >= _WHOLE else f"{share:.1g}"


def plain_what(what: str) -> str:
    """What a line of a derivation is about: a step's name in words in place of its address."""
    found = _ADDRESS.match(what)
    return found["step"].replace("-", " ") if found and ("." in what or "-" in what) else what


def plain_source(source: str) -> str:
    """Where a figure comes from: the time of a reading in place of its entry's number."""
    found = _ENTRY.match(source)
    return tr("read at {time}").format(time=found["time"]) if found else source


def is_number_alone(text: str) -> bool:
    """Whether a number was typed and no unit."""
    return text.strip().replace(".", "", 1).replace(",", "", 1).lstrip("-").isdecimal()


def this_meter(words: str, ident: str) -> str:
    """A sentence about the meter in hand, which says "this meter" in place of its id."""
    said = words.replace(f"{ident} ", tr("this meter") + " ").replace(f"{ident}'s", tr("this meter's"))
    return said[:1].upper() + said[1:]


def without_id(words: str, ident: str) -> str:
    """A sentence of a meter without the meter's id before it."""
    said = words.removeprefix(f"{ident}: ")
    return said[:1].upper() + said[1:]
