"""Complaints about files of hazards, and about own ones that ask, shut or forbid less than the shipped."""

from pathlib import Path

import pytest

from benchapp.files.shipped import shipped_folder
from benchapp.sequences.checks.loading import load_with_own

ASBESTOS = (shipped_folder("resources") / "hazards" / "asbestos.yaml").read_text(encoding="utf-8")
CORD = (shipped_folder("resources") / "hazards" / "perished-cord.yaml").read_text(encoding="utf-8")
UNIT = (shipped_folder("resources") / "equipment" / "tb-rec1.yaml").read_text(encoding="utf-8")


def complaints(folder: Path, text: str, *changes: tuple[str, str]) -> list[str]:
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    (folder / "own.yaml").write_text(text, encoding="utf-8")
    return [str(one) for one in load_with_own(folder)[1]]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("  gb:", "  england:"), "there is no region “england”"),
        (("{until: 1999,", "{from: 2001, until: 1999,"), "1999 lies before 2001"),
        (("mains fed: true", "mains fedd: true"), "no unit has a fact “mains fedd”"),
        (("  elsewhere:", "  us-ca:"), "“elsewhere” is missing"),
        (("shuts: [work]", "shuts: []"), "it shuts nothing"),
        (("shuts: [work]", "shuts: [work]\npresumed: true"), "cannot shut anything"),
        (("status: confirmed (regulator)", "status: sure"), "“sure” does not fit here"),
        (("shuts: [work]", "shuts: [everything]"), "everything"),
    ],
)
def test_a_mistake_in_a_hazard_is_named_with_its_line(tmp_path, change, said):
    found = complaints(tmp_path, ASBESTOS.replace("hazard: asbestos", "hazard: our-asbestos"), change)
    assert any(
        said.replace("“", "").replace("”", "") in one.replace("“", "").replace("”", "").replace('"', "")
        for one in found
    ), found
    assert all("own.yaml:" in one for one in found)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("shuts: [work]", "shuts: [mains]"), "it does not shut work"),
        (("    may: no", "    may: yes"), "gb: “yes” is more than “no”"),
        (("until: 1999", "until: 1985"), "fewer designs"),
        (("Never brush, blow, vacuum", "Never brush or vacuum"), "are missing"),
        (("clear: No white", "clear: White"), "as shipped"),
        (("found in: {", "found in: {only named: true, "), "fewer designs"),
    ],
)
def test_an_own_hazard_that_is_looser_is_left_out(tmp_path, change, said):
    found = complaints(tmp_path, ASBESTOS, change)
    assert [one for one in found if said in one] == found != [], found
    assert load_with_own(tmp_path)[0].hazards["asbestos"].sale_in("gb").may == "no"


def test_an_own_hazard_that_is_stricter_counts_and_its_words_are_the_workshops_own(tmp_path):
    found = complaints(tmp_path, CORD, ("until: 1980", "until: 1990"), ("    may: after repair", "    may: no"))
    own = load_with_own(tmp_path)[0].hazards["perished-cord"]
    assert not found
    assert (own.found_in.until, own.sale_in("gb").may) == (1990, "no")
    assert own.sale_in("gb").source.startswith("this workshop's own words")
    assert own.never[0].source.startswith("bench custom")


def test_a_design_names_only_hazards_that_there_are(tmp_path):
    found = complaints(
        tmp_path, UNIT, ("class: I ", "hazards: [asbestoss]\nclass: I "), ("equipment: tb-rec1", "equipment: own-rec")
    )
    assert any("there is no hazard “asbestoss”" in one and "asbestos" in one for one in found), found


@pytest.mark.parametrize(
    ("made", "good"), [("1969 to 1976", True), ("1960 to 1980", True), ("1972", False), ("2001", False)]
)
def test_an_own_design_may_be_older_never_younger_than_the_shipped_one(tmp_path, made, good):
    assert bool(complaints(tmp_path, UNIT, ("made: 1969 to 1976", f"made: {made}"))) is not good


def test_a_year_that_is_none_is_named(tmp_path):
    assert "ends before it begins" in complaints(tmp_path, UNIT, ("made: 1969 to 1976", "made: 1976 to 1969"))[0]
    assert "is no year of making" in complaints(tmp_path, UNIT, ("made: 1969 to 1976", "made: seventies"))[0]
    slip = complaints(tmp_path, UNIT, ("made: 1969 to 1976", "made: 2069 to 2076"))[0]
    assert "is not between 1880 and 2040: look at the digits again" in slip
