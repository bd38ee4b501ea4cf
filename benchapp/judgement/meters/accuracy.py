"""What a meter's accuracy statement allows: "0.5 % + 3 counts", "0.05 % + 0.01 % of range", "2 %", "3 counts".

The parts add to a half-width; its distribution is rectangular (JCGM 100:2008, 4.3.7). A count is one step of the last
digit on the range in use.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from benchapp.judgement.acceptance.accept_habits import accuracy_suggestion
from benchapp.judgement.statements.problems import AccuracyProblem
from benchapp.words import say

_TERM = re.compile(
    r"(?P<number>\d{1,9}(?:\.\d{1,9})?)\s*"
    r"(?P<percent>%)?\s*(?:of\s+)?(?P<of>reading|range|counts?|digits?)?"
)
_WRAP = re.compile(r"^±?\s*\(?\s*(.*?)\s*\)?$", re.DOTALL)
_EXAMPLES = "write for example 0.5 % + 3 counts, or 0.05 % + 0.01 % of range"


@dataclass(frozen=True, slots=True, kw_only=True)
class Accuracy:
    """Half-width = reading × of_reading + full scale × of_range + counts × resolution; both shares are plain ratios."""

    text: str
    of_reading: float = 0.0
    of_range: float = 0.0
    counts: float = 0.0

    def half_width(self, value: float, resolution: float, full_scale: float) -> float:
        """Largest error that the statement allows at `value`, all in the same SI unit."""
        return self.of_reading * abs(value) + self.of_range * full_scale + self.counts * resolution


def parse_accuracy(text: str) -> Accuracy:
    """Read an accuracy statement; raises AccuracyProblem with a sentence that says what it could not read."""
    if len(text) > 100:
        raise AccuracyProblem(
            say(
                "An accuracy statement of {count} characters is too long; {examples}.",
                count=len(text),
                examples=_EXAMPLES,
            )
        )
    wrapped = _WRAP.match(text.strip())
    inner = wrapped.group(1) if wrapped else text
    found = {"of_reading": 0.0, "of_range": 0.0, "counts": 0.0}
    seen: set[str] = set()
    for part in inner.split("+"):
        name, amount = _term(part.strip(), text)
        if name in seen:
            raise AccuracyProblem(
                say("“{text}” states the same part of the accuracy twice; {examples}.", text=text, examples=_EXAMPLES)
            )
        seen.add(name)
        found[name] = amount
    return Accuracy(text=text.strip(), **found)


def _term(part: str, text: str) -> tuple[str, float]:
    match = _TERM.fullmatch(part)
    if not match or (match["percent"] and (match["of"] or "").startswith(("count", "digit"))):
        suggestion = accuracy_suggestion(text)
        cure = f"Did you mean “{suggestion}”?" if suggestion else f"{_EXAMPLES.capitalize()}."
        raise AccuracyProblem(
            say("“{part}” in “{text}” is no part of an accuracy statement. {cure}", part=part, text=text, cure=cure)
        )
    number = float(match["number"])
    if match["percent"]:
        if number >= 100:
            raise AccuracyProblem(
                say("{part} in “{text}” is no accuracy: it must be below 100 %.", part=part, text=text)
            )
        return ("of_range" if match["of"] == "range" else "of_reading"), number / 100
    if match["of"] in ("reading", "range"):
        raise AccuracyProblem(f"“{part}” in “{text}” needs a % sign; {_EXAMPLES}.")
    return "counts", number
