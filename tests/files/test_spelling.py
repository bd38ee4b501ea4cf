"""The nearest known word."""

import pytest

from benchapp.files import nearest


@pytest.mark.parametrize(
    ("written", "meant"),
    [("betwen", "between"), ("Between", "between"), ("set-up", "set up"), ("set_up", "set up"), ("wniding", "winding")],
)
def test_a_slip_finds_its_word(written, meant):
    assert nearest(written, ["between", "set up", "winding"]) == meant


def test_a_word_like_none_finds_none():
    assert nearest("voltage", ["between", "set up"]) is None
    assert nearest("x", []) is None


def test_of_two_equally_near_the_first_in_order_is_taken():
    assert nearest("ab", ["abd", "abc"]) == "abc"
