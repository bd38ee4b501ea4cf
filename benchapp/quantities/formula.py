"""A formula as people write it in files: checked for dimension when it is read, worked out when the readings are there.

    9 V * mains / (240 V) * (1 + 14 %)
    max(low-winding, twin-winding) - 0.05 ohm
    abs(left - right) <= 5 % * left

The language: numbers with or without a unit, names, `+ - * / ^` (also `− × · ÷`), brackets, `min`, `max`, `abs`,
`sqrt`, and at most one comparison (`< <= = != >= >`). A power is a whole number from -9 to 9. Names are words of
letters and digits joined by dashes, underscores or dots: `mains`, `low-winding`, `live-voltage.mains`. A dash there
belongs to the name, so a minus sign has a space on each side: `mains - low`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from benchapp.quantities.dimensions import Dimension, Kind
from benchapp.quantities.formula_dimension import dimension_of
from benchapp.quantities.formula_text import parse_tree
from benchapp.quantities.formula_tree import Node, factor_of_100, is_comparison
from benchapp.quantities.formula_value import value_of


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula that has been read; equal to another with the same text."""

    text: str
    tree: Node = field(compare=False, repr=False)
    names: frozenset[str] = field(compare=False)
    """Names whose kinds `check` and whose values `value` must be given."""

    @property
    def is_comparison(self) -> bool:
        """Whether its value is true or false."""
        return is_comparison(self.tree)

    @property
    def factor_of_100(self) -> int | None:
        """Where the whole is multiplied by a bare 100, as for a share in percent; None where it is not."""
        found = factor_of_100(self.tree)
        return None if found is None else found.position

    def check(self, kinds: Mapping[str, Kind | Dimension]) -> Dimension:
        """The dimension of its value (a ratio for a comparison); raises FormulaProblem where parts do not fit."""
        return dimension_of(self.tree, kinds)

    def value(self, values: Mapping[str, Any]) -> Any:  # noqa: ANN401 - Decimal, float, bool or array, as the values are
        """Its value in SI units, from values in SI units; raises FormulaProblem where there is none.

        Decimal when every value is a Decimal, float when one is a float, an array (float64) when one is an array;
        bool, or an array of bool, for a comparison. Elements without a value are nan or infinite in an array.
        """
        return value_of(self.tree, values, self.names)

    def __str__(self) -> str:
        return self.text


def parse_formula(text: str) -> Formula:
    """Read a formula; raises FormulaProblem with the position of what cannot be read."""
    tree, names = parse_tree(text)
    return Formula(text=text, tree=tree, names=names)
