"""Contrast of both colour sets, by the formulas of WCAG 2.2."""

import pytest

from benchapp.desktop.theme.tokens import DARK, LIGHT, PAIRS, SHAPE, TEXT, contrast

SETS = {"light": LIGHT, "dark": DARK}


# WCAG 2.2, technique G18: black on white is 21:1, #767676 on white 4.54:1 (from memory)
@pytest.mark.parametrize(
    ("one", "other", "ratio"), [("#000000", "#ffffff", 21.0), ("#767676", "#ffffff", 4.54), ("#ffffff", "#ffffff", 1.0)]
)
def test_contrast_is_as_the_guideline_computes_it(one, other, ratio):
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize("name", SETS)
@pytest.mark.parametrize(("front", "back", "least"), PAIRS, ids=lambda value: str(value))
def test_every_pair_that_meets_on_screen_can_be_told_apart(name, front, back, least):
    tokens = SETS[name]
    assert contrast(getattr(tokens, front), getattr(tokens, back)) >= least


def test_the_ratios_are_those_of_level_aa():
    assert (TEXT, SHAPE) == (4.5, 3.0)
