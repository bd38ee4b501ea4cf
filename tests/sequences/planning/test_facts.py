"""Facts of a unit, in the words that people use."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.errors import BenchError
from benchapp.sequences.planning.applying import applies, same
from benchapp.sequences.planning.facts import MEASURED, WHOLE, YES_NO, fact_or_unknown, fact_value


@pytest.mark.parametrize(
    ("name", "said", "value"),
    [
        ("cord length", "1.8 m", 1.8),
        ("cord length", "180 cm", 1.8),
        ("cord area", "0.75 mm²", 0.75e-6),
        ("cord area", "0.75", 0.75e-6),
        ("power", "8 W", 8.0),
        ("cord cores", "3", 3),
        ("live chassis", "yes", True),
        ("bare metal", "No", False),
        ("plug", " moulded ", "moulded"),
        ("plug fuse rating", "3", 3.0),
        ("cord length", 2.0, 2.0),
    ],
)
def test_fact_is_kept_as_the_rules_use_it(name, said, value):
    assert fact_value(name, said) == pytest.approx(value)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("cord length", "long"),
        ("cord length", "0 m"),
        ("cord area", "3 V"),
        ("cord cores", "a few"),
        ("bare metal", "a bit"),
    ],
)
def test_fact_that_cannot_be_is_a_sentence(name, said):
    with pytest.raises(BenchError):
        fact_value(name, said)


@given(st.sampled_from(sorted({*MEASURED, *WHOLE, *YES_NO, "plug"})), st.text(max_size=30))
def test_no_text_whatever_upsets_the_facts_on_record(name, said):
    value = fact_or_unknown(name, said)
    assert same(value, value)


def test_when_holds_if_every_fact_is_one_of_its_values():
    known = {"class": "I", "plug": "Moulded", "mains fed": True}
    assert applies({"class": ("I", "II"), "plug": ("moulded",)}, known)[0] is True
    assert applies({"class": ("II",)}, known) == (False, "class is I")
    assert applies({"mains fed": (True,)}, known)[0] is True
    assert applies({"mains fed": ("yes",)}, known)[0] is True
    assert applies({"selector": (True,)}, known)[0] is None
