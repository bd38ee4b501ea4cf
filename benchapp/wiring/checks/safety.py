"""What an equipment file leaves unsaid of what keeps mains from hands, and primaries not wound for their supply.

Common practice, no source, for the figures here; the limits of insulation themselves are the region's.
"""

from collections.abc import Iterator, Mapping

from benchapp.wiring.assembly.ratings import Winding, is_primary
from benchapp.wiring.assembly.selecting import selected, volts_of_position
from benchapp.wiring.assembly.unit import positions_of
from benchapp.wiring.model.circuit import Circuit, Problem, State, Supply
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.groups import conducts, conducts_unearthed, groups_of
from benchapp.wiring.network.live import solve_live

MAINS_FROM = 50.0  # V AC: from here on a supply is treated as mains; IEC 61140 extra-low voltage, from memory
WOUND_FOR = (0.85, 1.15)  # of its rating may lie across a primary: mains wanders by 10 %, plates round
FED = 0.01  # of its rating across a winding: less, and the supply does not reach it as the selector stands


def check_safety(equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
    """What a file on mains leaves unsaid about insulation, and primaries that the supply would burn or starve."""
    supply = circuit.supply
    if supply is None:
        return
    if supply.voltage >= MAINS_FROM:
        yield from _joined_outputs(equipment, circuit, supply)
        yield from _missing_barriers(circuit, supply)
    yield from _primaries(equipment, circuit, supply)


def _mains_groups(circuit: Circuit, supply: Supply) -> tuple[dict[str, int], set[int]]:
    """Which nodes conduct to each other, and the groups that conduct to the supply's terminals."""
    group = groups_of(circuit, conducts_unearthed)
    return group, {group[supply.live], group[supply.neutral]}


def _touchable(circuit: Circuit, supply: Supply) -> dict[str, list[str]]:
    """What a hand can reach beside the mains connectors: the used pins of every connector, and points of bare metal."""
    home = supply.live.partition(".")[0]
    outputs = {
        plug.name: [pin for pin in plug.terminals if pin not in plug.unused]
        for plug in circuit.output_connectors
        if plug.name != home and not {supply.live, supply.neutral} & set(plug.terminals)
    }
    pins = {pin for plug in circuit.connectors.values() for pin in plug.terminals}
    points = {terminal: [terminal] for terminal in circuit.terminals if terminal not in pins}
    return {name: found for name, found in (outputs | points).items() if found}


def _joined_outputs(equipment: Equipment, circuit: Circuit, supply: Supply) -> Iterator[Problem]:
    """Outputs that conduct to mains, as an autotransformer's do, without a word of what keeps mains from hands."""
    group, mains = _mains_groups(circuit, supply)
    fenced = any(mains & {group[node] for node in barrier.side_a | barrier.side_b} for barrier in circuit.barriers)
    if equipment.live_chassis or fenced:
        return
    for name, terminals in _touchable(circuit, supply).items():
        joined = [terminal for terminal in terminals if group[terminal] in mains]
        if joined:
            wound = next((b.part for b in circuit.branches if b.kind.couples and group[b.a] in mains), "")
            through = f" through the winding '{wound}', as in an autotransformer" if wound else ""
            yield Problem(
                key=("connectors", name) if name in circuit.connectors else ("points", name),
                what=f"{joined[0]} conducts to mains{through}, and no barrier keeps mains from hands",
                expected="a 'barrier' between mains and what can be touched, or 'live chassis: true'",
            )


def _missing_barriers(circuit: Circuit, supply: Supply) -> Iterator[Problem]:
    """Groups that a hand can reach, apart from mains, with no barrier of the file between the two."""
    group, mains = _mains_groups(circuit, supply)
    walls = [
        ({group[node] for node in barrier.side_a}, {group[node] for node in barrier.side_b})
        for barrier in circuit.barriers
    ]
    bonded = _bonded(circuit)
    for name, terminals in _touchable(circuit, supply).items():
        apart = {group[terminal] for terminal in terminals} - mains
        reached = {number for one in apart for number in bonded.get(one, {one})}
        kept = any((mains & a and reached & b) or (mains & b and reached & a) for a, b in walls)
        if apart and not kept:
            yield Problem(
                key=("circuit",),
                what=f"no barrier keeps mains from {circuit.say(terminals[0])}",
                expected=f"'barrier: mains-to-{name}' between [{supply.live.partition('.')[0]}, {name}]",
            )


def _bonded(circuit: Circuit) -> dict[int, set[int]]:
    """Groups that a protective conductor makes one: a barrier to any of them keeps mains from all."""
    group, with_earth = groups_of(circuit, conducts_unearthed), groups_of(circuit, conducts)
    together: dict[int, set[int]] = {}
    for node, number in group.items():
        together.setdefault(with_earth[node], set()).add(number)
    return {number: together[with_earth[node]] for node, number in group.items()}


def _primaries(equipment: Equipment, circuit: Circuit, supply: Supply) -> Iterator[Problem]:
    """Windings for the supply that get another voltage as the selector stands: too much burns them."""
    rated = {p.id: (i, p) for i, p in enumerate(equipment.circuit) if isinstance(p, Winding) and is_primary(p)}
    if not rated:
        return
    told: set[str] = set()
    for state, volts, where in _settings(circuit, supply):
        yield from _primaries_at(circuit, supply, state, volts, where, rated, told)


def _settings(circuit: Circuit, supply: Supply) -> Iterator[tuple[State, float, str]]:
    """How the selector usually stands, on the plate's supply; then every position named after a voltage, on that."""
    yield State(), supply.voltage, f"at {supply.voltage:g} V supply"
    for position in positions_of(circuit):
        volts = volts_of_position(position)
        if volts is not None and position != selected(circuit, State()):
            yield State(selector=position), volts, f"with the selector at {position}, on {volts:g} V,"


def _primaries_at(
    circuit: Circuit,
    supply: Supply,
    state: State,
    supplied: float,
    where: str,
    rated: Mapping[str, tuple[int, Winding]],
    told: set[str],
) -> Iterator[Problem]:
    wound = [b for b in circuit.branches if b.kind.couples and b.core is not None]
    solved = solve_live(circuit, supply, supplied, state=state)
    leading: dict[str | None, tuple[str, float]] = {}  # of each core the first winding on the supply, and its polarity
    for branch in wound:
        if branch.part not in rated or branch.part in told or branch.emf is None or not branch.emf.nominal:
            continue
        volts = solved.between(branch.a, branch.b) or 0.0
        share, (index, part) = abs(volts) / branch.emf.nominal, rated[branch.part]
        if share < FED:
            continue
        first, polarity = leading.setdefault(branch.core, (branch.part, volts.real))
        if not WOUND_FOR[0] <= share <= WOUND_FOR[1]:
            told.add(branch.part)
            yield Problem(
                key=("circuit", index, "rated" if part.rated is not None else branch.kind.name),
                what=f"the winding '{part.id}' is for {branch.emf.nominal:g} V, and {where} "
                f"{abs(volts):.3g} V lie across it",
                expected="a rating, a tap or a selector position for the supply",
            )
        elif polarity * volts.real < 0:
            told.add(branch.part)
            yield Problem(
                key=("circuit", index, "between"),
                what=f"the winding '{part.id}' works against '{first}' on the same core, and shorts the supply",
                expected="its first end where the other's is, or in series after the other's last",
            )
