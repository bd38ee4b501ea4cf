"""The number that digits stand for, and how much the last of them is worth.

A point or a comma is the decimal mark (SI Brochure, 9th edition, 5.4.4; clause from memory). A mark that
could as well divide thousands is refused with both readings. Thin spaces may group digits in threes, as the same clause
has it.
"""

import re
from decimal import Decimal

from benchapp.quantities.problems import EntryProblem
from benchapp.words import say

MOST_DIGITS = 20
"""Digits in one number; no meter at a bench shows half as many (own choice)."""
LARGEST_EXPONENT = 30
"""Power of ten in either direction; wider than any quantity of the bench (own choice)."""
_THIN = "\u2009\u202f\u00a0\u2007"
_GROUPED = re.compile(rf"[0-9]{{1,3}}(?:[{_THIN}][0-9]{{3}})*(?:[.,](?:[0-9]{{3}}[{_THIN}])*[0-9]{{1,3}})?")
_PLAIN = re.compile(r"(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
NUMERAL = rf"[0-9.,](?:[0-9.,'’_{_THIN} ]*[0-9.,])?"
"""Pattern of whatever looks like the digits of a number, right or wrong."""


def read_numeral(digits: str, exponent: str, typed: str) -> Decimal:
    """The number; raises EntryProblem when the digits can be read in two ways or in none."""
    if any(mark in digits for mark in _THIN):
        if not _GROUPED.fullmatch(digits):
            raise EntryProblem(
                say('"{typed}" has spaces between its digits. Write the number without spaces.', typed=typed)
            )
        for mark in _THIN:
            digits = digits.replace(mark, "")
    elif _THOUSANDS.fullmatch(digits) or not _PLAIN.fullmatch(digits):
        raise EntryProblem(_two_readings(digits, typed))
    if sum(map(str.isdigit, digits)) > MOST_DIGITS:
        raise EntryProblem(
            say(
                '"{typed}" has more than {most_digits} digits. Write only those the meter shows.',
                typed=typed,
                most_digits=MOST_DIGITS,
            )
        )
    power = int(exponent or 0)
    if abs(power) > LARGEST_EXPONENT:
        raise EntryProblem(
            say(
                '"{typed}" has a power of ten beyond {largest_exponent}. Check the exponent.',
                typed=typed,
                largest_exponent=LARGEST_EXPONENT,
            )
        )
    number = Decimal(digits.replace(",", "."))
    return number.scaleb(power) if power else number


def last_digit(number: Decimal) -> Decimal:
    """The weight of the last digit that was written: 0.01 for 9.12."""
    exponent = number.as_tuple().exponent
    assert isinstance(exponent, int), "read_numeral gives finite numbers only"
    return Decimal((0, (1,), exponent))


def _two_readings(digits: str, typed: str) -> str:
    marks = [mark for mark in digits if mark in ".,"]
    parts = [part for part in re.split(r"[.,'’_ ]+", digits) if part]
    if not parts:
        return say('"{typed}" has no digits. Type the number that the meter shows.', typed=typed)
    whole = "".join(parts)
    if len(parts) == 1:
        return say('"{typed}" has more marks than a number needs. Write it with one decimal point.', typed=typed)
    as_decimal = f"{parts[0]}.{''.join(parts[1:])}"
    if len(set(marks)) == 2:
        readings = f"{as_decimal} or {''.join(parts[:-1])}.{parts[-1]}"
        return say(
            '"{typed}" has two decimal marks: it could mean {readings}. Use one point and nothing else.',
            typed=typed,
            readings=readings,
        )
    if len(marks) > 1:
        return say(
            '"{typed}" has {count} decimal marks: it could mean {as_decimal} or {whole}. Use one point or none.',
            typed=typed,
            count=len(marks),
            as_decimal=as_decimal,
            whole=whole,
        )
    if marks and len(parts) == 2 and digits[len(parts[0])] in ".,":
        return say(
            '"{typed}" can be read in two ways: {as_decimal} or {whole}. Write {as_decimal} with a point, or {whole}.',
            typed=typed,
            as_decimal=as_decimal,
            whole=whole,
        )
    return say(
        '"{typed}" has a gap between its digits: it could mean {as_decimal} or {whole}. Write it without the gap.',
        typed=typed,
        as_decimal=as_decimal,
        whole=whole,
    )
