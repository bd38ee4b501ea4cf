"""A workshop's own lists of repairs: first for the work, never less than the shipped one for safety."""

import pytest

from benchapp.errors import BenchError
from benchapp.sequences.checks.loading import load_with_own
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.history.repairs import repair_list
from benchapp.sequences.history.retest import opened_by, scope_of
from benchapp.sequences.language.repairs import SHIPPED, WAYS_TO_FAIL
from benchapp.sequences.planning.catalogue import catalogue_from_texts, read_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import catalogue

OWN = """\
repairs: tarnbeck
title: How the Tarnbeck archive mends
work:
  - fits: {parts: [link], modes: [open]}
    opens: [cord]
    cautions: [hot-load]
    do:
      - Warm {part} slowly with the large iron.
"""
EVERYTHING = """\
repairs: tarnbeck
title: One line for everything
work:
  - fits: {}
    do:
      - Mend {part} as we do.
"""
ROUTES = {"tb-mu1": "mains-unit", "tb-mu2": "mains-unit", "tb-rec1": "recorder", "tb-ls1": "loudspeaker"}


def plan_with(text: str, equipment: str = "tb-mu1", pinned: dict[str, str] | None = None):
    texts = dict(catalogue().texts) if pinned is None else pinned
    if text:
        texts["/tarnbeck/repairs/own.yaml"] = text
    return make_plan(catalogue_from_texts(texts), ROUTES[equipment], equipment, staffed())


def words(said) -> list[str]:
    return [action.words for action in said.actions]


def listed(plan, part: str, mode: str, **facts):
    return repair_list(plan, {**plan.facts, **facts}, part, mode)


def test_a_workshop_s_own_list_says_the_work_before_the_shipped_one_does():
    said = listed(plan_with(OWN), "low-a-twin", "open")
    assert "Warm the joint at pin 4 slowly with the large iron." in words(said)
    assert not any("make it anew" in line for line in words(said))
    assert any("make it anew" in line for line in words(listed(plan_with(""), "low-a-twin", "open")))


def test_what_the_own_list_is_silent_about_the_shipped_one_says():
    plan = plan_with(OWN)
    assert listed(plan, "low-a-twin", "high resistance") == listed(plan_with(""), "low-a-twin", "high resistance")


def test_cautions_and_openings_are_added_to():
    said = listed(plan_with(OWN), "low-a-twin", "open")
    assert said.cautions == ("unplugged-work", "soldering", "hot-load")
    assert [str(one) for one in said.opens] == ["enclosure", "cord"]
    assert words(said)[0].startswith("Plug out of the socket")


@pytest.mark.parametrize("equipment", ROUTES)
@pytest.mark.parametrize("moulded", [False, True])
def test_no_own_list_weakens_the_safety_part_of_the_shipped_one(equipment: str, moulded: bool):
    shipped, own = plan_with("", equipment), plan_with(EVERYTHING, equipment)
    parts = [*shipped.circuit.parts, "plug", "cord", "cover", "knob"]
    parts += [f"{a}, {b}" for plug in shipped.circuit.connectors.values() for a, b in plug.neighbours]
    facts = {"plug": "moulded", "detachable lead": True} if moulded else {}
    for part in parts:
        for mode in WAYS_TO_FAIL:
            usual, chosen = listed(shipped, part, mode, **facts), listed(own, part, mode, **facts)
            assert set(usual.cautions) <= set(chosen.cautions)
            assert set(usual.opens) <= set(chosen.opens)
            assert {*opened_by(own, part, ())} <= {str(one) for one in chosen.opens}
            kept = {one.words for one in usual.actions if not one.work}
            assert kept <= set(words(chosen))
            assert set(scope_of(shipped, part, usual.opens)) <= set(scope_of(own, part, chosen.opens))
            assert any("as we do" in line for line in words(chosen))


def test_a_moulded_plug_stays_one_that_is_cut_off_and_a_capacitor_one_that_is_let_go():
    plug = listed(plan_with(EVERYTHING), "plug", "damaged", plug="moulded")
    assert any("Cut it off and destroy it" in line for line in words(plug))
    capacitor = listed(plan_with(EVERYTHING, "tb-rec1"), "reservoir", "shorted")
    assert any("through a resistor once more" in line for line in words(capacitor))


def test_a_run_pins_the_lists_and_finds_them_again():
    texts = {**catalogue().texts, "/tarnbeck/repairs/own.yaml": OWN}
    pinned = dict(catalogue_from_texts(texts).texts_for("mains-unit", "tb-mu1"))
    assert "/tarnbeck/repairs/own.yaml" in pinned
    assert any(name.endswith(f"{SHIPPED}.yaml") for name in pinned)
    again = listed(plan_with("", pinned=pinned), "low-a-twin", "open")
    assert again == listed(plan_with(OWN), "low-a-twin", "open")


def test_a_run_without_the_shipped_list_is_told_in_a_sentence():
    texts = {name: text for name, text in catalogue().texts.items() if "repairs/" not in name}
    with pytest.raises(BenchError, match=r"This run pinned no list of repairs\. Begin a new run of the unit\."):
        listed(plan_with("", pinned=texts), "low-a-twin", "open")


def test_lists_lie_beside_the_equipment_files_and_one_with_a_mistake_is_left_out(tmp_path):
    (tmp_path / "repairs").mkdir()
    (tmp_path / "repairs" / "own.yaml").write_text(OWN, encoding="utf-8")
    (tmp_path / "wrong.yaml").write_text(OWN.replace("tarnbeck", "other").replace("hot-load", "hot-lode"))
    found, left_out = load_with_own(tmp_path)
    assert set(found.repairs) == {SHIPPED, "tarnbeck"}
    (complaint,) = left_out
    assert "wrong.yaml:6:" in str(complaint)
    assert "hot-load" in str(complaint)


@pytest.mark.parametrize(
    ("right", "wrong", "said"),
    [
        ("repairs: tarnbeck", f"repairs: {SHIPPED}", "own.yaml:1:10: “usual-repairs” is the shipped list"),
        ("[hot-load]", "[hot-lode]", "own.yaml:6:16: there is no caution “hot-lode”; did you mean hot-load?"),
        ("modes: [open]", "modes: [opne]", "own.yaml:4:"),
        ("modes: [open]", "facts: {plag: moulded}", "own.yaml:4:41: no unit has a fact “plag”; did you mean plug?"),
        ("opens: [cord]", "opens: []\n    close: [cord]", "own.yaml:6:5:"),
        ("{part} slowly", "{prat} slowly", "own.yaml:8:9:"),
        ("parts: [link], modes: [open]", "parts: [link]", ""),
    ],
)
def test_a_mistake_is_complained_about_at_file_line_and_column(capsys, tmp_path, right, wrong, said):
    from benchapp.cli.command import main

    file = tmp_path / "own.yaml"
    assert right in OWN
    file.write_text(OWN.replace(right, wrong, 1), encoding="utf-8")
    code = main(["check", str(file)])
    out = capsys.readouterr().out
    assert said in out
    assert code == (1 if said else 0), out


def test_what_stands_behind_an_entry_that_fits_everything_is_complained_about(tmp_path, capsys):
    from benchapp.cli.command import main

    file = tmp_path / "own.yaml"
    file.write_text(EVERYTHING + "  - fits: {parts: [link]}\n    do: [Never read.]\n", encoding="utf-8")
    assert main(["check", str(file)]) == 1
    assert "own.yaml:4:11: this fits every fault, so nothing behind it counts" in capsys.readouterr().out


def test_two_lists_of_one_id_are_a_mistake(tmp_path):
    for name in ("one", "two"):
        (tmp_path / f"{name}.yaml").write_text(OWN, encoding="utf-8")
    found, left_out = load_with_own(tmp_path)
    assert "tarnbeck" not in found.repairs or len(left_out) == 1
    assert "there is a list of repairs “tarnbeck” already" in str(left_out[0])


def test_a_list_without_work_is_refused():
    with pytest.raises(BenchError, match="at least 1 entries"):
        plan_with("repairs: empty\ntitle: Nothing\nwork: []\n")


@pytest.mark.parametrize("line", ["{part.x}", "{part!r}", "{part:>999999999}", "{}", "{part", "{unit[0]}"])
def test_braces_hold_a_name_and_no_more(tmp_path, line):
    (tmp_path / "own.yaml").write_text(EVERYTHING.replace("Mend {part} as we do.", f'"Mend {line}."'), encoding="utf-8")
    _, left_out = load_with_own(tmp_path)
    assert "braces may only hold part, place, unit" in str(left_out[0])


def test_a_list_named_like_a_shipped_file_is_no_shipped_list(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    name = "resources/repairs/own.yaml"
    own = {name: EVERYTHING.replace("repairs: tarnbeck", f"repairs: {SHIPPED}")}
    found, documents, complaints = read_texts({**catalogue().texts, **own}, own)
    assert not complaints
    assert any(one.location.file == name for one in check_references(found, documents))
