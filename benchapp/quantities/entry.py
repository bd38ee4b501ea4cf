"""The meaning of a text that a technician typed or a meter sent.

Forms: `9.12`, `9,12`, `9.12 V`, `9120mV`, `4k7`, `2R2`, `R47`, `1.5 Mohm`, `1.5M`, `3e-3 V`, `3×10⁻³ V`, `-12 V`, `OL`,
`>20 Mohm`, `<0.01 ohm`. Letter-and-digit codes as IEC 60062:2016. Plain readings take a quick way of a few
microseconds; all else takes the careful way, which knows why it refuses. What a refused text could have meant is said,
never guessed.
"""

import re
from collections.abc import Callable
from decimal import Decimal

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.numerals import NUMERAL, last_digit, read_numeral
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.quantity import Bound, Quantity, Reading
from benchapp.quantities.unit import Unit
from benchapp.quantities.units import ANY_KIND, PREFIXES, SI_UNITS, TABLE, bench_unit_named, known_unit, unit_named
from benchapp.words import say

LONGEST_ENTRY = 60
"""Characters of one typed value (own choice)."""
_QUICK = re.compile(r"([+-]?[0-9]{1,15}(?:\.([0-9]{1,15}))?) ?([A-Za-zΩ%°µ/²]{0,8})", re.ASCII)
_STEPS = tuple(Decimal((0, (1,), -places)) for places in range(16))
_NUMBER = re.compile(rf"([+-]?)\s?({NUMERAL})(?:[eE]([+-]?[0-9]{{1,60}}))?\s*(.*)", re.DOTALL)
_CODE = re.compile(r"([+-]?)([0-9]{0,4})(meg|Meg|[pnuµμmRrkKMGTVvAFH])([0-9]{1,4})\s*(\D{0,12})")
_POWER_OF_TEN = re.compile(r"\s?[×·x*]\s?10(?:\^([+-]?[0-9]{1,9})|([⁺⁻]?[⁰¹²³⁴-⁹]{1,9}))")
_RAISED = str.maketrans("⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "+-0123456789")
_OVER_RANGE = re.compile(r"(-?)\s*(?:\.?[o0]\.?l\.?|over[ -]?(?:load|range)|open|∞)\s*(.{0,12})", re.IGNORECASE)
_BOUND_WORDS = (
    (re.compile(r"(?:>=?|≥|>>|over|above|more than|greater than)\s*(?=[0-9.,+-])", re.IGNORECASE), Bound.above),
    (re.compile(r"(?:<=?|≤|<<|under|below|less than)\s*(?=[0-9.,+-])", re.IGNORECASE), Bound.below),
)
_SIGNS = str.maketrans("−–﹣－＋", "---" + "-+")
_NEVER_NEGATIVE = frozenset(
    {Kind.resistance, Kind.capacitance, Kind.inductance, Kind.frequency, Kind.time, Kind.length, Kind.area, Kind.mass}
)
SMALLEST, LARGEST = Decimal("1e-15"), Decimal("1e15")
"""Sizes in SI units, wider than any quantity of the bench, so that no later sum overflows (own choice)."""
ABSOLUTE_ZERO = Decimal("-273.15")
"""In °C (SI Brochure, 9th edition, 2.3.1; clause from memory)."""


def read_reading(text: str, *, kind: Kind | None, unit: str = "") -> Reading:
    """What was read off a meter; `unit` is what a bare number means. Raises EntryProblem with a sentence.

    The kind is None only where any kind will do; the text then says by its unit or code which it is. Only units of
    the bench's own table are taken, so that the answer comes at once with every key that is pressed.
    """
    found = _QUICK.fullmatch(text)
    if found:
        digits, places, word = found.groups()
        table = ANY_KIND if kind is None else TABLE[kind]
        known = table.get(word or unit)
        certain = (word or unit or kind is Kind.ratio) and not (kind is None and word == "K")
        if known is not None and certain and digits[0] != "-":
            quantity = Quantity(value=Decimal(digits), unit=known)
            return Reading(typed=text, quantity=quantity, step=_STEPS[len(places) if places else 0])
    return _careful_reading(text, kind, unit)


def read_quantity(text: str, *, kind: Kind | None = None) -> Quantity:
    """A value with its unit as it stands in files: `240 V`, `0.75 mm²`, `4k7`; raises EntryProblem.

    Without a kind, letter-and-digit codes are resistances (R, k, M, G, T) or capacitances (p, n, µ, m). Units that the
    bench's own table lacks are asked of pint, which takes a third of a second when it is first needed.
    """
    shown = _cleaned(text)
    quantity = _read_value(shown, shown, kind, unit_named, "")
    _refuse_impossible(quantity, shown)
    return quantity


def _careful_reading(text: str, kind: Kind | None, unit: str) -> Reading:
    shown = _cleaned(text)
    if found := _OVER_RANGE.fullmatch(shown):
        _check_over_range(found, shown, kind)
        return Reading(typed=text, quantity=None, bound=Bound.above)
    bound, rest = _split_bound(shown)
    quantity = _read_value(rest, shown, kind, bench_unit_named, unit)
    _refuse_impossible(quantity, shown)
    return Reading(typed=text, quantity=quantity, bound=bound, step=last_digit(quantity.value))


def _cleaned(text: str) -> str:
    if len(text) > LONGEST_ENTRY:
        raise EntryProblem(
            say('"{text}…" is longer than a value can be. Type the number and its unit.', text=text[:LONGEST_ENTRY])
        )
    shown = text.strip().translate(_SIGNS)
    if not shown:
        raise EntryProblem("Nothing was typed. Type what the meter shows, for example 9.12 V.")
    unseen = next((letter for letter in shown if not letter.isprintable() and not letter.isspace()), None)
    if unseen is not None:
        seen = "".join(letter for letter in shown if letter.isprintable())
        what = f'"{seen}"' if seen else "This"
        raise EntryProblem(
            say(
                "{what} holds a character that cannot be seen (U+{ord:04X}). Type the value anew.",
                what=what,
                ord=ord(unseen),
            )
        )
    return shown


def _split_bound(shown: str) -> tuple[Bound, str]:
    for pattern, bound in _BOUND_WORDS:
        if found := pattern.match(shown):
            return bound, shown[found.end() :]
    return Bound.exact, shown


def _check_over_range(found: re.Match[str], shown: str, kind: Kind | None) -> None:
    sign, word = found.groups()
    if sign:
        raise EntryProblem(
            say(
                '"{shown}" is over range with a minus sign. Take it again on a higher range, or with the '
                "leads swapped.",
                shown=shown,
            )
        )
    if word:
        _of_kind(bench_unit_named(word, kind), kind, shown)


_FindUnit = Callable[[str, Kind | None], Unit]


def _read_value(rest: str, shown: str, kind: Kind | None, find_unit: _FindUnit, unit: str) -> Quantity:
    if code := _CODE.fullmatch(rest):
        return _read_code(code, shown, kind)
    found = _NUMBER.fullmatch(_POWER_OF_TEN.sub(_as_exponent, rest, count=1))
    if not found:
        raise EntryProblem(
            say(
                '"{shown}" is not a number. Type what the meter shows, for example {example}.',
                shown=shown,
                example=_example(kind),
            )
        )
    sign, digits, exponent, word = found.groups()
    number = read_numeral(digits, exponent or "", shown)
    meant = _of_kind(_unit_of(word.strip(), shown, kind, find_unit, unit), kind, shown)
    return Quantity(value=number.copy_negate() if sign == "-" else number, unit=meant)


def _as_exponent(power: re.Match[str]) -> str:
    return f"e{power[1] or power[2].translate(_RAISED)}"


_TWO_NUMBERS = re.compile(r"[-+±/*:;.,]|.*[0-9]{2}|.* [0-9]")
_AC_OR_DC = re.compile(r"(\S+?)\s*(?:ac|dc|rms|AC|DC|RMS|~)")


def _unit_of(word: str, shown: str, kind: Kind | None, find_unit: _FindUnit, unit: str) -> Unit:
    if not word:
        if unit or kind in (Kind.ratio, None):
            return find_unit(unit, kind)
        raise EntryProblem(
            say('"{shown}" has no unit. Write for example {example}.', shown=shown, example=_example(kind))
        )
    if (short := _bare_prefix(word, kind)) is not None:
        return short
    if kind is None and word == "K" and not shown.endswith(" K"):
        number = shown[:-1]
        raise EntryProblem(
            say(
                '"{shown}" can be read in two ways: {number} kohm or {number} kelvin. Write the unit in full.',
                shown=shown,
                number=number,
            )
        )
    if _TWO_NUMBERS.match(word):
        raise EntryProblem(
            say('"{shown}" holds more than one number with its unit. Type one value alone.', shown=shown)
        )
    if (found := _AC_OR_DC.fullmatch(word)) and known_unit(word, kind) is None and known_unit(found[1], kind):
        raise EntryProblem(
            say(
                '"{shown}" says AC or DC after the unit. The step says which it is: type the number and {found}.',
                shown=shown,
                found=found[1],
            )
        )
    return find_unit(word, kind)


_PREFIX_LETTERS = {"u": "µ", "μ": "µ", "K": "k"}
_PREFIXED = frozenset(
    {Kind.voltage, Kind.current, Kind.resistance, Kind.power, Kind.frequency, Kind.capacitance, Kind.inductance}
)


def _bare_prefix(word: str, kind: Kind | None) -> Unit | None:
    """The unit meant by an engineering suffix alone, as in `4.7k` where a resistance is asked for.

    Without a kind the letter says which part it stands on, as IEC 60062 has it: `47k` a resistor, `100n` a capacitor.
    """
    letter = _PREFIX_LETTERS.get(word, word)
    if kind is None:
        if word in ("m", "K"):  # a metre and a kelvin too
            return None
        kind = Kind.capacitance if letter in ("p", "n", "µ") else Kind.resistance
    if letter and letter in PREFIXES and kind in _PREFIXED:
        return TABLE[kind].get(letter + SI_UNITS[kind].symbol)
    return None


def _of_kind(unit: Unit, kind: Kind | None, shown: str) -> Unit:
    if kind is None or unit.kind is kind:
        return unit
    raise EntryProblem(
        say(
            '"{shown}" is {with_article}; {with_article_2} is needed here, for example {example}.',
            shown=shown,
            with_article=unit.kind.with_article,
            with_article_2=kind.with_article,
            example=_example(kind),
        )
    )


_CODE_KINDS = {"R": Kind.resistance, "V": Kind.voltage, "A": Kind.current, "F": Kind.capacitance, "H": Kind.inductance}
_CAPACITOR_LETTERS = "pnµm"


def _read_code(code: re.Match[str], shown: str, kind: Kind | None) -> Quantity:
    """IEC 60062: the letter is decimal mark and multiplier at once. With V, A, F or H it names the unit itself."""
    sign, before, letter, after, word = code.groups()
    letter = {"r": "R", "v": "V", "K": "k", "meg": "M", "Meg": "M", "u": "µ", "μ": "µ"}.get(letter, letter)
    own = _CODE_KINDS.get(letter)
    named = bench_unit_named(word, kind).kind if word.strip() and kind is None else kind
    meant = own or named or (Kind.capacitance if letter in _CAPACITOR_LETTERS else Kind.resistance)
    unit = TABLE[meant].get(SI_UNITS[meant].symbol if own else letter + SI_UNITS[meant].symbol)
    if unit is None or (not own and meant not in _PREFIXED):
        raise EntryProblem(
            say(
                '"{shown}" cannot be read as {with_article}. Write for example {example}.',
                shown=shown,
                with_article=meant.with_article,
                example=_example(meant),
            )
        )
    _of_kind(unit, kind, shown)
    if word.strip() and _of_kind(bench_unit_named(word, meant), meant, shown).factor != 1:
        raise EntryProblem(
            say(
                '"{shown}" has two prefixes. Write for example {before}.{after} {symbol}.',
                shown=shown,
                before=before or 0,
                after=after,
                symbol=unit.symbol,
            )
        )
    number = read_numeral(f"{before or 0}.{after}", "", shown)
    return Quantity(value=number.copy_negate() if sign == "-" else number, unit=unit)


def _refuse_impossible(quantity: Quantity, shown: str) -> None:
    kind, size = quantity.unit.kind, abs(quantity.unit.factor * quantity.value)
    if size and not SMALLEST <= size <= LARGEST:
        raise EntryProblem(
            say('"{shown}" is beyond anything that a bench measures. Check the number and its unit.', shown=shown)
        )
    if quantity.value < 0 and kind in _NEVER_NEGATIVE:
        hint = " Null the leads again and repeat the reading." if kind is Kind.resistance else " Check the sign."
        raise EntryProblem(
            say(
                '"{shown}": {with_article} is never below zero.{hint}',
                shown=shown,
                with_article=kind.with_article,
                hint=hint,
            )
        )
    if kind is Kind.temperature and quantity.si_exact < ABSOLUTE_ZERO:
        raise EntryProblem(say('"{shown}" is colder than anything can be. Check the sign and the unit.', shown=shown))


def _example(kind: Kind | None) -> str:
    symbol = "V" if kind is None else SI_UNITS[kind].symbol
    return "4.7 µF" if symbol == "F" else f"9.12 {symbol}".strip()  # nobody on a bench meets a farad


def seconds_of(text: str) -> float:
    """The span in seconds; raises EntryProblem for a text that is none."""
    return read_quantity(text, kind=Kind.time).si
