"""Texts that a run pinned, held against what this program ships: a stranger's may be looser under any name."""

import pytest

from benchapp.sequences.checks.pinned_texts import looser_than_shipped
from benchapp.sequences.planning.catalogue import catalogue_from_texts, texts_of
from tests.sequences.loaded import load_catalogue

GB = "resources/limits/gb.yaml"
EARTH = ("    value: 0.1\n    unit: ohm\n", "    value: 50\n    unit: ohm\n")


@pytest.fixture(scope="module")
def pinned():
    """What a run of the shipped mains unit pins."""
    return dict(load_catalogue().texts_for("mains-unit", "tb-mu1"))


def told(texts, region="gb"):
    return [str(one) for one in looser_than_shipped(catalogue_from_texts(texts), region)]


def changed(name, old, new):
    text = texts_of()[name]
    assert old in text
    return text.replace(old, new, 1)


def test_what_is_shipped_is_no_looser_than_itself(pinned):
    assert told(pinned) == []


@pytest.mark.parametrize("own", [GB, "/home/a/ours.yaml", "sequences/gb.yaml"], ids=["shipped", "own", "elsewhere"])
def test_looser_limits_are_told_whatever_name_they_bear(pinned, own):
    texts = {name: text for name, text in pinned.items() if name != GB} | {own: changed(GB, *EARTH)}
    line = told(texts)[0]
    assert line.startswith(f"{own}:78:12: earth continuity, base: 50 ohm is looser than the shipped 0.1 ohm (IET Code")


def test_an_own_text_beside_the_shipped_one_is_told_too(pinned):
    assert "50 ohm is looser" in told({**pinned, "/home/a/ours.yaml": changed(GB, *EARTH)})[0]


def test_limits_of_a_region_that_judges_nothing_here_do_not_matter(pinned):
    assert told({**pinned, GB: changed(GB, *EARTH)}, region="eu") == []


def test_a_region_that_is_not_shipped_may_not_make_no_sense(pinned):
    mine = changed(GB, *EARTH).replace("limits: gb", "limits: tarnbeck")
    (line,) = told({**pinned, "/home/a/ours.yaml": mine}, region="tarnbeck")
    assert "earth continuity, base: 50 ohm makes no sense as a limit; expected 0.01 ohm to 1 ohm" in line


@pytest.mark.parametrize(
    ("name", "old", "new", "sentence"),
    [
        (
            "resources/cautions/mains-live.yaml",
            "Mains can kill",
            "All is well",
            "“All is well” does not say “Mains can",
        ),
        ("resources/connectors/gb-13a-plug.yaml", "pin: L, x: -11.1", "pin: L, x: 0", "pin L at x 0 mm"),
        ("resources/meters/tb-m2.yaml", "CAT II 600 V", "CAT III 600 V", "CAT III 600 V is more than"),
        (
            "sequences/insulation.yaml",
            "accept: limit insulation",
            "accept: at least 0.1 Mohm",
            "“live-to-case”, accept",
        ),
    ],
    ids=["caution", "connector", "meter", "sequence"],
)
def test_other_texts_are_held_too(pinned, name, old, new, sentence):
    assert any(sentence in line for line in told({**pinned, name: changed(name, old, new)}))
