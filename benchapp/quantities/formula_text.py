"""Reads the text of a formula into a tree, by recursive descent; nothing in it is ever executed.

Size, nesting and exponents are bounded, so that no file can make the reader slow.
"""

import re
from decimal import Decimal
from typing import NoReturn

from benchapp.files.spelling import nearest
from benchapp.quantities.entry import read_quantity
from benchapp.quantities.formula_tree import (
    COMPARISONS,
    FUNCTIONS,
    Call,
    Name,
    Negative,
    Node,
    Number,
    Operation,
    Power,
)
from benchapp.quantities.problems import FormulaProblem
from benchapp.quantities.quantity import Quantity
from benchapp.quantities.units import ANY_KIND
from benchapp.words import say

LONGEST_FORMULA = 500
MOST_PARTS = 200
DEEPEST = 30
LARGEST_POWER = 9
"""Bounds of our own: several times what any formula of the bench needs."""

_SPACE = re.compile(r"[ \u00a0\u2009\u202f]*")
_NUMBER = re.compile(r"(?:[0-9]{1,20}(?:\.[0-9]{0,20})?|\.[0-9]{1,20})(?:[eE][+-]?[0-9]{1,2}(?![0-9A-Za-z]))?")
_CODE = re.compile(r"[0-9]{1,4}[pnuµmRkKMG][0-9]{1,4}(?![0-9A-Za-z.])")
_NAME = re.compile(r"[^\W\d_][^\W_]*(?:[-._]?[^\W_]+)*")
_SIGN = re.compile(r"<=|>=|!=|==|\*\*|[-+*/^()<>=,≤≥≠−×·÷]")
_PLAIN_SIGNS = {"≤": "<=", "≥": ">=", "≠": "!=", "==": "=", "**": "^", "−": "-", "×": "*", "·": "*", "÷": "/"}
_LONGEST_UNIT = max(map(len, ANY_KIND))


def parse_tree(text: str) -> tuple[Node, frozenset[str]]:
    """The tree of a formula and the names in it; raises FormulaProblem."""
    if len(text) > LONGEST_FORMULA:
        raise FormulaProblem(
            say(
                "The formula has {count} characters; {longest_formula} are allowed. Split it into several steps.",
                count=len(text),
                longest_formula=LONGEST_FORMULA,
            ),
            position=LONGEST_FORMULA,
        )
    parser = _Parser(text)
    tree = parser.whole()
    return tree, frozenset(parser.names)


class _Parser:
    """Goes along the text once; `at` is the next character to read."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.names: set[str] = set()
        self._parts = 0
        self._depth = 0
        self._skip_space()

    def whole(self) -> Node:
        if not self._rest():
            self._refuse("The formula is empty")
        left = self._sum()
        sign, position = self._peek_sign(), self.at
        if sign in COMPARISONS:
            self._take_sign()
            left = self._counted(Operation(sign=sign, left=left, right=self._sum(), position=position))
        if self._peek_sign() in COMPARISONS:
            self._refuse("A formula compares only once")
        if self._rest():
            self._refuse_rest()
        return left

    def _sum(self) -> Node:
        self._depth += 1
        if self._depth > DEEPEST:
            self._refuse(f"The formula has more than {DEEPEST} brackets inside each other")
        left = self._product()
        while (sign := self._peek_sign()) in ("+", "-"):
            position = self._take_sign()
            left = self._counted(Operation(sign=sign, left=left, right=self._product(), position=position))
        self._depth -= 1
        return left

    def _product(self) -> Node:
        left = self._signed()
        while (sign := self._peek_sign()) in ("*", "/"):
            position = self._take_sign()
            left = self._counted(Operation(sign=sign, left=left, right=self._signed(), position=position))
        return left

    def _signed(self) -> Node:
        minus, position = False, self.at
        while (sign := self._peek_sign()) in ("+", "-"):
            minus ^= sign == "-"
            self._take_sign()
        operand = self._power()
        return self._counted(Negative(operand=operand, position=position)) if minus else operand

    def _power(self) -> Node:
        base = self._atom()
        if self._peek_sign() != "^":
            return base
        position = self._take_sign()
        base = self._counted(Power(base=base, exponent=self._exponent(), position=position))
        if self._peek_sign() == "^":
            self._refuse("A power of a power needs brackets")
        return base

    def _exponent(self) -> int:
        found = re.compile(r"([-−]?) ?([0-9]{1,3})(?![0-9.])").match(self.text, self.at)
        if not found or int(found[2]) > LARGEST_POWER:
            self._refuse(f"A power is a whole number from -{LARGEST_POWER} to {LARGEST_POWER}")
        self._move_to(found.end())
        return -int(found[2]) if found[1] else int(found[2])

    def _atom(self) -> Node:
        if self._peek_sign() == "(":
            self._take_sign()
            inner = self._sum()
            self._expect(")")
            return inner
        if _NUMBER.match(self.text, self.at):
            return self._number()
        if found := _NAME.match(self.text, self.at):
            return self._named(found)
        what = f'"{self._rest()[0]}" cannot stand here' if self._rest() else "The formula breaks off"
        return self._refuse(f"{what}; a number, a name or a bracket is needed")

    def _named(self, found: re.Match[str]) -> Node:
        position, name = self.at, found.group()
        self._move_to(found.end())
        if self._peek_sign() != "(":
            self.names.add(name)
            return self._counted(Name(name=name, position=position))
        if name not in FUNCTIONS:
            near = nearest(name, FUNCTIONS)
            hint = f"did you mean {near}?" if near else f"there are {', '.join(sorted(FUNCTIONS))}"
            self._refuse(f'"{name}" is no function; {hint}', position)
        self._take_sign()
        arguments = [self._sum()]
        while self._peek_sign() == ",":
            self._take_sign()
            arguments.append(self._sum())
        self._expect(")")
        self._check_count(name, len(arguments), position)
        return self._counted(Call(function=name, arguments=tuple(arguments), position=position))

    def _check_count(self, name: str, count: int, position: int) -> None:
        if name in ("abs", "sqrt") and count != 1:
            self._refuse(f"{name} takes one argument, not {count}; decimals are written with a point", position)
        if name in ("min", "max") and count < 2:
            self._refuse(f"{name} takes two arguments or more", position)

    def _number(self) -> Node:
        position = self.at
        if code := _CODE.match(self.text, position):
            self._move_to(code.end())
            return self._counted(self._as_number(read_quantity(code.group()), position))
        found = _NUMBER.match(self.text, position)
        assert found, "called only where a number begins"
        self._move_to(found.end())
        self._refuse_comma(found)
        unit = self._unit()
        quantity = Quantity(value=Decimal(found.group()), unit=ANY_KIND[unit])
        return self._counted(self._as_number(quantity, position))

    def _as_number(self, quantity: Quantity, position: int) -> Number:
        exact = quantity.si_exact
        return Number(
            exact=exact,
            plain=float(exact),
            dimension=quantity.unit.kind.dimension,
            text=self.text[position : self.at].strip(),
            position=position,
        )

    def _unit(self) -> str:
        """The longest known unit that begins here and ends with its word, or none."""
        for length in range(min(_LONGEST_UNIT, len(self.text) - self.at), 0, -1):
            word = self.text[self.at : self.at + length]
            if word in ANY_KIND and not word[-1].isspace() and not self._continues_word(self.at + length, word[-1]):
                self._move_to(self.at + length)
                return word
        if found := _NAME.match(self.text, self.at):
            self._refuse(f'"{found.group()}" is no unit; between a number and a name stands an operator')
        return ""

    def _continues_word(self, at: int, last: str) -> bool:
        after = self.text[at : at + 1]
        if after == "(" or (after in ("-", "_", ".") and self.text[at + 1 : at + 2].isalpha()):
            return last.isalpha()
        return after.isalnum() and last.isalnum()

    def _refuse_comma(self, found: re.Match[str]) -> None:
        if re.match(r",[0-9]", self.text[self.at : self.at + 2]) and self._depth <= 1:
            self._refuse(f"Decimals in a formula are written with a point: {found.group()}.{self.text[self.at + 1]}…")

    def _peek_sign(self) -> str:
        found = _SIGN.match(self.text, self.at)
        return _PLAIN_SIGNS.get(found.group(), found.group()) if found else ""

    def _take_sign(self) -> int:
        position = self.at
        found = _SIGN.match(self.text, position)
        assert found, "called only after a sign was seen"
        self._move_to(found.end())
        return position

    def _expect(self, sign: str) -> None:
        if self._peek_sign() != sign:
            self._refuse(f'"{sign}" is missing')
        self._take_sign()

    def _counted(self, node: Node) -> Node:
        self._parts += 1
        if self._parts > MOST_PARTS:
            self._refuse(
                say("The formula has more than {most_parts} parts. Split it into several steps", most_parts=MOST_PARTS)
            )
        return node

    def _move_to(self, at: int) -> None:
        self.at = at
        self._skip_space()

    def _skip_space(self) -> None:
        found = _SPACE.match(self.text, self.at)
        self.at = found.end() if found else self.at

    def _rest(self) -> str:
        return self.text[self.at :]

    def _refuse_rest(self) -> NoReturn:
        sign = self._peek_sign()
        if sign == ")":
            self._refuse('")" closes a bracket that was never opened')
        self._refuse(f'"{self._rest()[:20]}" stands here without an operator before it')

    def _refuse(self, what: str, position: int | None = None) -> NoReturn:
        at = self.at if position is None else position
        raise FormulaProblem(
            say(
                "{what} (character {value} of the formula {shortened}).",
                what=what,
                value=at + 1,
                shortened=_shortened(self.text),
            ),
            position=at,
        )


def _shortened(text: str) -> str:
    return f'"{text[:80]}{"…" if len(text) > 80 else ""}"'
