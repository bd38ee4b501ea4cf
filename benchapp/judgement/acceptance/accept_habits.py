"""What somebody wrote by habit, said as our files do: "max 3 %", "<= 5 V", "8 V to 14 V", "12 V", "0.5 % + 3 dgt"."""

from __future__ import annotations

import re

from benchapp.files.spelling import nearest

LONGEST = 120
"""Characters of a text that are looked at: nobody writes a longer habit (own choice)."""
_NUMBER = r"[-−]?\d[\d.,]*\s*[^\d\s<>=≤≥±+-]*"
_UPPER = re.compile(
    r"(?:max(?:imum)?\.?|<=?|=<|≤|up to|(?:no|not) more than|not above|not over|less than|below|under|lower than)"
    r"\s*(?P<value>\S.*)|(?P<behind>\S.*?)\s*(?:max(?:imum)?\.?|or less|at most)",
    re.IGNORECASE,
)
_LOWER = re.compile(
    r"(?:min(?:imum)?\.?|>=?|=>|≥|(?:no|not) less than|not below|not under|more than|above|over|greater than)"
    r"\s*(?P<value>\S.*)|(?P<behind>\S.*?)\s*(?:min(?:imum)?\.?|or more|at least)",
    re.IGNORECASE,
)
_SPAN = re.compile(
    rf"(?:from\s+|between\s+|betwen\s+)?(?P<low>{_NUMBER}?)\s*(?:to|till|until|and|…|\.\.\.?|–|—|-)\s*(?P<high>{_NUMBER})",
    re.IGNORECASE,
)
_ALONE = re.compile(_NUMBER)
_UNIT = re.compile(r"[^\d\s.,]+$")
_COUNTS = re.compile(r"\b(?:dgts?|digs?|lsds?|cts?|cnts?)\b\.?", re.IGNORECASE)
_WHOLE = ("from wiring", "from fuse rules", "from limiter rules")


def accept_suggestion(text: str) -> str:
    """The accept expression that was probably meant; empty when nothing is near."""
    shown = " ".join(text[:LONGEST].split())
    if found := _UPPER.fullmatch(shown):
        return f"at most {found['value'] or found['behind']}"
    if found := _LOWER.fullmatch(shown):
        return f"at least {found['value'] or found['behind']}"
    if found := _SPAN.fullmatch(shown):
        return f"between {_with_unit(found['low'].strip(), found['high'].strip())} and {found['high'].strip()}"
    if _ALONE.fullmatch(shown):
        return f"{shown} ± 5 %" if _UNIT.search(shown) else ""
    word, _, rest = shown.partition(" ")
    if nearest(word, ("limit",)) and rest:
        return f"limit {rest}"
    return nearest(shown, _WHOLE) or ""


def accuracy_suggestion(text: str) -> str:
    """The accuracy statement that was probably meant; empty when nothing is near."""
    mended = _COUNTS.sub("counts", text)
    return mended if mended != text else ""


def _with_unit(low: str, high: str) -> str:
    unit = _UNIT.search(high)
    return low if _UNIT.search(low) or unit is None else f"{low} {unit.group()}"
