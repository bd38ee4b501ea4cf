"""Four diodes in a ring of which one is turned: no bridge, but a short of what feeds it in every other half wave.

A sound bridge has two diodes each way round the ring, side by side. All four one way round are a ring modulator.
"""

from collections.abc import Iterator
from itertools import combinations, permutations

from benchapp.wiring.model.circuit import Branch, Circuit, Problem
from benchapp.wiring.model.equipment import Equipment

Ring = tuple[tuple[Branch, bool], ...]
"""four diodes in the order of the ring, each with whether it conducts the way that the ring is walked"""


def check_bridges(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """Rings of four diodes of which three conduct one way round."""
    diodes = [branch for branch in circuit.branches if branch.kind.one_way]
    wound = {node for branch in circuit.branches if branch.kind.couples for node in (branch.a, branch.b)}
    for four in combinations(diodes, 4):
        ring = _ring(four)
        if ring is None or sum(way for _, way in ring) not in (1, 3):
            continue
        turned = [ring[place][0].part for place in range(4) if _is_bridge(_with_turned(ring, place), wound)]
        numbers = {part.id: index for index, part in enumerate(equipment.circuit)}
        names = " or ".join(f"'{name}'" for name in turned) or "one of them"
        first = turned[0] if len(turned) == 1 else four[0].part
        listed = ", ".join(f"'{branch.part}'" for branch in four)
        yield Problem(
            key=("circuit", numbers[first], "between"),
            what=f"of the bridge {listed} three diodes point the same way round, and {names} is turned",
            expected="the anode first: [AC, plus] for two diodes and [minus, AC] for the other two",
        )


def _ring(four: tuple[Branch, ...]) -> Ring | None:
    """The four in the order in which they close a ring through four nodes; None where they close none."""
    if len({node for branch in four for node in (branch.a, branch.b)}) != 4:
        return None
    for order in permutations(four[1:]):
        at, ring = four[0].b, [(four[0], True)]
        for branch in order:
            if at not in (branch.a, branch.b):
                break
            ring.append((branch, at == branch.a))
            at = branch.b if at == branch.a else branch.a
        if len(ring) == 4 and at == four[0].a:
            return tuple(ring)
    return None


def _with_turned(ring: Ring, place: int) -> Ring:
    return tuple((branch, way != (number == place)) for number, (branch, way) in enumerate(ring))


def _is_bridge(ring: Ring, wound: set[str]) -> bool:
    """Whether two and two lie side by side, and the ends of a winding, where it is at the ring, are its AC ends."""
    ways = [way for _, way in ring]
    if sum(ways) != 2:
        return False
    ends = {_start(ring[place]) for place in range(4) if ways[place] == ways[place - 1]}  # where it goes on one way: AC
    nodes = {_start(one) for one in ring}
    return len(ends) == 2 and (not nodes & wound or ends >= nodes & wound)


def _start(one: tuple[Branch, bool]) -> str:
    branch, way = one
    return branch.a if way else branch.b
