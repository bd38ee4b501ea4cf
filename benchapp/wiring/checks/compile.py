"""From an equipment file and its connectors to a checked circuit: terminals, branches, barriers.

Every contradiction that can be seen without a unit at hand is found here, all of them at once, each with its key path.
"""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from benchapp.wiring.assembly.coils import without_unknown_coils
from benchapp.wiring.assembly.feeding import feeding
from benchapp.wiring.assembly.ratings import Winding
from benchapp.wiring.checks.circuit import check_circuit, check_names
from benchapp.wiring.kinds.fuse import FusePart
from benchapp.wiring.model.circuit import Branch, Circuit, CordMade, Output, Plug, Problem, Supply, WiringProblem
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.model.remembered import Itself


def compile_circuit(equipment: Equipment, connectors: Mapping[str, Connector], *, accepted: bool = False) -> Circuit:
    """The circuit of an equipment; `connectors` holds connector models by id.

    An `accepted` one was held against itself when its run began: what a later program would say besides does not count.
    Raises WiringProblem with every complaint: unknown connectors or pins, floating parts, contradictory ratings.
    """
    missing = [name for name, kind in equipment.connectors.items() if kind not in connectors]
    if missing:
        raise WiringProblem(*(_no_connector(equipment, name, connectors) for name in missing))
    used = tuple((kind, Itself(connectors[kind])) for kind in sorted(set(equipment.connectors.values())))
    return _compiled(Itself(equipment), used, accepted)


@lru_cache(maxsize=64)
def _compiled(design: Itself[Equipment], used: tuple[tuple[str, Itself[Connector]], ...], accepted: bool) -> Circuit:
    """Kept by the models themselves: files that are read again unchanged are the same models, and so one circuit."""
    equipment, connectors = design.thing, {kind: connector.thing for kind, connector in used}
    plugs = {name: _plug(name, connectors[kind], equipment) for name, kind in equipment.connectors.items()}
    points = _points(equipment)
    terminals = (*(t for plug in plugs.values() for t in plug.terminals), *points)
    problems = check_names(equipment, terminals, tuple(plugs))
    if problems:
        raise WiringProblem(*problems)
    circuit = _assemble(equipment, connectors, plugs, terminals)
    problems = [] if accepted else check_circuit(equipment, circuit)
    if problems:
        raise WiringProblem(*problems)
    return circuit


def _assemble(
    equipment: Equipment, connectors: Mapping[str, Connector], plugs: Mapping[str, Plug], terminals: tuple[str, ...]
) -> Circuit:
    branches = _branches(equipment, {})
    nodes = dict.fromkeys((*terminals, *(node for branch in branches for node in (branch.a, branch.b))))
    circuit = Circuit(
        equipment=equipment.equipment,
        title=equipment.title,
        nodes=tuple(nodes),
        terminals=terminals,
        spoken=_spoken(equipment, connectors),
        branches=branches,
        barriers=tuple(wall for part in equipment.circuit if (wall := part.as_barrier(tuple(nodes)))),
        switches={part.id: switch for part in equipment.circuit if (switch := part.as_switch())},
        connectors=plugs,
        parts={part.id: part.kind for part in equipment.circuit},
        part_names={part.id: part.say or f"the {part.kind} {part.id}" for part in equipment.circuit},
        supply=_supply(equipment, plugs),
        outputs=tuple(
            Output(
                id=o.output,
                a=o.between[0],
                b=o.between[1],
                volts=o.volts,
                source=o.source,
                alternating=o.current == "AC",
            )
            for o in equipment.outputs
        ),
        exposed=_exposed(equipment),
        cord=_cord(equipment),
        plug_fuses=frozenset(fuse.id for fuse in _plug_fuses(equipment)),
        plug_fuse=next((fuse.rating for fuse in _plug_fuses(equipment)), None),
    )
    feeds = feeding(circuit, equipment)
    unrated = frozenset(p.id for p in equipment.circuit if isinstance(p, Winding) and p.rated is None)
    branches = without_unknown_coils(_branches(equipment, feeds), unrated, circuit.supply)
    return replace(circuit, branches=branches, feeds=feeds)


def _branches(equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
    return tuple(branch for part in equipment.circuit for branch in part.branches(equipment, feeds))


def _cord(equipment: Equipment) -> CordMade | None:
    cord = equipment.cord
    return CordMade(length=cord.length, area=cord.area, detachable=cord.detachable) if cord is not None else None


def _plug_fuses(equipment: Equipment) -> list[FusePart]:
    return [part for part in equipment.circuit if isinstance(part, FusePart) and part.place == "plug"]


def _no_connector(equipment: Equipment, name: str, connectors: Mapping[str, Connector]) -> Problem:
    return Problem(
        key=("connectors", name),
        what=f"there is no connector file for '{equipment.connectors[name]}'",
        expected="one of " + ", ".join(sorted(connectors)),
    )


def _plug(name: str, connector: Connector, equipment: Equipment) -> Plug:
    used = {*equipment.nodes(), *(node for output in equipment.outputs for node in output.between)}
    terminals = tuple(f"{name}.{pin.pin}" for pin in connector.pins)
    return Plug(
        name=name,
        title=connector.title,
        terminals=terminals,
        unused=frozenset(t for t in terminals if t not in used),
        mains=connector.mains,
        neighbours=_neighbours(name, connector),
    )


def _neighbours(name: str, connector: Connector) -> tuple[tuple[str, str], ...]:
    """Pairs of pins that solder or a stray strand could bridge: not much farther apart than the closest pair."""
    pins = connector.pins
    gaps = {
        (f"{name}.{one.pin}", f"{name}.{other.pin}"): ((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5
        for index, one in enumerate(pins)
        for other in pins[index + 1 :]
    }
    nearest: dict[str, float] = {}
    for pair, gap in gaps.items():
        nearest |= {pin: min(gap, nearest.get(pin, gap)) for pin in pair}
    return tuple(pair for pair, gap in gaps.items() if gap <= 1.2 * max(nearest[pair[0]], nearest[pair[1]]))


def _points(equipment: Equipment) -> tuple[str, ...]:
    """Touchable points that are no pins: those that the file names, and the plain ends of its earth parts."""
    return tuple(dict.fromkeys((*equipment.points, *(node for node in _bonded(equipment) if node == "case"))))


def _exposed(equipment: Equipment) -> tuple[str, ...]:
    """Points that a protective conductor bonds: what an earth probe must reach."""
    return tuple(point for point in _points(equipment) if point in _bonded(equipment))


def _bonded(equipment: Equipment) -> list[str]:
    """The ends of its earth parts."""
    return [node for part in equipment.circuit if part.kind.protects for _, node in part.nodes()]


def _spoken(equipment: Equipment, connectors: Mapping[str, Connector]) -> dict[str, str]:
    words = {point: equipment.points.get(point, point) for point in _points(equipment)}
    words = {point: text if text.startswith("the ") else f"the {text}" for point, text in words.items()}
    for name, kind in equipment.connectors.items():
        connector = connectors[kind]
        whole = connector.say if list(equipment.connectors.values()).count(kind) == 1 and connector.say else name
        for pin in connector.pins:
            words[f"{name}.{pin.pin}"] = f"{pin.say or f'pin {pin.pin}'} of the {whole}"
    return words


def _supply(equipment: Equipment, plugs: Mapping[str, Plug]) -> Supply | None:
    rating = equipment.supply
    mains = next((plug.name for plug in plugs.values() if plug.mains), None)
    if rating is None:
        return None
    at = rating.at or ((f"{mains}.L", f"{mains}.N") if mains else None)
    if at is None:
        expected = "the two terminals the supply comes in at, written 'at: [input.1, input.2]'"
        raise WiringProblem(
            Problem(key=("supply",), what="no connector of this equipment is a mains plug", expected=expected)
        )
    return Supply(
        voltage=rating.voltage,
        frequency=rating.frequency,
        power=rating.power,
        live=at[0],
        neutral=at[1],
        stated=f"{rating.volts.words}, {rating.frequency:g} Hz",
        no_load_current=rating.no_load_current,
        kind_of_load=equipment.kind_of_load,
        lowest_voltage=rating.volts.lowest if rating.volts.is_range else None,
    )
