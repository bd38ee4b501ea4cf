"""The nearest known word."""

import pytest

from benchapp.files.spelling import nearest


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


@pytest.mark.parametrize(
    ("written", "known", "meant"),
    [
        ("outlet.7", ["outlet.1", "outlet.2"], None),  # any of them is as near
        ("230 V", ["120 V", "240 V"], None),  # a guess here would burn a primary
        ("outlt.2", ["outlet.1", "outlet.2"], "outlet.2"),
        ("primary.24O", ["primary.220", "primary.240"], "primary.240"),
        ("tb-mu11", ["tb-mu1", "tb-mu2"], "tb-mu1"),  # one digit too many is a slip
    ],
)
def test_another_number_is_no_slip_where_several_are_known(written, known, meant):
    assert nearest(written, known) == meant
