"""Contrast of both colour sets, by the formulas of WCAG 2.2 (definitions of relative luminance and contrast ratio).

`PAIRS` lists every pair that meets on screen with the least ratio it needs: 4.5 for text (success criterion 1.4.3),
3 for signs, edges of controls and the focus ring (1.4.11).
"""

import pytest

from benchapp.desktop.theme.tokens import DARK, DARK_CONTRAST, LIGHT, LIGHT_CONTRAST

TEXT = 4.5
SHAPE = 3.0
PAIRS: tuple[tuple[str, str, float], ...] = (
    ("ink", "ground", TEXT),
    ("ink", "sheet", TEXT),
    ("ink", "raised", TEXT),
    ("ink", "good_wash", TEXT),
    ("ink", "doubt_wash", TEXT),
    ("ink", "bad_wash", TEXT),
    ("ink", "housing", TEXT),
    ("quiet", "ground", TEXT),
    ("quiet", "sheet", TEXT),
    ("quiet", "raised", TEXT),
    ("on_chosen", "chosen", TEXT),
    ("on_off", "off", TEXT),
    ("on_probe_red", "probe_red", TEXT),
    ("on_probe_black", "probe_black", TEXT),
    ("good", "ground", TEXT),
    ("good", "sheet", TEXT),
    ("doubt", "ground", TEXT),
    ("doubt", "sheet", TEXT),
    ("bad", "ground", TEXT),
    ("bad", "sheet", TEXT),
    ("line", "ground", SHAPE),
    ("line", "sheet", SHAPE),
    ("line", "raised", SHAPE),
    ("focus", "ground", SHAPE),
    ("focus", "sheet", SHAPE),
    ("focus", "raised", SHAPE),
    ("chosen", "ground", SHAPE),
    ("chosen", "sheet", SHAPE),
    ("off", "ground", SHAPE),
    ("metal", "housing", SHAPE),
    ("probe_red", "housing", SHAPE),
)
SETS = {"light": LIGHT, "dark": DARK}
STRONG = {"light": LIGHT_CONTRAST, "dark": DARK_CONTRAST}
STRONGER = {TEXT: 7.0, SHAPE: 4.5}
"""what the sets of strong contrast have to reach: 7 for text (1.4.6, level AAA); 4.5 for shapes is ours, no source"""


def contrast(one, other):
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour):
    red, green, blue = (_linear(int(colour[start : start + 2], 16) / 255) for start in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel):
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)


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


@pytest.mark.parametrize("name", STRONG)
@pytest.mark.parametrize(("front", "back", "least"), PAIRS, ids=lambda value: str(value))
def test_strong_contrast_is_stronger_in_every_pair(name, front, back, least):
    tokens = STRONG[name]
    assert contrast(getattr(tokens, front), getattr(tokens, back)) >= STRONGER[least]


def test_the_ratios_are_those_of_level_aa():
    assert (TEXT, SHAPE) == (4.5, 3.0)
