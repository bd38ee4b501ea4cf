"""Units that the bench's own table lacks, asked of pint.

pint takes a fifth of a second to load, so it is loaded when the first such unit is met, and it never sees a text
that is not shaped like a unit: products, quotients and small powers of words.
"""

import re
from decimal import Decimal
from functools import cache
from typing import Any

from benchapp.quantities.dimensions import Dimension
from benchapp.quantities.unit import Unit

_WORD = r"[A-Za-zµμΩ°]{1,24}(?:\s?(?:\*\*|\^)\s?-?[1-4]|[²³])?"
_SHAPE = re.compile(rf"{_WORD}(?:\s?[*·/]\s?{_WORD}){{0,3}}")
_BASES = ("[length]", "[mass]", "[time]", "[current]", "[temperature]")


def foreign_unit(text: str) -> Unit | None:
    """The unit as pint knows it, if it measures something the bench has a name for; else None."""
    if len(text) > 60 or not _SHAPE.fullmatch(text):
        return None
    try:
        one = _registry().Quantity(Decimal(1), _spelled_for_pint(text)).to_base_units()
        nought = _registry().Quantity(Decimal(0), _spelled_for_pint(text)).to_base_units()
    except Exception:  # pint raises errors of many families for words it does not know
        return None
    kind = _dimension(one).kind
    if kind is None or nought.magnitude != 0:
        return None
    factor = Decimal(one.magnitude)
    return Unit(symbol=text, kind=kind, factor=factor)


def _spelled_for_pint(text: str) -> str:
    return text.replace("²", "**2").replace("³", "**3").replace("^", "**").replace("·", "*")


def _dimension(quantity: Any) -> Dimension:  # noqa: ANN401 - pint's classes are made when its registry is
    powers = dict(quantity.dimensionality)
    m, kg, s, a, k = (int(powers.pop(base, 0)) for base in _BASES)
    return Dimension((m, kg, s, a, k)) if not powers else Dimension((99, 0, 0, 0, 0))


@cache
def _registry() -> Any:  # noqa: ANN401 - see above
    import pint

    return pint.UnitRegistry(non_int_type=Decimal, cache_folder=None)
