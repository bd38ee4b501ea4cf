"""A reading beside those of its lot, as read and as a share of the mains."""

import pytest

from benchapp.lots.resemblance import likeness, likeness_to_mains, likeness_words, mains_words
from benchapp.quantities.dimensions import Kind

LOT = {"A": 10.1, "B": 10.2, "C": 10.3, "D": 10.2, "E": 10.1, "F": 10.2}
MAINS = {"A": 240.0, "B": 242.0, "C": 244.5, "D": 242.0, "E": 239.5, "F": 242.0}


def test_the_only_unit_has_nothing_to_compare_with():
    assert likeness(10.0, {}) is None
    assert likeness_to_mains(10.0, 240.0, {"A": 10.0}, {}) is None
    assert likeness_to_mains(10.0, None, LOT, MAINS) is None


def test_a_reading_like_its_lot_s_is_said_to_lie_among_them():
    found = likeness(10.2, LOT)
    assert not found.worth_a_look
    assert likeness_words(found, Kind.voltage, unit="V") == "This lot: 10.1 V to 10.3 V, middle 10.2 V (6 units)."


def test_a_reading_inside_a_broad_band_and_unlike_its_lot_is_worth_a_look():
    found = likeness(11.6, LOT)
    assert found.worth_a_look
    assert "unlike them: worth a look" in likeness_words(found, Kind.voltage)


def test_too_few_are_said_to_be_too_few():
    words = likeness_words(likeness(11.6, {"A": 10.1}), Kind.voltage)
    assert words.endswith("(1 unit). Too few to say what is usual.")


def test_the_share_of_the_mains_sees_what_the_readings_hide():
    """Low mains and a good winding, or high mains and a poor one: the same volts, and only the share tells."""
    good = likeness_to_mains(10.1, 240.0, LOT, MAINS)
    poor = likeness_to_mains(10.1, 252.0, LOT, MAINS)
    assert not likeness(10.1, LOT).worth_a_look
    assert (good.worth_a_look, poor.worth_a_look) == (False, True)
    assert poor.value == pytest.approx(10.1 / 252)
    assert mains_words(poor).startswith("Output over mains: 0.04008; this lot 0.04208 to 0.04217")
