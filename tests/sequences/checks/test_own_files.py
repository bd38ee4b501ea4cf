"""A workshop's own files under shipped ids: what is looser is left out and named, the shipped file holds.

Trials in use: an earth limit of 50 ohm, insulation of 0.001 Mohm and −1 Mohm at 5 V, 325 V DC "proved low", a caution
that read "All is well: Go on", a plug face with live and neutral swapped. Each took the place of the published one.
"""

from pathlib import Path

import pytest

from benchapp.files.shipped import shipped_folder
from benchapp.sequences.checks.loading import load_with_own
from benchapp.sequences.checks.own_files import COMPARED
from benchapp.sequences.planning.catalogue import MODELS, catalogue_from_texts

KINDS = {
    "cautions": "resources/cautions",
    "connectors": "resources/connectors",
    "equipment": "resources/equipment",
    "limits": "resources/limits",
    "meters": "resources/meters",
    "sequences": "sequences",
    "routes": "sequences/routes",
}


def shipped_text(kind: str, ident: str) -> str:
    where = Path(KINDS[kind])
    name = where.parts[0]
    assert name in ("sequences", "resources")
    return shipped_folder(name).joinpath(*where.parts[1:], f"{ident}.yaml").read_text(encoding="utf-8")


def own_file(folder: Path, kind: str, ident: str, *changes: tuple[str, str]) -> Path:
    """A shipped file with these changes in a workshop's own folder, under another name."""
    text = shipped_text(kind, ident)
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    path = folder / f"own-{ident}.yaml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def shipped(tmp_path_factory):
    """The catalogue where a workshop has no files of its own."""
    return load_with_own(tmp_path_factory.mktemp("empty"))[0]


EARTH = ("    value: 0.1\n", "    value: 50\n")
INSULATION = ("      value: 1.0\n      unit: Mohm", "      value: {}\n      unit: Mohm")
PINS = (("pin: L, x: -11.1", "pin: L, x: 11.1"), ("pin: N, x: 11.1", "pin: N, x: -11.1"))
ALL_IS_WELL = shipped_text("cautions", "mains-live").partition("words:")[2].partition("source:")[0]
LOOSER = [
    ("limits", "gb", [EARTH], "base: 50 ohm is looser than the shipped 0.1 ohm (IET Code of Practice"),
    (
        "limits",
        "gb",
        [(INSULATION[0], INSULATION[1].format("0.001"))],
        "0.001 Mohm is looser than the shipped 1.0 Mohm",
    ),
    ("limits", "gb", [(INSULATION[0], INSULATION[1].format("-1"))], "-1 Mohm is looser than the shipped 1.0 Mohm"),
    ("limits", "gb", [("value: 500\n", "value: 5\n")], "test voltage: 5 V is looser than the shipped 500 V"),
    ("limits", "gb", [("value: 25\n", "value: 325\n")], "voltage low: 325 V is looser than the shipped 25 V"),
    (
        "cautions",
        "mains-live",
        [("title: Mains can kill", "title: All is well")],
        "“All is well” does not say “Mains can",
    ),
    ("cautions", "mains-live", [(ALL_IS_WELL, "\n  - Go on.\n")], "“The cover stays closed. Nobody works live inside"),
    ("connectors", "gb-13a-plug", PINS, "pin L at x 11.1 mm, y -11.1 mm lies elsewhere than shipped"),
    (
        "connectors",
        "gb-13a-plug",
        [("say: the live pin", "say: the earth pin")],
        "“the earth pin” is not “the live pin”",
    ),
    (
        "connectors",
        "gb-13a-plug",
        [("from the mating side", "from the solder side")],
        "view “from the solder side” is not",
    ),
    (
        "meters",
        "tb-m2",
        [("CAT II 600 V", "CAT IV 600 V")],
        "CAT IV 600 V is more than the shipped record claims: CAT II",
    ),
    (
        "meters",
        "tb-m2",
        [("1 % + 4 counts", "0.1 % + 1 counts")],
        "0.1 % + 1 counts is better than the shipped 1 % + 4",
    ),
    ("meters", "tb-m2", [("responds: average", "responds: true RMS")], "responds true RMS is another than the shipped"),
    ("meters", "tb-m2", [("lead resistance: 0.3", "lead resistance: 2")], "leads of 2 ohm take more off a reading"),
    ("meters", "tb-m2", [("impedance: 1 Mohm", "impedance: 10 Mohm")], "input impedance 10 Mohm is another than"),
    (
        "meters",
        "tb-it1",
        [("[250 V, 500 V]", "[250 V, 500 V, 1000 V]")],
        "a test voltage of 1000 V is none that the shipped",
    ),
    (
        "meters",
        "tb-m2",
        [("{to: 200 ohm, resolution: 0.1", "{to: 200 ohm, resolution: 0.01")],
        "a resolution of 0.01 ohm",
    ),
    ("meters", "tb-m1", [("{to: 60 ohm,", "{to: 50 ohm,")], "the shipped record has no range to 50 ohm"),
    ("meters", "tb-m1", [("coefficient: 0.1", "coefficient: 0.01")], "a temperature coefficient of 0.01 is better"),
    (
        "meters",
        "tb-m1",
        [("18 °C to 28 °C", "0 °C to 50 °C")],
        "0 °C to 50 °C is wider than the shipped 18 °C to 28 °C",
    ),
    (
        "sequences",
        "insulation",
        [("cautions: [insulation-test]\n", "")],
        "cautions: the shipped “insulation-test” is missing",
    ),
    (
        "sequences",
        "insulation",
        [("accept: limit insulation", "accept: at least 0.001 Mohm")],
        "step “live-to-case”, accept",
    ),
    (
        "sequences",
        "insulation",
        [("path: mains to metal", "path: mains to outputs")],
        "step “live-to-case”, path: “mains to outputs”",
    ),
    (
        "sequences",
        "make-safe",
        [("      - Off at the wall where it has a switch, plug out of the socket, in sight on the bench.\n", "")],
        "“unplug”, do",
    ),
    ("sequences", "make-safe", [("  - work: prove-again\n", "  - work: prove-it\n")], "“prove-again”"),
    (
        "sequences",
        "visual-inspection",
        [("damaged.}\n        grave: do not use\n", "damaged.}\n")],
        "step “outside”, checkpoints",
    ),
    (
        "routes",
        "mains-unit",
        [("insulation, first-power", "first-power")],
        "“insulation” of the shipped route is missing",
    ),
    ("equipment", "tb-mu1", [("\nclass: I", "\nclass: II")], "class: “II” asks for less than the shipped “I”"),
]


@pytest.mark.parametrize(("kind", "ident", "changes", "sentence"), LOOSER, ids=lambda value: str(value)[-50:])
def test_a_looser_own_file_is_left_out_with_a_sentence_and_the_shipped_one_holds(
    tmp_path, shipped, kind, ident, changes, sentence
):
    path = own_file(tmp_path, kind, ident, *changes)
    (tmp_path / "good.yaml").write_text(GOOD, encoding="utf-8")
    catalogue, left_out = load_with_own(tmp_path)
    told = [str(one) for one in left_out]
    assert any(line.startswith(f"{path}:") and sentence in line for line in told), told
    assert {one.location.file for one in left_out} == {str(path)}
    assert all(one.location.line > 1 for one in left_out)
    assert "tarnbeck" in catalogue.cautions
    for field in ("limits", "cautions", "connectors", "meters", "sequences", "routes", "equipment"):
        theirs = getattr(shipped, field)
        assert {name: getattr(catalogue, field)[name] for name in theirs} == theirs


GOOD = """\
caution: tarnbeck
title: Low beams
words: [Mind your head in the archive.]
source: our own
status: common practice, no source
"""

STRICTER = [
    ("limits", "gb", [("    value: 0.1\n", "    value: 0.05\n")]),
    ("cautions", "mains-live", [("source: >-", "  - Our bench has a red lamp.\nsource: >-")]),
    ("connectors", "gb-13a-plug", [("title: 13 A plug", "title: 13 A plug of ours")]),
    ("meters", "tb-m2", [("due: 2026-06-10", "due: 2026-12-10"), ("1 % + 4 counts", "2 % + 4 counts")]),
    ("meters", "tb-m1", [("CAT III 600 V, CAT II 1000 V", "CAT II 600 V")]),
    ("sequences", "insulation", [("Touch the tester's two probe tips together and", "Touch the two probe tips and")]),
    (
        "sequences",
        "visual-inspection",
        [("Look the whole item over, and tilt it gently.", "Look the whole item over, and tilt it gently. Twice.")],
    ),
    ("routes", "mains-unit", [("title: Mains unit, whole check", "title: Ours")]),
]


@pytest.mark.parametrize(("kind", "ident", "changes"), STRICTER[:5] + STRICTER[6:], ids=lambda value: str(value)[:30])
def test_a_stricter_own_file_takes_the_place_of_the_shipped_one(tmp_path, kind, ident, changes):
    path = own_file(tmp_path, kind, ident, *changes)
    catalogue, left_out = load_with_own(tmp_path)
    assert left_out == ()
    assert str(path) in catalogue.names.values()


def test_a_safety_step_may_not_be_worded_otherwise(tmp_path):
    own_file(tmp_path, *STRICTER[5][:2], *STRICTER[5][2])
    _, left_out = load_with_own(tmp_path)
    assert "step “leads-before”, say" in str(left_out[0])


def test_one_bad_file_of_each_kind_leaves_every_design_takeable(tmp_path, shipped):
    for number, (kind, ident, changes, _) in enumerate(LOOSER):
        folder = tmp_path / KINDS[kind].removeprefix("resources/")
        folder.mkdir(exist_ok=True, parents=True)
        own_file(folder, kind, ident, *changes).rename(folder / f"{number}.yaml")
    (tmp_path / "torn.yaml").write_bytes(b"limits: gb\n\xff\xfe")
    catalogue, left_out = load_with_own(tmp_path)
    assert len({one.location.file for one in left_out}) == len(LOOSER) + 1
    assert catalogue.limits == shipped.limits
    assert all(catalogue.routes_for(name) == shipped.routes_for(name) for name in shipped.equipment)


def test_a_workshop_s_folder_of_resources_is_held_as_the_files_beside_the_workbook_are(tmp_path):
    folder = tmp_path / "ours"
    folder.mkdir()
    path = own_file(folder, "limits", "gb", EARTH)
    catalogue, (complaint,) = load_with_own(tmp_path / "elsewhere", folder)
    assert complaint.location.file == str(path)
    assert catalogue.limits["gb"].earth_continuity.base.words == "0.1 ohm"


def test_every_kind_of_file_is_held_against_the_shipped_one():
    assert set(COMPARED) == set(MODELS)


def test_what_a_run_pins_tells_the_own_figures_from_the_published_ones(tmp_path):
    path = own_file(tmp_path, *STRICTER[0][:2], *STRICTER[0][2])
    catalogue, _ = load_with_own(tmp_path)
    texts = catalogue.texts_for("mains-unit", "tb-mu1")
    assert {str(path), "resources/limits/gb.yaml"} <= texts.keys()
    backwards = catalogue_from_texts(dict(reversed(texts.items())))
    for one in (catalogue, backwards):
        earth = one.limits["gb"].earth_continuity
        assert earth.base.cited == "this workshop's own figure (own-gb.yaml)"
        assert one.limits["gb"].voltage_low.cited == "IEC 61140 family, AC in a damp or arduous place"


def test_words_added_to_a_caution_are_the_workshop_s_own(tmp_path):
    own_file(tmp_path, *STRICTER[1][:2], *STRICTER[1][2])
    catalogue, _ = load_with_own(tmp_path)
    source = catalogue.cautions["mains-live"].source
    assert source.startswith("Electricity at Work Regulations 1989")
    assert source.endswith("; this workshop's own words (own-mains-live.yaml)")
