"""The kind of quantity that a formula gives, and complaints about parts that do not go together."""

from collections.abc import Mapping

from benchapp.files.spelling import nearest
from benchapp.quantities.dimensions import Dimension, Kind
from benchapp.quantities.formula_tree import COMPARISONS, Call, Name, Negative, Node, Number, Operation, Power
from benchapp.quantities.problems import FormulaProblem
from benchapp.words import say

_LARGEST_POWER = 60
"""Beyond any physical quantity; a bound that keeps the numbers small (own choice)."""
RATIO = Kind.ratio.dimension
_LOWERED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789")


def dimension_of(node: Node, kinds: Mapping[str, Kind | Dimension]) -> Dimension:
    """The dimension of a part; raises FormulaProblem at the first part that does not fit."""
    match node:
        case Number():
            return node.dimension
        case Name():
            return _of_name(node, kinds)
        case Negative():
            return dimension_of(node.operand, kinds)
        case Operation():
            return _of_operation(node, kinds)
        case Power():
            return _bounded(dimension_of(node.base, kinds) ** node.exponent, node)
        case Call():
            return _of_call(node, kinds)


def _of_name(node: Name, kinds: Mapping[str, Kind | Dimension]) -> Dimension:
    kind = kinds.get(node.name)
    if kind is None:
        raise FormulaProblem(unknown_name(node.name, kinds), position=node.position)
    return kind.dimension if isinstance(kind, Kind) else kind


def unknown_name(name: str, known: Mapping[str, object]) -> str:
    """The sentence for a name that has no value here."""
    parts = name.split("-")
    for cut in range(1, len(parts)):
        before, after = "-".join(parts[:cut]), "-".join(parts[cut:])
        if before in known and (after in known or after.isdigit()):
            return say(
                '"{name}" is not known here. To subtract, put spaces round the sign: {before} - {after}.',
                name=name,
                before=before,
                after=after,
            )
    base = name.rstrip("⁰¹²³⁴⁵⁶⁷⁸⁹")
    if base != name and base in known:
        return say(
            '"{name}" is not known here. To raise it to a power, write {base}^{translate}.',
            name=name,
            base=base,
            translate=name[len(base) :].translate(_LOWERED),
        )
    near = nearest(name, known)
    if near:
        return say('"{name}" is not known here. Did you mean {near}?', name=name, near=near)
    return say('"{name}" is not known here. It must be an earlier step or a value of the equipment.', name=name)


def _of_operation(node: Operation, kinds: Mapping[str, Kind | Dimension]) -> Dimension:
    left, right = dimension_of(node.left, kinds), dimension_of(node.right, kinds)
    if node.sign == "*":
        return _bounded(left * right, node)
    if node.sign == "/":
        return _bounded(left / right, node)
    if left != right:
        raise FormulaProblem(_misfit(node, left, right), position=node.position)
    return RATIO if node.sign in COMPARISONS else left


def _misfit(node: Operation, left: Dimension, right: Dimension) -> str:
    if node.sign not in COMPARISONS:
        verb = "added to" if node.sign == "+" else "taken from"
        sentence = f"{_sentence_start(right)} cannot be {verb} {left}."
        if RATIO in (left, right):
            sentence += say(" To change it by a share, write value * (1 {sign} 5 %).", sign=node.sign)
        return sentence
    return say("{sentence_start} cannot be compared with {right}.", sentence_start=_sentence_start(left), right=right)


def _sentence_start(dimension: Dimension) -> str:
    words = str(dimension)
    return words[0].upper() + words[1:]


def _of_call(node: Call, kinds: Mapping[str, Kind | Dimension]) -> Dimension:
    first, *others = (dimension_of(argument, kinds) for argument in node.arguments)
    for argument, other in zip(node.arguments[1:], others, strict=True):
        if other != first:
            sentence = say(
                "{function} needs values of one kind: {first} and {other} do not go together.",
                function=node.function,
                first=first,
                other=other,
            )
            raise FormulaProblem(sentence, position=argument.position)
    if node.function != "sqrt":
        return first
    root = first.root()
    if root is None:
        raise FormulaProblem(say("The square root of {first} is not a quantity.", first=first), position=node.position)
    return root


def _bounded(dimension: Dimension, node: Node) -> Dimension:
    if max(map(abs, dimension.powers)) > _LARGEST_POWER:
        raise FormulaProblem("The powers of the units grow beyond any quantity.", position=node.position)
    return dimension
