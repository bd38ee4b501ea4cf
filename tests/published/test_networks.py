"""Resistance distance against textbook networks, a reference library and three theorems.

Exact values: cube, Halliday and Resnick, Physics part 2, ch. 32 (network confirmed, values recomputed); regular
polyhedra, Klein 2002, Croat. Chem. Acta 75, 633 (values recomputed); cycles and complete graphs, Klein and Randić
1993, J. Math. Chem. 12, 81 (formula from memory, recomputed); ladder and bridges, textbooks (recomputed); Foster's
theorem; Rayleigh's monotonicity law. Library: networkx.resistance_distance.
"""

from fractions import Fraction
from itertools import combinations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.wiring.network.solve import Network, Wire

Edge = tuple[int, int, float]


def network_of(edges: list[Edge]) -> Network:
    size = 1 + max(max(a, b) for a, b, _ in edges)
    wires = tuple(Wire(branch=i, part=f"r{i}", a=a, b=b, ohms=ohms) for i, (a, b, ohms) in enumerate(edges))
    return Network(nodes=tuple(f"n{i}" for i in range(size)), wires=wires)


def ohms(edges: list[Edge], a: int, b: int) -> float:
    return network_of(edges).resistance(f"n{a}", f"n{b}")


def unit(graph: nx.Graph) -> list[Edge]:
    return [(a, b, 1.0) for a, b in nx.convert_node_labels_to_integers(graph, ordering="sorted").edges]


CUBE = [(a, a ^ bit, 1.0) for a in range(8) for bit in (1, 2, 4) if a < a ^ bit]


@pytest.mark.parametrize(("far", "value"), [(1, "7/12"), (3, "3/4"), (7, "5/6")])
def test_cube(far: int, value: str) -> None:
    assert ohms(CUBE, 0, far) == pytest.approx(float(Fraction(value)), rel=1e-12)


@pytest.mark.parametrize(
    ("graph", "distances"),
    [
        (nx.tetrahedral_graph(), {1: "1/2"}),
        (nx.octahedral_graph(), {1: "5/12", 2: "1/2"}),
        (nx.icosahedral_graph(), {1: "11/30", 2: "7/15", 3: "1/2"}),
        (nx.dodecahedral_graph(), {1: "19/30", 2: "9/10", 3: "16/15", 4: "17/15", 5: "7/6"}),
    ],
    ids=["tetrahedron", "octahedron", "icosahedron", "dodecahedron"],
)
def test_regular_polyhedra(graph: nx.Graph, distances: dict[int, str]) -> None:
    edges = unit(graph)
    for node, hops in nx.single_source_shortest_path_length(graph, 0).items():
        if hops:
            assert ohms(edges, 0, node) == pytest.approx(float(Fraction(distances[hops])), rel=1e-12)


@pytest.mark.parametrize("n", [3, 5, 6, 12])
def test_cycles(n: int) -> None:
    edges = [(i, (i + 1) % n, 1.0) for i in range(n)]
    for k in range(1, n):
        assert ohms(edges, 0, k) == pytest.approx(k * (n - k) / n, rel=1e-12)
    index = sum(ohms(edges, a, b) for a, b in combinations(range(n), 2))
    assert index == pytest.approx((n**3 - n) / 12, rel=1e-12)  # the Kirchhoff index, same source


@pytest.mark.parametrize("n", [3, 4, 5, 6])
def test_complete_graphs(n: int) -> None:
    assert ohms(unit(nx.complete_graph(n)), 0, n - 1) == pytest.approx(2 / n, rel=1e-12)


def test_series_and_parallel() -> None:
    assert ohms([(i, i + 1, 1.0) for i in range(7)], 0, 7) == pytest.approx(7.0, rel=1e-12)
    assert ohms([(0, 1, 1.0)] * 7, 0, 1) == pytest.approx(1 / 7, rel=1e-12)


@pytest.mark.parametrize(
    ("sections", "value"), list(enumerate(["2", "5/3", "13/8", "34/21", "89/55", "233/144", "610/377", "1597/987"], 1))
)
def test_ladder_of_series_and_shunt_ohms(sections: int, value: str) -> None:
    series = [(i, i + 1, 1.0) for i in range(sections)]
    ground = sections + 1
    shunts = [(i + 1, ground, 1.0) for i in range(sections)]
    assert ohms(series + shunts, 0, ground) == pytest.approx(float(Fraction(value)), rel=1e-12)


def bridge(middle: float, arms: tuple[float, float, float, float]) -> float:
    plus_p, p_minus, plus_q, q_minus = arms
    edges = [(0, 2, plus_p), (2, 1, p_minus), (0, 3, plus_q), (3, 1, q_minus), (2, 3, middle)]
    return ohms(edges, 0, 1)


@pytest.mark.parametrize("middle", [7.0, 1000.0])
def test_a_balanced_bridge_does_not_feel_its_middle(middle: float) -> None:
    assert bridge(middle, (1, 1, 1, 1)) == pytest.approx(1.0, rel=1e-12)
    assert bridge(middle, (1, 2, 2, 4)) == pytest.approx(2.0, rel=1e-12)


def test_an_unbalanced_bridge() -> None:
    assert bridge(5, (1, 2, 3, 4)) == pytest.approx(155 / 74, rel=1e-12)


@st.composite
def connected(draw: st.DrawFn) -> list[Edge]:
    """A random connected network: a random tree and some more edges, resistances over five decades."""
    size = draw(st.integers(2, 12))
    value = st.floats(0.01, 1000.0)
    tree = [(draw(st.integers(0, node - 1)), node, draw(value)) for node in range(1, size)]
    more = draw(st.lists(st.tuples(st.integers(0, size - 1), st.integers(0, size - 1), value), max_size=14))
    return tree + [(a, b, r) for a, b, r in more if a != b]


@given(connected())
def test_every_resistance_distance_agrees_with_networkx(edges: list[Edge]) -> None:
    graph = nx.Graph()
    for a, b, r in edges:
        together = graph.edges[a, b]["g"] if graph.has_edge(a, b) else 0.0
        graph.add_edge(a, b, g=together + 1 / r)
    reference = nx.resistance_distance(graph, weight="g", invert_weight=False)
    ours = network_of(edges)
    for a, b in combinations(sorted(graph), 2):
        assert ours.resistance(f"n{a}", f"n{b}") == pytest.approx(reference[a][b], rel=1e-7, abs=1e-9)


@given(connected())
def test_fosters_theorem(edges: list[Edge]) -> None:
    network = network_of(edges)
    total = sum(network.resistance(f"n{a}", f"n{b}") / r for a, b, r in edges)
    assert total == pytest.approx(len(network.nodes) - 1, rel=1e-9)


@given(connected(), st.data())
def test_raising_one_branch_never_lowers_a_reading(edges: list[Edge], data: st.DataObject) -> None:
    which = data.draw(st.integers(0, len(edges) - 1))
    a, b, r = edges[which]
    raised = [*edges[:which], (a, b, r * data.draw(st.floats(1.0, 1e4))), *edges[which + 1 :]]
    before, after = network_of(edges), network_of(raised)
    rounding = 1e-11 * sum(ohms for _, _, ohms in raised)
    for one, other in combinations(before.nodes, 2):
        assert after.resistance(one, other) >= before.resistance(one, other) - rounding


@given(connected())
def test_the_shares_of_all_parts_make_up_the_reading(edges: list[Edge]) -> None:
    network = network_of(edges)
    first, last = network.nodes[0], network.nodes[-1]
    shares = network.shares(first, last)
    assert sum(shares.values()) == pytest.approx(network.resistance(first, last), rel=1e-9)


def test_what_hangs_apart_is_infinitely_far() -> None:
    network = network_of([(0, 1, 1.0), (2, 3, 1.0)])
    assert network.resistance("n0", "n2") == float("inf")
