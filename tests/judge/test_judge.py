"""The judge itself: it knows nothing of the program, its list was fixed, its arithmetic agrees with what is known."""

import ast
from math import inf
from random import Random

import pytest

from tests.judge.design import FOLDER, changed, design, designs, made, unit
from tests.judge.drawing import Fault, cases, drawn
from tests.judge.hands import Hands
from tests.judge.optimal import Tree, fewest
from tests.judge.program import part_names, places
from tests.judge.seen import shown_at, signature
from tests.judge.trial import CORNERS
from tests.judge.verdicts import at_place, is_right


def test_only_one_module_knows_the_program():
    for file in FOLDER.rglob("*.py"):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        modules = {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
        modules |= {name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}
        known = {name for name in modules if name.split(".")[0] == "benchapp"}
        assert known == ({"benchapp.actions.standalone.circuits"} if file.name == "program.py" else set()), file.name


def test_the_list_is_what_its_seed_gives():
    assert list(cases()) == drawn()


def test_the_list_has_three_hundred_faults_that_stay_in_twelve_designs_at_least():
    steady = [case for case in cases() if case.kind == "steady"]
    assert len(steady) >= 300
    assert len({case.design for case in steady}) >= 12


@pytest.mark.parametrize("name", designs())
def test_netlist_and_drawing_have_the_same_places_and_names(name):
    one = design(name)
    assert set(one.reach) == places(name)
    named = {one.called(part) for part in [*one.breakable(), *one.about["insulation"]]}
    assert named <= part_names(name)
    for case in cases():
        if case.design == name:
            truths = {place for fault in case.faults for place in fault.truth}
            assert {end for place in truths for end in place.split(", ")} <= part_names(name) | places(name)


def test_an_open_fuse_shows_and_one_of_the_wrong_rating_does_not():
    assert ("plug.L", "plug.N") in shown_at("lamp", {"without": ["plug-fuse"]})
    assert shown_at("lamp", {}) == ()


def test_a_leak_shows_from_wherever_it_starts():
    for start in ("plug.L", "cord.L", "mains.L", "element.b"):
        leak = {"with": {"the leak": {"resistor": [start, "body"], "value": 20_000}}}
        assert ("plug.L", "body") in shown_at("kettle", leak), start


def test_a_rectifier_passes_an_ohmmeter_one_way_round_alone():
    one = unit(design("adapter"), changed(design("adapter").parts, {"without": ["bleeder"]}))
    assert one.ohms("output.inner", "output.outer") == inf
    assert one.ohms("output.outer", "output.inner") < 1e3


@pytest.mark.parametrize("name", designs())
@pytest.mark.parametrize("corner", CORNERS)
def test_a_sound_unit_at_any_corner_shows_nothing_that_the_drawing_does_not_allow(name, corner):
    said = made(design(name), Random(corner), corner)
    assert shown_at(name, {"set": said}) == ()


def test_what_is_typed_lies_within_the_meters_statement_and_its_leads():
    one = design("kettle")
    hands = Hands(one, unit(one, one.parts), Random(1))
    true = hands.unit.ohms("plug.L", "plug.N")
    for _ in range(50):
        number, word = hands.read("plug.L", "plug.N").split()
        assert word == "ohm"
        assert 0.995 * true - 0.05 <= float(number) <= 1.005 * true + 0.6


def test_named_first_and_within_three_is_right_and_the_order_of_two_pins_is_none():
    fault = Fault(words="", change={}, truth=("out.1, out.2", "cord"))
    assert is_right(["out.2, out.1", "a", "b"], fault)
    assert not is_right(["a", "cord"], fault)
    assert not is_right(["cord", "a", "b", "c"], fault)
    assert at_place(["a"], fault) == -1


def test_the_tree_of_the_published_test_order_costs_what_was_published():
    # Pattipati and Alexandridis 1990, IEEE Trans. SMC 20, 872: optimum 2.18 (data and figure from memory, recomputed)
    rows = ("00000", "01001", "00110", "10011", "11000", "11110")
    tree = Tree(
        weights=(0.70, 0.01, 0.02, 0.10, 0.05, 0.12),
        truths=[frozenset({str(number)}) for number in range(6)],
        answers=[tuple(int(row[test]) for row in rows) for test in range(5)],
    )
    assert tree.cost() == pytest.approx(2.18)


def test_faults_of_one_place_need_no_reading_to_be_told_apart():
    opened = signature("kettle", {"without": ["element"]})
    closed = signature("kettle", {})
    places_of = [frozenset({"element"}), frozenset({"power"})]
    assert fewest([opened, closed], [places_of[0], places_of[0]]) == 0
    assert fewest([opened, closed], places_of) == 1
    assert fewest([opened, opened], places_of) == 0
