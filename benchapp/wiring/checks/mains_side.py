"""What the mains side of a drawing cannot be: a dead short, crossed cores, a load on the pins of the plug, no earth.

Live, neutral and earth are the pins L, N and E of a mains connector; inside, a name in .L or .N says so.
"""

from collections.abc import Iterator

from benchapp.files.locations import Key
from benchapp.wiring.kinds.fuse import FusePart
from benchapp.wiring.kinds.link import LinkPart
from benchapp.wiring.model.circuit import Branch, Circuit, Problem, Supply
from benchapp.wiring.model.equipment import Equipment, Part
from benchapp.wiring.model.groups import carries_voltage_on, groups_of, joined

CHASSIS = "chassis"
"""what a node is named that is the metal inside"""


def check_mains_side(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """Everything on the mains side that cannot be; nothing for an item without a supply."""
    supply = circuit.supply
    if supply is None:
        return
    yield from _crossed(equipment, circuit, supply)
    yield from _fuse_in_neutral(equipment, supply)
    yield from _load_on_pins(equipment, circuit, supply)
    yield from _live_earth(equipment, circuit, supply)
    yield from _unsaid_live_chassis(equipment, circuit, supply)
    yield from _earth_core(equipment, circuit, supply)
    yield from _unearthed(equipment, circuit, supply)


def check_short(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """Wires, fuses and closed contacts that join live to neutral, as the switches usually stand or in a position."""
    supply = circuit.supply
    if supply is None:
        return
    told: set[str] = set()
    for switch, position in _settings(circuit):
        closing = _closing(circuit, supply, switch, position)
        if closing is None or closing.part in told:
            continue
        told.add(closing.part)
        where = f" with '{switch}' at {position}" if switch else ""
        yield Problem(
            key=_key(equipment, closing.part),
            what=f"the {closing.kind} '{closing.part}'{where} joins live to neutral, a dead short of mains",
            expected="the two ends of a load between them; look where its ends go in the item itself",
        )


def _settings(circuit: Circuit) -> Iterator[tuple[str, str]]:
    """All switches as usual first; then each position of each, the others as usual."""
    yield "", ""
    for name, switch in circuit.switches.items():
        yield from ((name, position) for position in switch.positions if position != switch.usual)


def _closing(circuit: Circuit, supply: Supply, moved: str, position: str) -> Branch | None:
    """The branch of the file that joins live to neutral; rather one whose own ends contradict each other."""
    stands = {name: one.usual for name, one in circuit.switches.items()} | ({moved: position} if moved else {})
    wires = [
        branch
        for branch in circuit.branches
        if branch.kind.carries_voltage_on and (branch.switch is None or stands[branch.switch] in branch.closed_in)
    ]
    wires.sort(key=lambda branch: (_names_differ(branch), branch.switch is not None))
    for count in range(1, len(wires) + 1):
        group = joined(circuit.nodes, wires[:count])
        if group[supply.live] == group[supply.neutral]:
            return wires[count - 1]
    return None


def _names_differ(branch: Branch) -> bool:
    """Whether one end is live by its name and the other neutral."""
    return {branch.a[-2:], branch.b[-2:]} == {".L", ".N"}


def _wired(circuit: Circuit) -> dict[str, int]:
    """Which nodes one unbroken wire joins: no switch in it, and no protective conductor."""
    return groups_of(circuit, lambda branch: carries_voltage_on(branch) and not branch.kind.protects)


def _crossed(equipment: Equipment, circuit: Circuit, supply: Supply) -> Iterator[Problem]:
    """A live conductor at an end that says neutral, or a neutral one at an end that says live."""
    group, home = _wired(circuit), supply.live.partition(".")[0]
    sides = ((supply.live, ".N", "live", "neutral"), (supply.neutral, ".L", "neutral", "live"))
    for start, ending, own, other in sides:
        reached = [node for node, number in group.items() if number == group[start] and node.endswith(ending)]
        far = next((node for node in reached if node.partition(".")[0] != home), "")
        if not far:
            continue
        wires = (part for part in equipment.circuit if part.kind.carries_voltage_on)
        part, inside = next((part, key) for part in wires for key, node in part.nodes() if node == far)
        yield Problem(
            key=(*_key(equipment, part.id), *inside),
            what=f"the {own} conductor '{part.id}' ends at '{far}', which is {other} by its name",
            expected=f"the {own} core from {start} to the {own} end; a name in {ending} for {other} alone",
        )


def _fuse_in_neutral(equipment: Equipment, supply: Supply) -> Iterator[Problem]:
    """A plug's fuse at its neutral pin: BS 1363-1 has it between the live pin and the live terminal (from memory)."""
    for index, part in enumerate(equipment.circuit):
        if isinstance(part, FusePart) and part.place == "plug" and supply.neutral in part.between:
            yield Problem(
                key=("circuit", index, "between"),
                what=f"the plug's fuse '{part.id}' is in the neutral conductor, and live stays on when it blows",
                expected=f"it at {supply.live}, as BS 1363-1 has it",
            )


def _load_on_pins(equipment: Equipment, circuit: Circuit, supply: Supply) -> Iterator[Problem]:
    """A load on the pins themselves, before the fuse of the plug or the cores of the cord that leave it."""
    pins = {supply.live, supply.neutral}
    has_way = any(branch.cord_core or branch.part in circuit.plug_fuses for branch in circuit.branches)
    if not has_way:
        return
    for branch in circuit.branches:
        if {branch.a, branch.b} == pins and not branch.kind.carries_voltage_on:
            yield Problem(
                key=(*_key(equipment, branch.part), "between"),
                what=f"the {branch.kind} '{branch.part}' lies on the pins of the plug, before its fuse and its cord",
                expected="the ends of the cord inside the item, such as mains.L and mains.N",
            )


def _live_earth(equipment: Equipment, circuit: Circuit, supply: Supply) -> Iterator[Problem]:
    """A protective conductor whose end is live or neutral itself."""
    group = _wired(circuit)
    sides = {group[supply.live]: "live", group[supply.neutral]: "neutral"}
    for index, part in enumerate(equipment.circuit):
        if not part.kind.protects:
            continue
        for inside, node in part.nodes():
            if group[node] in sides:
                yield Problem(
                    key=("circuit", index, *inside),
                    what=f"the earth part '{part.id}' ends at '{node}', and that is {sides[group[node]]}",
                    expected="the earth pin or bare metal; a core that carries current is a 'link'",
                )
                break


def _unsaid_live_chassis(equipment: Equipment, circuit: Circuit, supply: Supply) -> Iterator[Problem]:
    """Metal inside that is wired to live or neutral, and a file that does not say so."""
    if equipment.live_chassis:
        return
    group = _wired(circuit)
    mains = {group[supply.live], group[supply.neutral]}
    for index, part in enumerate(equipment.circuit):
        for inside, node in part.nodes():
            if node.partition(".")[0] == CHASSIS and group[node] in mains:
                yield Problem(
                    key=("circuit", index, *inside),
                    what=f"'{node}' is wired to mains by '{part.id}', and nothing says that the chassis is live",
                    expected="'live chassis: true' where the metal inside is live, or another end for the wire",
                )
                return


def _earth_core(equipment: Equipment, circuit: Circuit, supply: Supply) -> Iterator[Problem]:
    """In class I: an earth pin at which no earth part begins, or one that a plain link takes over."""
    earth = f"{supply.live.partition('.')[0]}.E"
    if equipment.equipment_class != "I" or earth not in circuit.terminals:
        return
    at_pin = [part for part in equipment.circuit if earth in (node for _, node in part.nodes())]
    links = [part for part in at_pin if isinstance(part, LinkPart)]
    if links:
        yield _is_a_link(equipment, links[0].id, earth)
    elif not any(part.kind.protects for part in at_pin) and _has_earth(equipment):
        yield Problem(
            key=("class",),
            what=f"equipment of class I, and no earth core begins at {circuit.say(earth)}",
            expected=f"an 'earth' part between [{earth}, ...] with 'cord core: true'",
        )


def _unearthed(equipment: Equipment, circuit: Circuit, supply: Supply) -> Iterator[Problem]:
    """In class I: bare metal that a link alone bonds, and bare metal none of which is bonded."""
    home = supply.live.partition(".")[0]
    earth = f"{home}.E"
    if equipment.equipment_class != "I" or not equipment.bare_metal or earth not in circuit.terminals:
        return
    pins = {pin for plug in circuit.connectors.values() for pin in plug.terminals}
    metal = [point for point in circuit.terminals if point not in pins]
    safe = groups_of(circuit, lambda branch: branch.kind.protects)
    wired = groups_of(circuit, carries_voltage_on)
    open_ = [point for point in metal if safe[point] != safe[earth]]
    bonded = [point for point in open_ if wired[point] == wired[earth]]
    for link, point in {_link_to(equipment, circuit, point, earth): point for point in reversed(bonded)}.items():
        if earth not in (node for _, node in _part(equipment, link).nodes()):  # that one is told already
            yield _is_a_link(equipment, link, point)
    if metal and all(wired[point] != wired[earth] for point in metal) and _has_earth(equipment):
        yield Problem(
            key=("bare metal",),
            what=f"class I with bare metal, and no earth part leads from {circuit.say(earth)} to any of it",
            expected=f"an 'earth' part that ends at '{metal[0]}'",
        )


def _has_earth(equipment: Equipment) -> bool:
    """Whether any part is for earth; a design that has none is refused for that alone."""
    return any(part.kind.protects for part in equipment.circuit)


def _link_to(equipment: Equipment, circuit: Circuit, point: str, earth: str) -> str:
    """The first link of the file without which the point has no way to earth."""
    links = [part.id for part in equipment.circuit if isinstance(part, LinkPart)]
    for one in links:
        others = (branch for branch in circuit.branches if carries_voltage_on(branch) and branch.part != one)
        group = joined(circuit.nodes, others)
        if group[point] != group[earth]:
            return one
    return links[0]


def _is_a_link(equipment: Equipment, part: str, end: str) -> Problem:
    return Problem(
        key=(*_key(equipment, part), "link"),
        what=f"the link '{part}' is the way to earth at '{end}', and a link is tested as a wire, not as an earth path",
        expected=f"'earth: {part}'",
    )


def _part(equipment: Equipment, part: str) -> Part:
    return next(one for one in equipment.circuit if one.id == part)


def _key(equipment: Equipment, part: str) -> Key:
    return ("circuit", next(index for index, one in enumerate(equipment.circuit) if one.id == part))
