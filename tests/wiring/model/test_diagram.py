"""Where the nodes of a circuit are drawn."""

import pytest

from benchapp.wiring.model.diagram import diagram
from tests.sequences.bench import plan_of

SHIPPED = (("mains-unit", "tb-mu1"), ("mains-unit", "tb-mu2"), ("recorder", "tb-rec1"), ("loudspeaker", "tb-ls1"))


@pytest.mark.parametrize(("route", "equipment"), SHIPPED)
def test_every_node_of_a_part_has_a_place_of_its_own(route, equipment):
    drawn = diagram(plan_of(route, equipment).circuit)
    assert {end for branch in drawn.parts for end in (branch.a, branch.b)} <= set(drawn.places)
    assert len(set(drawn.places.values())) == len(drawn.places)
    assert all(0 <= x <= 1 and 0 < y < 1 for x, y in drawn.places.values())


@pytest.mark.parametrize(("route", "equipment"), SHIPPED)
def test_terminals_stand_outside_and_what_is_between_stands_between(route, equipment):
    drawn = diagram(plan_of(route, equipment).circuit)
    assert {drawn.places[node][0] for node in drawn.left} <= {0.0}
    assert {drawn.places[node][0] for node in drawn.right} == {1.0}
    inner = set(drawn.places) - {*drawn.left, *drawn.right}
    assert all(0 < drawn.places[node][0] < 1 for node in inner)


def test_mains_comes_in_on_the_left_and_outputs_and_bare_metal_are_on_the_right():
    drawn = diagram(plan_of("mains-unit", "tb-mu1").circuit)
    assert set(drawn.left) == {"plug.L", "plug.N", "plug.E"}
    assert set(drawn.right) == {"case", *(f"outlet.{pin}" for pin in range(1, 6))}


def test_both_ends_of_a_winding_stand_in_one_column():
    drawn = diagram(plan_of("mains-unit", "tb-mu1").circuit)
    for part in ("primary", "low", "high"):
        branch = next(one for one in drawn.parts if one.part == part)
        assert drawn.places[branch.a][0] == drawn.places[branch.b][0]


def test_the_same_circuit_is_laid_out_the_same_every_time():
    circuit = plan_of("recorder", "tb-rec1").circuit
    assert diagram(circuit) == diagram(circuit)
