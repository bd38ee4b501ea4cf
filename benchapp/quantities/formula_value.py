"""The value of a formula, given the values of its names in SI units.

One walk for three arithmetics: Decimal when all values are Decimal (limits as stated stay exact), float, or arrays;
numpy is loaded only when an array comes in.
"""

import math
import operator
from collections.abc import Callable, Mapping
from decimal import Decimal, DecimalException, DivisionByZero, InvalidOperation
from typing import Any

from benchapp.quantities.formula_dimension import unknown_name
from benchapp.quantities.formula_tree import Call, Name, Negative, Node, Number, Operation, Power
from benchapp.quantities.problems import FormulaProblem
from benchapp.words import say

Value = Any
"""Decimal, float, bool or numpy array."""

_OPERATORS: Mapping[str, Callable[[Value, Value], Value]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    "<": operator.lt,
    "<=": operator.le,
    "=": operator.eq,
    "!=": operator.ne,
    ">=": operator.ge,
    ">": operator.gt,
}


def value_of(tree: Node, values: Mapping[str, Value], names: frozenset[str]) -> Value:
    """The value of a formula; raises FormulaProblem where it has none."""
    given = {name: values[name] for name in names if name in values}
    if any(_is_array(value) for value in given.values()):
        return _value_of_arrays(tree, given)
    exact = all(isinstance(value, Decimal | int) for value in given.values())
    convert: Callable[[Value], Value] = Decimal if exact else float
    result = _walk(tree, {name: convert(value) for name, value in given.items()}, _Plain(exact=exact))
    if not isinstance(result, bool) and not math.isfinite(result):
        raise FormulaProblem("The formula has no finite value for these readings.", position=tree.position)
    return result


def _value_of_arrays(tree: Node, given: Mapping[str, Value]) -> Value:
    import numpy as np

    with np.errstate(all="ignore"):
        arrays = {name: np.asarray(value, dtype=np.float64) for name, value in given.items()}
        return _walk(tree, arrays, _Arrays())


def _is_array(value: Value) -> bool:
    return hasattr(value, "__array__") and not isinstance(value, float)


class _Plain:
    """Functions on single numbers."""

    def __init__(self, *, exact: bool) -> None:
        self.exact = exact

    def number(self, node: Number) -> Value:
        return node.exact if self.exact else node.plain

    def call(self, function: str, arguments: list[Value]) -> Value:
        if function == "sqrt":
            return arguments[0].sqrt() if self.exact else math.sqrt(arguments[0])
        if function == "abs":
            return abs(arguments[0])
        return min(arguments) if function == "min" else max(arguments)


class _Arrays:
    """Functions on arrays, element by element."""

    def number(self, node: Number) -> Value:
        return node.plain

    def call(self, function: str, arguments: list[Value]) -> Value:
        import numpy as np

        if function == "sqrt":
            return np.sqrt(arguments[0])
        if function == "abs":
            return np.abs(arguments[0])
        result = arguments[0]
        for argument in arguments[1:]:
            result = np.minimum(result, argument) if function == "min" else np.maximum(result, argument)
        return result


def _walk(node: Node, values: Mapping[str, Value], arithmetic: _Plain | _Arrays) -> Value:
    match node:
        case Number():
            return arithmetic.number(node)
        case Name():
            if node.name not in values:
                raise FormulaProblem(unknown_name(node.name, values), position=node.position)
            return values[node.name]
        case Negative():
            return -_walk(node.operand, values, arithmetic)
        case Operation():
            left, right = _walk(node.left, values, arithmetic), _walk(node.right, values, arithmetic)
            return _tried(node, _OPERATORS[node.sign], left, right)
        case Power():
            return _tried(node, _raised, _walk(node.base, values, arithmetic), node.exponent)
        case Call():
            arguments = [_walk(argument, values, arithmetic) for argument in node.arguments]
            return _tried(node, arithmetic.call, node.function, arguments)


def _raised(base: Value, exponent: int) -> Value:
    return 1 / base**-exponent if exponent < 0 else base**exponent


def _tried(node: Operation | Power | Call, action: Callable[[Any, Any], Value], one: Value, other: Value) -> Value:
    """The result of one step; what arithmetic cannot do becomes a sentence."""
    try:
        return action(one, other)
    except (ZeroDivisionError, OverflowError, DecimalException, ValueError) as error:
        if isinstance(node, Call):
            what = "takes the square root of a value below zero"
        elif isinstance(error, ZeroDivisionError | DivisionByZero | InvalidOperation):
            what = "divides by zero"
        else:
            what = "grows beyond every number"
        sentence = say(
            "The formula {what} with these readings (character {value}).", what=what, value=node.position + 1
        )
        raise FormulaProblem(sentence, position=node.position) from error
