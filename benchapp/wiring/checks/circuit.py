"""What in a circuit's file contradicts itself or hangs in the air, every complaint with its key path."""

from collections import Counter
from collections.abc import Iterator

from benchapp.files.locations import Key
from benchapp.files.spelling import nearest
from benchapp.wiring.checks.bridges import check_bridges
from benchapp.wiring.checks.circulating import check_circulating
from benchapp.wiring.checks.mains_side import check_mains_side, check_short
from benchapp.wiring.checks.ratings import check_ratings
from benchapp.wiring.checks.safety import check_safety
from benchapp.wiring.expected.stated import check_polarity
from benchapp.wiring.model.circuit import Circuit, Problem, State
from benchapp.wiring.model.equipment import Equipment, Part
from benchapp.wiring.model.groups import carries_voltage_on, conducts, groups_of
from benchapp.wiring.network.rectified import Rectified


def check_names(equipment: Equipment, terminals: tuple[str, ...], connectors: tuple[str, ...]) -> list[Problem]:
    """Complaints about names alone: pins that exist nowhere, parts named twice, barriers around nothing."""
    problems: list[Problem] = []
    nodes = tuple(sorted({*equipment.nodes(), *terminals}))
    counts = Counter(part.id for part in equipment.circuit)
    for index, part in enumerate(equipment.circuit):
        key: Key = ("circuit", index)
        if counts[part.id] > 1:
            problems.append(_given_twice((*key, part.kind.name), part.id, counts[part.id], "parts"))
        problems += _unknown_pins(key, part, terminals, connectors)
        problems += part.misnamed(key, nodes)
    named = Counter(output.output for output in equipment.outputs)
    for index, output in enumerate(equipment.outputs):
        if named[output.output] > 1:
            problems.append(_given_twice(("outputs", index, "output"), output.output, named[output.output], "outputs"))
        if output.between[0] == output.between[1]:
            what = f"both wires of the output '{output.output}' are on one pin, {output.between[0]}"
            problems.append(Problem(key=("outputs", index, "between"), what=what, expected="its two pins"))
        for end, node in enumerate(output.between):
            if node not in terminals:
                problems.append(_no_terminal(("outputs", index, "between", end), node, terminals))
    return problems


def _given_twice(key: Key, name: str, times: int, of: str) -> Problem:
    return Problem(key=key, what=f"the name '{name}' is given to {times} {of}", expected="a name of its own for each")


def _unknown_pins(key: Key, part: Part, terminals: tuple[str, ...], connectors: tuple[str, ...]) -> Iterator[Problem]:
    for inside, node in part.nodes():
        if node not in terminals and node.partition(".")[0] in connectors:
            yield _no_terminal((*key, *inside), node, terminals)


def _no_terminal(key: Key, node: str, terminals: tuple[str, ...]) -> Problem:
    prefix = node.partition(".")[0]
    pins = [terminal for terminal in terminals if terminal.startswith(f"{prefix}.")] or list(terminals)
    return Problem(
        key=key,
        what=f"the pin '{node}' exists nowhere",
        expected="one of " + ", ".join(pins),
        nearest=nearest(node, pins) or "",
    )


def check_circuit(equipment: Equipment, circuit: Circuit) -> list[Problem]:
    """Complaints that need the whole circuit: floating parts, bridged barriers, missing or contradictory ratings."""
    floating, shorts = list(_floating(equipment, circuit)), list(check_short(equipment, circuit))
    return [
        *floating,
        *shorts,
        *(() if shorts else check_mains_side(equipment, circuit)),
        *check_bridges(equipment, circuit),
        *(
            problem
            for index, part in enumerate(equipment.circuit)
            for problem in part.complaints(("circuit", index), equipment, circuit)
        ),
        *_unjudgeable_outputs(circuit),
        *(() if floating else _lonely_pins(equipment, circuit)),  # one misspelt node would leave its pins lonely too
        *check_polarity(circuit),
        *check_ratings(equipment),
        *(() if shorts else check_circulating(equipment, circuit)),  # no voltage after a dead short says anything
        *(() if shorts else check_safety(equipment, circuit)),
    ]


def _floating(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    ends = Counter(node for branch in circuit.branches for node in (branch.a, branch.b))
    wound = Counter((b.part, node) for b in circuit.branches if b.kind.couples for node in (b.a, b.b))
    ends.subtract(node for (_, node), times in wound.items() if times > 1)  # the two sections at a tap are one part
    group = groups_of(circuit)
    touchable = {group[terminal] for terminal in circuit.terminals}
    for index, part in enumerate(equipment.circuit):
        for inside, node in part.nodes():
            key = ("circuit", index, *inside)
            if node in circuit.terminals:
                continue
            if group[node] not in touchable:
                yield Problem(
                    key=key, what=f"'{part.id}' floats: no terminal reaches '{node}'", expected="a way to a pin"
                )
                break
            if ends[node] == 1 and equipment.design_known:
                own = {name for _, name in part.nodes()}
                others = [name for name in circuit.nodes if name not in own]
                lonely = [name for name in others if ends[name] == 1 and name not in circuit.terminals]
                yield Problem(
                    key=key,
                    what=f"'{part.id}' ends at '{node}', where nothing else is connected",
                    expected="a second part at the same node",
                    nearest=nearest(node, lonely) or nearest(node, others) or "",
                )


def _unjudgeable_outputs(circuit: Circuit) -> Iterator[Problem]:
    """Pins that only a diode feeds: without a stated output no reading there could be judged."""
    if circuit.supply is None:
        return
    wire = groups_of(circuit, carries_voltage_on)
    stated = {wire[node] for output in circuit.outputs for node in (output.a, output.b)}
    wound = [node for b in circuit.branches if b.kind.couples for node in (b.a, b.b)]
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
    """Pins that a part reaches, but no direct current from any other terminal: no ohmmeter can judge them.

    What lies behind the cord of a design that nobody knows, its file cannot say.
    """
    if not equipment.design_known:
        return
    group = groups_of(circuit, conducts)
    company = Counter(group[terminal] for terminal in circuit.terminals)
    stated = {node for output in circuit.outputs for node in (output.a, output.b)}
    used = {pin for plug in circuit.connectors.values() for pin in plug.terminals if pin not in plug.unused}
    for index, part in enumerate(equipment.circuit):
        for inside, node in part.nodes():
            if node in used - stated and company[group[node]] == 1 and not part.kind.one_way:
                yield Problem(
                    key=("circuit", index, *inside),
                    what=f"no probe can judge '{node}': no other terminal conducts to it",
                    expected="an entry under 'outputs' with its volts and their source, or a way to another pin",
                )
