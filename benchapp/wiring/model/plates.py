"""What stands on old rating plates and fuse caps, brought to the form that a file's values have.

Fuse caps: IEC 60127-1 marks a link by its speed (FF, F, M, T, TT), its current, its breaking capacity (L, E, H) and its
voltage, as T400mAL250V (letters of the breaking capacity from memory). Plates: common practice, no source.
"""

import re

from benchapp.files.locations import Mistake
from benchapp.quantities.dimensions import Kind
from benchapp.wiring.model.values import read_positive

_VOLTS = r"(?:V\.?|volts?)"
_MARK = r"(?:~|A\.?\s?C\.?)"
_ALTERNATING = re.compile(rf"{_MARK}?\s*(?P<number>[0-9].*?)\s*{_VOLTS}\s*{_MARK}?", re.IGNORECASE | re.DOTALL)
_SHARED = re.compile(r"(?P<low>[0-9]+(?:\.[0-9]+)?)\s*(?:/|\.\.\.|…)\s*(?P<high>[0-9]+(?:\.[0-9]+)?)")
_TWO_FREQUENCIES = re.compile(r"(?P<first>[0-9.]+)\s*(?:-|–|/|to)\s*(?P<second>[0-9.]+)\s*(?P<unit>\D+)")
_FUSE = re.compile(
    r"(?:(?:FF|TT|[FMT])\s*)?(?P<current>[0-9][0-9.,]*\s*(?:mA|A))\s*"
    r"(?:(?:FF|TT|[FMT]|A/?S|slow|fast|quick)\b)?\s*[LEH]?\s*/?\s*(?:[0-9]{2,3}\s*V)?(?:\s*(?:AC|~))?"
)
ONE_RANGE = 1.3
"""How far apart two voltages with a stroke between are one range (200/250 V); 110/220 V is a selector's choice. Common
practice, no source."""


def plate_volts(text: str) -> str:
    """A plate's alternating voltage without its marks for AC, a range in words: "240 V", "200 V to 250 V".

    What is of another shape stays as it is, for the reader of voltages to complain about.
    """
    written = text.strip()
    found = _ALTERNATING.fullmatch(written)
    if found is None:
        return written
    number = found["number"]
    shared = _SHARED.fullmatch(number)
    if shared is not None:
        low, high = shared["low"], shared["high"]
        if float(high) > ONE_RANGE * float(low):
            what = f'"{written}" is a choice of two voltages, which a selector makes'
            raise Mistake(what, expected=f"the one that the selector stands at, such as {high} V")
        return f"{low} V to {high} V"
    return f"{number} V"


def read_frequency(text: str) -> float:
    """The frequency (Hz) of a plate, "50 Hz" or "50 c/s"; raises Mistake where it says two."""
    two = _TWO_FREQUENCIES.fullmatch(text.strip())
    if two is not None:
        what = f'"{text.strip()}" says two frequencies, and it is tested at one'
        raise Mistake(what, expected="that of the mains where it is used: 50 Hz or 60 Hz")
    return read_positive(text, Kind.frequency)


def read_fuse_rating(text: str) -> float:
    """The current (A) on a fuse's cap: "3 A", "T400mA", "F 1 A", "T1.25AL250V"."""
    found = _FUSE.fullmatch(text.strip())
    return read_positive(found["current"] if found is not None else text, Kind.current)
