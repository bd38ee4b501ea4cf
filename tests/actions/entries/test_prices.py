"""A price that is typed as a bare number stands in the workshop's currency; any other text stands as it was typed."""

from dataclasses import replace

import pytest

from benchapp.actions.entries.days import change_workshop
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import price_in, set_disposition
from benchapp.actions.workbench.bench import Bench
from tests.desktop.windows import Clock
from tests.people import staffed


@pytest.mark.parametrize(
    ("currency", "typed", "price"),
    [
        ("£", "12", "£12"),
        ("£", "12.5", "£12.50"),
        ("€", "12,00", "€12,00"),
        ("EUR", "12", "EUR\u00a012"),
        ("", "12", "12"),
        ("£", "offers", "offers"),
        ("£", "$12", "$12"),
        ("£", "", ""),
        ("£", "1.234", "1.234"),
    ],
)
def test_a_bare_number_gets_the_currency_and_no_other_text_does(currency, typed, price):
    assert price_in(currency, typed) == price


def test_a_price_is_kept_in_the_currency_of_the_workshop(tmp_path):
    bench = Bench.create(tmp_path / "tarnbeck.workbook", clock=Clock(), workshop=staffed())
    change_workshop(bench, replace(bench.workshop, currency="£"), by="AB")
    take_in_lot(bench, name="Van", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
    set_disposition(bench, "TB-001", "hold", by="AB", price="12.5")
    price = bench.units()[0].price
    bench.close()
    assert price == "£12.50"
