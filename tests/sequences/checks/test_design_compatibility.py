"""A step that a design has no use for is told in the sequence's own file; faces and limits by their lines."""

import pytest

from benchapp.files.shipped import shipped_folder
from benchapp.sequences.checks.references import check_references
from benchapp.sequences.planning.catalogue import read_texts
from tests.sequences.bench import catalogue
from tests.sequences.checks.test_references import ROUTE, sequence

NAME = "/home/author/own.yaml"
FULL = "supply: full\ncautions: [mains-live]\n"


def fitted(steps: str, header: str = "", equipment: str = "tb-mu1", back: str = "way back: make-safe\n") -> list[str]:
    """Complaints about a sequence on a route of its own over that equipment."""
    route = ROUTE.format(names="own", back=back).replace("tb-mu1", equipment)
    texts = {**catalogue().texts, NAME: sequence(steps, header), "routes/own.yaml": route}
    found, documents, problems = read_texts(texts)
    return [str(one) for one in problems or check_references(found, documents)]


def measure(lines: str, function: str = "resistance") -> str:
    return f"  - measure: a\n    say: Read.\n    function: {function}\n{lines}"


@pytest.mark.parametrize(
    ("steps", "header", "equipment", "complaint"),
    [
        (measure("    at: [outlet.1, outlet.9]\n"), "", "tb-mu1", "7:20: step “a”: tb-mu1 has no terminal “outlet.9”"),
        (measure("    at: [outlt.1, outlet.2]\n"), "", "tb-mu1", "did you mean outlet.1?"),
        (measure("    at: [supply.E, case]\n"), "", "tb-mu2", "7:20: step “a”: tb-mu2: it has no terminal “case”"),
        (measure("    at: [supply.L, plug.L]\n"), "", "tb-mu1", "are one terminal of tb-mu1"),
        (measure("    at: [plug.L, plug.N]\n", "AC voltage"), FULL, "tb-mu1", "9:9: step “a”: this takes bare probes"),
        ("  - probe: a\n    say: R.\n    connector: outlt\n    what: [continuity]\n", "", "tb-mu1", "mean outlet?"),
        (
            "  - probe: a\n    say: R.\n    connector: plug\n    what: [voltage]\n",
            FULL,
            "tb-mu1",
            "bare probes to the mains",
        ),
        (measure("    set up: [selector at 110 V]\n"), "", "tb-rec1", "7:14: step “a”: the selector of tb-rec1 has no"),
        (measure("    set up: [power at of]\n"), "", "tb-rec1", "did you mean off?"),
        (measure("    set up: [power at off]\n"), "", "tb-mu1", "tb-mu1 has no switch “power”"),
        (
            measure("    set up: [load of 15 ohm on outlet.1 and outlet.7]\n", "AC voltage"),
            FULL,
            "tb-mu1",
            "9:14: step “a”: tb-mu1 has no terminal “outlet.7”",
        ),
        (
            measure("    accept: from wiring\n    stop above: 1 mA\n", "AC current"),
            FULL,
            "tb-mu1",
            "10:17: step “a”: “stop",
        ),
    ],
)
def test_a_step_that_does_not_fit_a_design_is_named_in_its_own_file(steps, header, equipment, complaint):
    found = fitted(steps, header, equipment)
    assert any(one.startswith(f"{NAME}:") and complaint in one for one in found), found
    assert not [one for one in found if one.startswith("routes/") and "terminal" in one]


def test_a_step_that_a_design_leaves_out_need_not_fit_it():
    assert fitted(measure("    when: {class: I}\n    at: [supply.E, case]\n"), "", "tb-mu2") == []


def test_a_selector_is_set_up_with_or_without_its_unit():
    assert fitted(measure("    set up: [selector at 220]\n"), "", "tb-rec1") == []


def test_a_reading_of_another_sequence_comes_before_on_the_route():
    steps = "  - compute: a\n    say: Half of it.\n    value: live-voltage.mains / 2\n    unit: V\n"
    (found,) = fitted(steps)
    assert found.startswith(f"{NAME}:6:12: “live-voltage.mains” is not read before “own” on the route own")


def test_a_route_for_no_equipment_is_told_so():
    route = "route: own\ntitle: Our own\nsequences: [clean]\n"
    found, documents, problems = read_texts({**catalogue().texts, "routes/own.yaml": route})
    words = [str(one) for one in problems or check_references(found, documents)]
    assert words == [
        "routes/own.yaml:1:1: this route names no equipment; expected equipment: [an id], or fits: {mains fed: true}"
    ]


def spoilt(file: str, old: str, new: str) -> list[str]:
    """Complaints about the shipped files with one text of a file changed."""
    text = (shipped_folder("resources") / file).read_text()
    assert old in text
    found, documents, problems = read_texts({**catalogue().texts, f"resources/{file}": text.replace(old, new, 1)})
    return [str(one) for one in problems or check_references(found, documents)]


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        ('pin: "2", x: 0,', 'pin: "1", x: 0,', '13:11: pin "1" is described twice; expected each pin once'),
        ("x: 0, y: 3.5", "x: 3.5, y: 0", "13:5: pin 2 lies where pin 1 is, at x 3.5 mm, y 0 mm"),
        ("x: 0, y: 3.5", "x: 0, y: 35", "13:5: pin 2 at x 0 mm, y 35 mm lies outside the outline"),
        ("x: 3.5, y: 0", "x: 5, y: 5", "12:5: pin 1 at x 5 mm, y 5 mm lies outside the outline"),
    ],
)
def test_pins_of_a_face_lie_apart_and_on_it(old, new, complaint):
    found = spoilt("connectors/din-5-180.yaml", old, new)
    assert found[0].startswith(f"resources/connectors/din-5-180.yaml:{complaint}"), found


def test_a_limit_in_a_unit_of_another_kind_is_told():
    found = spoilt("limits/gb.yaml", "unit: Mohm", "unit: mA")
    assert len(found) == 1
    assert "“mA” is no unit of a resistance; expected ohm" in found[0]
    assert found[0].startswith("resources/limits/gb.yaml:")
