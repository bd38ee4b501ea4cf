"""The lines that an instrument sends back, read into values.

Numbers come as NR1, NR2 or NR3 (IEEE 488.2, 8.7.2 to 8.7.4; clauses from memory); 9.9E37 stands for over-range, its
negative for under-range and 9.91E37 for "not a number" (SCPI-1999, volume 1, 7.2.1; clause from memory). All else is
refused with a sentence: a line that is half understood is worse than none.
"""

import re
from decimal import Decimal

from benchapp.judgement.meters.functions import Function, kind_of
from benchapp.meters.problems import BY_HAND, MeterProblem
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.quantity import Bound, Reading
from benchapp.words import say

OVER_RANGE = Decimal("9.9E37")
NOT_A_NUMBER = Decimal("9.91E37")

_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,4})?", re.ASCII)
_UNIT = {
    Kind("voltage"): "V",
    Kind("current"): "A",
    Kind("resistance"): "ohm",
    Kind("frequency"): "Hz",
    Kind("capacitance"): "F",
    Kind("temperature"): "°C",
    Kind("power"): "W",
}


def is_number(answer: str) -> bool:
    """Whether an answer is a plain number."""
    return _NUMBER.fullmatch(answer.strip()) is not None


def read_answer(answer: str, function: Function) -> Reading:
    """The reading in an answer, in the function's SI unit; over-range gives a reading without a quantity.

    A resistance a little below zero (leads nulled on a warmer contact) reads as zero: no circuit has less.
    Raises MeterProblem for everything that is not one plain number.
    """
    text = answer.strip()
    if not _NUMBER.fullmatch(text):
        raise MeterProblem(
            say("The meter answered {quoted}, which is not one number. {ADVICE}", quoted=quoted(text), ADVICE=_ADVICE)
        )
    value = Decimal(text)
    if abs(value) >= OVER_RANGE:
        return _beyond(value, text)
    kind = kind_of(function)
    try:
        return read_reading(_not_below_zero(text, value, kind), kind=kind, unit=_UNIT[kind])
    except EntryProblem as problem:
        raise MeterProblem(
            say("The meter answered {quoted}. {sentence}", quoted=quoted(text), sentence=problem.sentence)
        ) from problem


_ADVICE = say("Look at its display and its cable, then take the reading again. {by_hand}", by_hand=BY_HAND)
SMALLEST_BELOW_ZERO = Decimal("-0.5")  # ohm: more than leads and contacts account for (common practice, no source)


def _beyond(value: Decimal, text: str) -> Reading:
    if value == OVER_RANGE:
        return Reading(typed="OL", quantity=None, bound=Bound.above)
    if value == NOT_A_NUMBER:
        raise MeterProblem(
            say("The meter has no reading to give (it answered “not a number”). {ADVICE}", ADVICE=_ADVICE)
        )
    if value == -OVER_RANGE:
        raise MeterProblem(
            say(
                "The meter is over range with a minus sign. Take the reading on a higher range, or with "
                "the leads swapped."
            )
        )
    raise MeterProblem(
        say(
            "The meter answered {quoted}, which no instrument can measure. {ADVICE}",
            quoted=quoted(text),
            ADVICE=_ADVICE,
        )
    )


def _not_below_zero(text: str, value: Decimal, kind: Kind) -> str:
    if kind is Kind("resistance") and SMALLEST_BELOW_ZERO <= value < 0:
        return "0"
    return text


def quoted(text: str) -> str:
    """What was sent, short and in quotation marks, for a sentence."""
    if not text:
        return "with an empty line"
    shown = "".join(sign if sign.isprintable() else "·" for sign in text[:40])
    return f"“{shown}…”" if len(text) > 40 else f"“{shown}”"
