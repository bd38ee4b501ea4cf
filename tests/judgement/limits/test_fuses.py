"""Fuse and cord: what is chosen, what is allowed, what is refused."""

import pytest

from benchapp.judgement.limits.fuses import choose_fuse
from benchapp.judgement.statements.problems import LimitProblem


def test_the_maker_s_rating_comes_first(gb):
    choice = choose_fuse(gb, 50.0, 0.75e-6, maker_rating=5.0)
    assert choice.rating == 5.0
    assert choice.derivation[0].source == "stated by the maker"


def test_a_high_starting_current_takes_a_larger_fuse(gb):
    assert choose_fuse(gb, 300.0, 0.75e-6, inrush=True).rating == 5.0


def test_unknown_power_takes_the_smallest_rating_and_says_so(gb):
    choice = choose_fuse(gb, None, 0.75e-6)
    assert choice.rating == 3.0
    assert "unknown" in choice.derivation[0].value


def test_a_load_beyond_its_cord_is_a_sentence(gb):
    with pytest.raises(LimitProblem, match="thicker cord"):
        choose_fuse(gb, 2000.0, 0.5e-6)


def test_the_largest_fuse_that_the_cord_allows_is_told_too(gb):
    assert choose_fuse(gb, 8.0, 0.75e-6).largest == 13.0
    assert choose_fuse(gb, 8.0, 0.5e-6).largest == 3.0


def test_a_region_without_plug_fuses_says_so(profiles):
    with pytest.raises(LimitProblem, match="no fuse"):
        choose_fuse(profiles["eu"], 8.0, 0.75e-6)
