"""Asking about a slip of the prefix never stands in the way of a reading."""

import pytest

from benchapp.quantities.doubt import doubt_about
from benchapp.quantities.quantity import Bound, Quantity, Reading
from benchapp.quantities.units import TABLE

UNITS = sorted({(kind, unit.symbol) for kind, units in TABLE.items() for unit in units.values()})


@pytest.mark.parametrize(("kind", "symbol"), UNITS, ids=lambda value: str(value))
def test_a_reading_in_any_unit_may_lie_far_outside_its_band(kind, symbol):
    from decimal import Decimal

    unit = next(unit for unit in TABLE[kind].values() if unit.symbol == symbol)
    reading = Reading(typed="93", quantity=Quantity(value=Decimal(93), unit=unit), bound=Bound.exact, step=None)
    for upper in (1e-12, 0.03, 1e12):
        assert isinstance(doubt_about(reading, None, upper), str)
