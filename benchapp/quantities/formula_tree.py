"""The parts of a formula that has been read; `position` is the character of the text, counted from 0."""

from dataclasses import dataclass
from decimal import Decimal

from benchapp.quantities.dimensions import Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number with its unit, already in SI units: exact, and once more as the float that plain arithmetic uses."""

    exact: Decimal
    plain: float
    dimension: Dimension
    text: str
    position: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """Something whose value comes from outside."""

    name: str
    position: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Negative:
    """A minus sign before a part."""

    operand: "Node"
    position: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """Two parts with + - * / or a comparison between them."""

    sign: str
    left: "Node"
    right: "Node"
    position: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Power:
    """A part raised to a small whole number."""

    base: "Node"
    exponent: int
    position: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """One of the few functions with its arguments."""

    function: str
    arguments: tuple["Node", ...]
    position: int


Node = Number | Name | Negative | Operation | Power | Call
COMPARISONS = frozenset({"<", "<=", "=", "!=", ">=", ">"})
FUNCTIONS = frozenset({"min", "max", "abs", "sqrt"})


def factor_of_100(node: Node) -> Number | None:
    """A bare 100 among the factors of the whole formula: how one writes a share that has no unit % of its own."""
    if isinstance(node, Negative):
        return factor_of_100(node.operand)
    if isinstance(node, Number):
        return node if node.text == "100" else None
    if not isinstance(node, Operation) or node.sign not in "*/":
        return None
    return factor_of_100(node.left) or (factor_of_100(node.right) if node.sign == "*" else None)


def is_comparison(node: Node) -> bool:
    """Whether the part is true or false rather than a quantity."""
    return isinstance(node, Operation) and node.sign in COMPARISONS
