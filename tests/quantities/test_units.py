"""The bench's own table of units, every entry held against pint (default registry, decimal arithmetic)."""

from decimal import Decimal

import pint
import pytest

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.problems import EntryProblem
from benchapp.quantities.unit import Unit
from benchapp.quantities.units import ANY_KIND, SI_UNITS, TABLE, unit_named

PINT_NAMES = {
    "": "dimensionless",
    "%": "percent",
    "‰": "permille",
    "rpm": "1/minute",  # pint counts a revolution as 2π rad; the bench counts turns
    "°C": "degC",
    "°F": "degF",
    "ips": "in/s",
    "Ah": "A*h",
    "mAh": "mA*h",
    "VA": "V*A",
    "mVA": "mV*A",
    "kVA": "kV*A",
    "MVA": "MV*A",
}
SI_NAMES = {
    Kind.voltage: "V",
    Kind.current: "A",
    Kind.resistance: "ohm",
    Kind.power: "W",
    Kind.frequency: "1/s",
    Kind.temperature: "degC",
    Kind.temperature_difference: "K",
    Kind.time: "s",
    Kind.length: "m",
    Kind.area: "m**2",
    Kind.speed: "m/s",
    Kind.capacitance: "F",
    Kind.inductance: "H",
    Kind.charge: "C",
    Kind.energy: "J",
    Kind.mass: "kg",
    Kind.ratio: "dimensionless",
}
UNITS = sorted(
    {unit for units in TABLE.values() for unit in units.values()}, key=lambda unit: (unit.kind.value, unit.factor)
)


@pytest.fixture(scope="module")
def registry():
    return pint.UnitRegistry(non_int_type=Decimal)


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.kind}-{unit.symbol}")
def test_every_unit_of_the_table_agrees_with_pint(unit: Unit, registry):
    name = PINT_NAMES.get(unit.symbol, unit.symbol.replace("²", "**2"))
    for value in (Decimal(0), Decimal("12.5")):
        theirs = registry.Quantity(value, name).to(SI_NAMES[unit.kind]).magnitude
        assert abs(unit.si(value) - Decimal(theirs)) <= Decimal("1e-24") * max(1, abs(unit.si(value)))


def test_the_si_unit_of_every_kind_counts_as_one():
    assert {kind: (unit.factor, unit.offset) for kind, unit in SI_UNITS.items()} == dict.fromkeys(Kind, (1, 0))
    assert SI_UNITS[Kind.temperature].symbol == "°C"
    assert SI_UNITS[Kind.mass].symbol == "kg"


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.kind}-{unit.symbol}")
def test_every_symbol_names_its_own_unit(unit: Unit):
    assert unit_named(unit.symbol, unit.kind) == unit


@pytest.mark.parametrize(
    ("spellings", "symbol"),
    [
        (("Mohm", "MΩ", "M\u2126", "Mohms", "megohm", "meg", "M ohm"), "Mohm"),
        (("mohm", "mΩ", "milliohm"), "mohm"),
        (("kohm", "kΩ", "Kohm", "kR", "kilohm"), "kohm"),
        (("ohm", "Ω", "R", "Ohm", "OHM", "ohms"), "ohm"),
        (("µF", "μF", "uF", "mfd", "MFD", "microfarad"), "µF"),
        (("mm²", "mm2", "mm^2"), "mm²"),
        (("mV", "mv", "millivolts", "millivolt"), "mV"),
        (("°C", "℃", "degC", "C"), "°C"),
    ],
)
def test_spellings_of_one_unit(spellings, symbol):
    assert {unit_named(spelling).symbol for spelling in spellings} == {symbol}


def test_the_case_of_m_is_never_ignored():
    assert unit_named("Mohm").factor == 10**9 * unit_named("mohm").factor
    assert unit_named("MV").factor == 10**9 * unit_named("mV").factor


def test_a_word_of_two_kinds_follows_the_kind_that_is_asked_for():
    assert unit_named("C").kind is Kind.temperature
    assert unit_named("C", Kind.charge).kind is Kind.charge
    assert unit_named("K").offset == 0
    assert unit_named("K", Kind.temperature).offset == Decimal("-273.15")
    assert unit_named("°C", Kind.temperature_difference).kind is Kind.temperature_difference


@pytest.mark.parametrize(
    ("name", "kind", "factor"),
    [
        ("furlong", Kind.length, "201.168"),
        ("erg", Kind.energy, "1e-7"),
        ("stone", Kind.mass, "6.35029318"),
        ("V/kohm", Kind.current, "1e-3"),
    ],
)
def test_units_outside_the_table_are_asked_of_pint(name, kind, factor):
    unit = unit_named(name)
    assert unit.kind is kind
    assert unit.factor == pytest.approx(Decimal(factor), rel=Decimal("1e-5"))


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("voltz", 'The unit "voltz" is not known. Did you mean V?'),
        ("kg/m", 'The unit "kg/m" is not known. Did you mean km?'),
        ("q", 'The unit "q" is not known.'),
        ("__import__('os')", "The unit \"__import__('os')\" is not known."),
        ("m**999999999", 'The unit "m**999999999" is not known.'),
    ],
)
def test_an_unknown_unit_is_refused_with_the_nearest(name, sentence):
    with pytest.raises(EntryProblem) as caught:
        unit_named(name)
    assert caught.value.sentence == sentence


def test_a_unit_is_shown_by_its_symbol():
    assert str(unit_named("megohm")) == "Mohm"


def test_no_spelling_is_empty_but_that_of_a_plain_ratio():
    assert ANY_KIND[""].kind is Kind.ratio
