"""A meter's record written from the lines of its data sheet: a function, its ranges, ±(% + counts).

A data sheet states ranges that grow tenfold in one line; here the line is taken apart into the ranges that it stands
for. Each keeps the line's accuracy and as many counts as the first.
"""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from benchapp.judgement.meters.accuracy import parse_accuracy
from benchapp.judgement.meters.functions import ALTERNATING, Function, Responds, kind_of
from benchapp.judgement.statements.problems import MeterProblem
from benchapp.quantities.display import show
from benchapp.quantities.entry import read_quantity
from benchapp.words import say

TENFOLD = 10.0
MOST_RANGES = 12
"""ranges that one line may stand for: more is taken for a slip of the finger (own choice)"""
WITH_CURRENT = frozenset({Function.earth_continuity, Function.continuity})
"""functions whose test is a current"""
OF_THE_MAINS_ALONE = "45 Hz to 65 Hz"
"""where no frequencies are given for an AC function, the accuracy is taken for mains alone (own choice)"""
NEAR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One line as the data sheet has it, everything as it was typed."""

    function: Function
    smallest: str
    """full scale of the smallest range: 600 mV"""
    largest: str = ""
    """full scale of the largest; empty: there is one range"""
    resolution: str
    """one count of the smallest range: 0.1 mV"""
    accuracy: str
    """0.5 % + 3 counts"""
    test: str = ""
    """test voltages of an insulation function (250 V, 500 V), test current of an earth function (200 mA)"""
    frequencies: str = ""
    """where the accuracy of an AC function holds: 45 Hz to 400 Hz"""

    def __str__(self) -> str:
        up_to = f" … {self.largest}" if self.largest else ""
        return f"{self.function}: {self.smallest}{up_to}, {self.resolution}, ±({self.accuracy})"


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterSheet:
    """What is to be known of a meter before its readings count."""

    meter: str
    title: str
    kind: str
    serial: str = ""
    categories: Sequence[str] = ()
    calibrated: date
    due: date
    responds: Responds = Responds.true_rms
    lines: Sequence[SheetLine] = ()


@dataclass(frozen=True, slots=True)
class WrittenRange:
    """One range as the record writes it."""

    size: float
    to: str
    resolution: str
    accuracy: str


def ranges_of(line: SheetLine) -> tuple[WrittenRange, ...]:
    """The ranges that a line stands for, smallest first; raises MeterProblem or EntryProblem with what is wrong."""
    kind = kind_of(line.function)
    size = read_quantity(line.smallest, kind=kind).si
    count = read_quantity(line.resolution, kind=kind).si
    largest = read_quantity(line.largest, kind=kind).si if line.largest.strip() else size
    parse_accuracy(line.accuracy)
    if size <= 0 or not 0 < count <= size:
        words = say("One count of {count} does not fit a range to {size}.", count=line.resolution, size=line.smallest)
        raise MeterProblem(words)
    if largest < size:
        raise MeterProblem(
            say(
                "The largest range, {largest}, is below the smallest, {smallest}. Swap them.",
                largest=line.largest,
                smallest=line.smallest,
            )
        )
    sizes = [size]
    while sizes[-1] * TENFOLD <= largest * (1 + NEAR):
        sizes.append(sizes[-1] * TENFOLD)
    if sizes[-1] < largest * (1 - NEAR):
        sizes.append(largest)
    if len(sizes) > MOST_RANGES:
        raise MeterProblem(
            say("From {smallest} to {largest} is too far for one line.", smallest=line.smallest, largest=line.largest)
        )
    return tuple(
        WrittenRange(one, show(one, kind), show(count * TENFOLD**step, kind), line.accuracy.strip())
        for step, one in enumerate(sizes)
    )


def meter_text(sheet: MeterSheet) -> str:
    """The text of the meter's record; whether it holds is for its model to say. Raises MeterProblem, EntryProblem."""
    head = [
        "# Written by this workshop from the meter's data sheet.",
        f"meter: {sheet.meter}",
        f"title: {_quoted(sheet.title)}",
        f"kind: {_quoted(sheet.kind)}",
    ]
    if sheet.serial:
        head.append(f"serial: {_quoted(sheet.serial)}")
    if sheet.categories:
        head.append(f"category: [{', '.join(map(_quoted, sheet.categories))}]")
    head += [f"calibrated: {sheet.calibrated}", f"due: {sheet.due}", "functions:"]
    for function in dict.fromkeys(line.function for line in sheet.lines):
        head += _function(function, [line for line in sheet.lines if line.function is function], sheet.responds)
    return "\n".join(head) + "\n"


def _function(function: Function, lines: Sequence[SheetLine], responds: Responds) -> Iterable[str]:
    yield f"  {function}:"
    if function in ALTERNATING and responds is not Responds.true_rms:
        yield f"    responds: {responds}"
    tests = [one.strip() for line in lines for one in line.test.split(",") if one.strip()]
    if tests and function is Function.insulation:
        yield f"    test voltages: [{', '.join(map(_quoted, dict.fromkeys(tests)))}]"
    elif tests and function in WITH_CURRENT:
        yield f"    test current: {_quoted(tests[0])}"
    yield "    ranges:"
    written = [(one, line) for line in lines for one in ranges_of(line)]
    for one, line in sorted(written, key=lambda pair: pair[0].size):
        accuracy = _quoted(one.accuracy)
        if function in ALTERNATING:
            accuracy = f"{{{_quoted(line.frequencies.strip() or OF_THE_MAINS_ALONE)}: {accuracy}}}"
        yield f"      - {{to: {_quoted(one.to)}, resolution: {_quoted(one.resolution)}, accuracy: {accuracy}}}"


def _quoted(text: str) -> str:
    """The text as YAML takes any text: JSON's strings are YAML's too."""
    return json.dumps(text.strip(), ensure_ascii=False)
