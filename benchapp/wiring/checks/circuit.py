"""What in a circuit's file contradicts itself or hangs in the air? Every complaint with its key path."""

from collections import Counter
from collections.abc import Iterator

from benchapp.files.spelling import nearest
from benchapp.wiring.checks.circulating import check_circulating
from benchapp.wiring.checks.ratings import check_ratings
from benchapp.wiring.checks.safety import check_safety
from benchapp.wiring.expected.stated import WIRES, check_polarity
from benchapp.wiring.model.circuit import Circuit, PartKind, Problem, State
from benchapp.wiring.model.equipment import AnyPart, BarrierPart, Equipment, SwitchPart, WindingPart
from benchapp.wiring.model.groups import groups_of, members
from benchapp.wiring.network.rectified import Rectified

Key = tuple[str | int, ...]


def check_names(equipment: Equipment, terminals: tuple[str, ...], connectors: tuple[str, ...]) -> list[Problem]:
    """Complaints about names alone: pins that exist nowhere, parts named twice, barriers around nothing."""
    problems: list[Problem] = []
    nodes = {node for part in equipment.circuit for _, node in nodes_with_keys(0, part)}
    counts = Counter(part.id for part in equipment.circuit)
    for index, part in enumerate(equipment.circuit):
        if counts[part.id] > 1:
            key: Key = ("circuit", index, part.kind.value)
            problems.append(_given_twice(key, part.id, counts[part.id], "parts"))
        problems += _unknown_pins(index, part, terminals, connectors)
        if isinstance(part, SwitchPart) and part.usual and part.usual not in part.positions:
            problems.append(_no_position(index, part))
        if isinstance(part, BarrierPart):
            problems += _empty_groups(index, part, tuple(sorted(nodes | set(terminals))))
        elif not isinstance(part, SwitchPart) and part.between[0] == part.between[1]:
            problems.append(
                Problem(key=("circuit", index, "between"), what=f"both ends of '{part.id}' are the same node")
            )
    named = Counter(output.output for output in equipment.outputs)
    for index, output in enumerate(equipment.outputs):
        if named[output.output] > 1:
            problems.append(_given_twice(("outputs", index, "output"), output.output, named[output.output], "outputs"))
        for end, node in enumerate(output.between):
            if node not in terminals:
                problems.append(_no_terminal(("outputs", index, "between", end), node, terminals))
    return problems


def _given_twice(key: Key, name: str, times: int, of: str) -> Problem:
    return Problem(key=key, what=f"the name '{name}' is given to {times} {of}", expected="a name of its own for each")


def nodes_with_keys(index: int, part: AnyPart) -> Iterator[tuple[Key, str]]:
    """Every node that a part touches, with the key path it is written at; a barrier touches none."""
    start: Key = ("circuit", index)
    if isinstance(part, BarrierPart):
        return
    if isinstance(part, SwitchPart):
        for position, pairs in part.positions.items():
            for row, pair in enumerate(pairs):
                yield from (((*start, "positions", position, row, end), node) for end, node in enumerate(pair))
        return
    yield from (((*start, "between", end), node) for end, node in enumerate(part.between))
    if isinstance(part, WindingPart):
        yield from (((*start, "taps", row, "at"), tap.at) for row, tap in enumerate(part.taps))


def _no_position(index: int, part: SwitchPart) -> Problem:
    near = nearest(part.usual, part.positions) or ""
    return Problem(
        key=("circuit", index, "usual"),
        what=f"the switch '{part.id}' has no position '{part.usual}'",
        expected="" if near else "one of " + ", ".join(part.positions),
        nearest=near,
    )


def _unknown_pins(
    index: int, part: AnyPart, terminals: tuple[str, ...], connectors: tuple[str, ...]
) -> Iterator[Problem]:
    for key, node in nodes_with_keys(index, part):
        if node not in terminals and node.partition(".")[0] in connectors:
            yield _no_terminal(key, node, terminals)


def _no_terminal(key: Key, node: str, terminals: tuple[str, ...]) -> Problem:
    prefix = node.partition(".")[0]
    pins = [terminal for terminal in terminals if terminal.startswith(f"{prefix}.")] or list(terminals)
    return Problem(
        key=key,
        what=f"the pin '{node}' exists nowhere",
        expected="one of " + ", ".join(pins),
        nearest=nearest(node, pins) or "",
    )


def _empty_groups(index: int, part: BarrierPart, nodes: tuple[str, ...]) -> Iterator[Problem]:
    sides = [members(group, nodes) for group in part.between]
    for end, (group, side) in enumerate(zip(part.between, sides, strict=True)):
        if not side:
            prefixes = sorted({node.partition(".")[0] for node in nodes})
            yield Problem(
                key=("circuit", index, "between", end),
                what=f"the barrier '{part.id}' names '{group}', and nothing has that name",
                expected="a connector, the first part of a node's name, or one node",
                nearest=nearest(group, prefixes) or "",
            )
    if set(sides[0]) & set(sides[1]):
        yield Problem(
            key=("circuit", index, "between"), what=f"the barrier '{part.id}' has the same node on both sides"
        )


def check_circuit(equipment: Equipment, circuit: Circuit) -> list[Problem]:
    """Complaints that need the whole circuit: floating parts, bridged barriers, missing or contradictory ratings."""
    floating = list(_floating(equipment, circuit))
    return [
        *floating,
        *_bridged_barriers(equipment, circuit),
        *_unjudgeable_outputs(circuit),
        *(() if floating else _lonely_pins(equipment, circuit)),  # one misspelt node would leave its pins lonely too
        *check_polarity(circuit),
        *check_circulating(equipment, circuit),
        *check_ratings(equipment, circuit),
        *check_safety(equipment, circuit),
    ]


def _floating(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    taps = {tap.at for part in equipment.circuit if isinstance(part, WindingPart) for tap in part.taps}
    ends = Counter(node for branch in circuit.branches for node in (branch.a, branch.b))
    ends.subtract(taps)  # a tap parts its winding in two, which are no company for each other
    group = groups_of(circuit)
    touchable = {group[terminal] for terminal in circuit.terminals}
    for index, part in enumerate(equipment.circuit):
        for key, node in nodes_with_keys(index, part):
            if node in circuit.terminals:
                continue
            if group[node] not in touchable:
                yield Problem(
                    key=key, what=f"'{part.id}' floats: no terminal reaches '{node}'", expected="a way to a pin"
                )
                break
            if ends[node] == 1:
                own = {name for _, name in nodes_with_keys(index, part)}
                others = [name for name in circuit.nodes if name not in own]
                lonely = [name for name in others if ends[name] == 1 and name not in circuit.terminals]
                yield Problem(
                    key=key,
                    what=f"'{part.id}' ends at '{node}', where nothing else is connected",
                    expected="a second part at the same node",
                    nearest=nearest(node, lonely) or nearest(node, others) or "",
                )


def _bridged_barriers(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    conducting = frozenset(PartKind) - {PartKind.capacitor, PartKind.barrier}
    group = groups_of(circuit, conducting)
    barriers = {barrier.part: barrier for barrier in circuit.barriers}
    for index, part in enumerate(equipment.circuit):
        if part.id in barriers:
            one, other = barriers[part.id].side_a, barriers[part.id].side_b
            shared = {group[node] for node in one} & {group[node] for node in other}
            if shared:
                ends = [min(node for node in side if group[node] in shared) for side in (one, other)]
                what = f"the circuit itself bridges the barrier '{part.id}', from {ends[0]} to {ends[1]}"
                yield Problem(key=("circuit", index, "between"), what=what)


def _unjudgeable_outputs(circuit: Circuit) -> Iterator[Problem]:
    """Pins that only a diode feeds: without a stated output no reading there could be judged."""
    if circuit.supply is None:
        return
    wire = groups_of(circuit, WIRES)
    stated = {wire[node] for output in circuit.outputs for node in (output.a, output.b)}
    wound = [node for b in circuit.branches if b.kind is PartKind.winding for node in (b.a, b.b)]
    driven = frozenset((circuit.supply.live, circuit.supply.neutral, *wound))
    behind = Rectified(circuit, State()).fed(circuit.terminals, driven)
    fed = sorted(terminal for terminal in behind if wire[terminal] not in stated)
    if fed:
        one, it = ("is", "it") if len(fed) == 1 else ("are", "them")
        yield Problem(
            key=("circuit",),
            what=f"{', '.join(fed)} {one} fed through a diode, and no voltage is stated for {it}",
            expected="an entry under 'outputs' with its volts and their source",
        )


def _lonely_pins(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """Pins that a part reaches, but no direct current from any other terminal: no ohmmeter can judge them."""
    group = groups_of(circuit, frozenset(PartKind) - {PartKind.capacitor, PartKind.barrier})
    company = Counter(group[terminal] for terminal in circuit.terminals)
    stated = {node for output in circuit.outputs for node in (output.a, output.b)}
    used = {pin for plug in circuit.connectors.values() for pin in plug.terminals if pin not in plug.unused}
    for index, part in enumerate(equipment.circuit):
        for key, node in nodes_with_keys(index, part):
            if node in used - stated and company[group[node]] == 1 and PartKind.diode != part.kind:
                yield Problem(
                    key=key,
                    what=f"no probe can judge '{node}': no other terminal conducts to it",
                    expected="an entry under 'outputs' with its volts and their source, or a way to another pin",
                )
