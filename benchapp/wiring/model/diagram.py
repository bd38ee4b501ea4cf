"""Where each node of a circuit is drawn: the mains plug's pins on the left, outputs and bare metal on the right.

What lies between stands in columns by how many parts it is away from either side. Within a column the order that keeps
the parts short is sought by exchanging neighbours. The layout is our own; it is a diagram to point at, not a schematic
by any standard.
"""

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from benchapp.wiring.model.circuit import Branch, Circuit

_PASSES = 12
_LEAST_COLUMNS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagram:
    """Places from 0 to 1 in both ways, down from the top; the terminals outside, the parts between two places."""

    places: Mapping[str, tuple[float, float]]
    left: tuple[str, ...]
    right: tuple[str, ...]
    between: tuple[str, ...]
    """what can be touched in between, as the pins of an inlet behind a lead that comes off"""
    parts: tuple[Branch, ...]
    columns: int

    @property
    def terminals(self) -> tuple[str, ...]:
        """What can be touched, from top to bottom on the left, then in between, then on the right."""
        return (*self.left, *self.between, *self.right)


def diagram(circuit: Circuit) -> Diagram:
    """The layout of a circuit; the same circuit always has the same one."""
    left, right = _sides(circuit)
    drawn = {*left, *right, *(end for branch in circuit.branches for end in (branch.a, branch.b))}
    neighbours: dict[str, list[str]] = {node: [] for node in drawn}
    for branch in circuit.branches:
        neighbours[branch.a].append(branch.b)
        neighbours[branch.b].append(branch.a)
    column_of, last = _columns(neighbours, left, right)
    _stand_windings_up(circuit, column_of, last)
    columns = [
        [node for node in sorted(drawn, key=_Order(left, right)) if column_of[node] == at] for at in range(last + 1)
    ]
    _put_in_order(columns, [(branch.a, branch.b) for branch in circuit.branches])
    places = {
        node: (at / last, (row + 0.5) / len(column))
        for at, column in enumerate(columns)
        for row, node in enumerate(column)
    }
    between = [node for node in circuit.terminals if node in drawn and node not in left and node not in right]

    def by_height(nodes: Iterable[str]) -> tuple[str, ...]:
        return tuple(sorted(nodes, key=lambda node: places[node][1]))

    return Diagram(
        places=places,
        left=by_height(left),
        right=by_height(right),
        between=by_height(between),
        parts=circuit.branches,
        columns=last + 1,
    )


def _sides(circuit: Circuit) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The pins at which mains comes in, and everything else outside that a probe can touch."""
    inlet = circuit.inlet
    left = inlet.terminals if inlet is not None else ()
    outputs = [pin for plug in circuit.output_connectors for pin in plug.terminals]
    bare = [one for one in circuit.terminals if "." not in one]
    return tuple(left), tuple(dict.fromkeys((*outputs, *bare)))


class _Order:
    """The order before any exchange: as the connectors' files have it, then by name."""

    def __init__(self, left: Sequence[str], right: Sequence[str]) -> None:
        self._at = {node: number for number, node in enumerate((*left, *right))}

    def __call__(self, node: str) -> tuple[int, str]:
        return self._at.get(node, len(self._at)), node


def _columns(
    neighbours: Mapping[str, Sequence[str]], left: Sequence[str], right: Sequence[str]
) -> tuple[dict[str, int], int]:
    """The column of each node, and the number of the last one."""
    from_left, from_right = _away(neighbours, left), _away(neighbours, right)
    inner = [node for node in neighbours if node not in left and node not in right]
    deep = max((from_left[one] for one in inner if from_right[one] == inf and from_left[one] < inf), default=0)
    far = max((from_right[one] for one in inner if from_left[one] == inf and from_right[one] < inf), default=0)
    last = max(_LEAST_COLUMNS, int(deep + far) + 1)
    found = {}
    for node in neighbours:
        near, away = from_left[node], from_right[node]
        if node in left or node in right:
            found[node] = 0 if node in left else last
        elif near < inf and away < inf:
            found[node] = min(max(round(near / (near + away) * last), 1), last - 1)
        elif near < inf or away < inf:
            found[node] = int(near) if near < inf else last - int(away)
        else:
            found[node] = last // 2
    return found, last


def _stand_windings_up(circuit: Circuit, column_of: dict[str, int], last: int) -> None:
    """Both ends of a winding stand in one column, the one further in, so that a transformer looks like one."""
    for branch in circuit.branches:
        a, b = column_of[branch.a], column_of[branch.b]
        inner = all(0 < one < last for one in (a, b))
        if branch.kind.couples and inner and a != b:
            within = max(a, b) if max(a, b) <= last / 2 else min(a, b)
            column_of[branch.a] = column_of[branch.b] = within


def _away(neighbours: Mapping[str, Sequence[str]], start: Iterable[str]) -> dict[str, float]:
    """How many parts each node is away from the nearest of these."""
    found = dict.fromkeys(neighbours, inf) | dict.fromkeys(start, 0.0)
    waiting = deque(node for node in start if node in neighbours)
    while waiting:
        node = waiting.popleft()
        for other in neighbours[node]:
            if found[other] == inf:
                found[other] = found[node] + 1
                waiting.append(other)
    return found


def _put_in_order(columns: list[list[str]], edges: Sequence[tuple[str, str]]) -> None:
    """Exchange neighbours within a column while that shortens the parts."""
    height = {node: (row + 0.5) / len(column) for column in columns for row, node in enumerate(column)}
    touching: dict[str, list[tuple[str, str]]] = {node: [] for node in height}
    for edge in edges:
        for end in edge:
            touching[end].append(edge)

    def length(*nodes: str) -> float:
        return sum(abs(height[a] - height[b]) for a, b in {edge for node in nodes for edge in touching[node]})

    for _pass in range(_PASSES):
        moved = False
        for column in columns:
            for row in range(len(column) - 1):
                upper, lower = column[row], column[row + 1]
                before = length(upper, lower)
                height[upper], height[lower] = height[lower], height[upper]
                if length(upper, lower) < before - 1e-9:
                    column[row], column[row + 1], moved = lower, upper, True
                else:
                    height[upper], height[lower] = height[lower], height[upper]
        if not moved:
            return
