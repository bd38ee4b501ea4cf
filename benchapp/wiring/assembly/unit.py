"""One unit's own circuit: the design's, with the cord, plug fuse and selector setting that this unit has.

A cord core that takes its resistance from the cord takes it from the unit's own cord, whatever the file says of the
design's; a lead that unplugs adds the contacts of its coupler; the fuse in the plug has the resistance of the rating
that is fitted; a voltage selector (or a choice of taps, written as one) stands where the unit's stands. A moulded plug
reads like a rewirable one. Every figure names its source in the branch, as the design's do. A missing earth core takes
nothing away from what is expected: a class I unit without one must fail, not fit. It is known as missing, so that a
reading through it says why it fails, and the pin that is left over is probed as one that is connected to nothing.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from benchapp.wiring.assembly.lead import with_inlet
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Branch, Circuit, Problem, Toleranced, WiringProblem
from benchapp.wiring.model.registry import kind_named

OWN = "this unit's "
"""how the words of a value begin that a unit has of its own"""
CORD_LENGTH, CORD_AREA, PLUG_FUSE = "cord length", "cord area", "plug fuse rating"
DETACHABLE, SELECTOR = "detachable lead", "selector setting"
CORD_CORES, FUSED = "cord cores", "plug fuse"
FACTS = (CORD_LENGTH, CORD_AREA, CORD_CORES, FUSED, PLUG_FUSE, DETACHABLE, SELECTOR)
"""the facts of a unit that change its circuit; in m, m², a number, yes or no, A, and the position's name"""
EARTHED_CORES = 3
"""live, neutral and earth"""
Fact = str | float | bool


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitSettings:
    """What a unit has of its own, in SI; None where it is as its design has it."""

    cord_length: float | None = None
    cord_area: float | None = None
    plug_fuse: float | None = None
    detachable: bool = False
    selector: str | None = None
    earth_core: bool = True
    """False where its cord has no earth core though the design's has one"""
    plug_fused: bool = True
    """False where its plug has no fuse though the design's has one; a region of unfused plugs says so by itself"""


AS_DESIGNED = UnitSettings()


def settings_of(facts: Mapping[str, Fact], circuit: Circuit) -> UnitSettings:
    """The settings that the facts of a unit give it, as far as they differ from the design's.

    A fact that cannot be used (a word where a length belongs, a position that no selector has) changes nothing.
    """
    cord = circuit.cord
    length, area = _number(facts.get(CORD_LENGTH)), _number(facts.get(CORD_AREA))
    fuse = _number(facts.get(PLUG_FUSE))
    position = selector_position(circuit, str(facts.get(SELECTOR, "")))
    return UnitSettings(
        cord_length=None if cord is not None and length == cord.length else length,
        cord_area=None if cord is not None and area == cord.area else area,
        plug_fuse=None if fuse == circuit.plug_fuse else fuse,
        detachable=facts.get(DETACHABLE) is True and not (cord is not None and cord.detachable),
        selector=None if position in _usual(circuit) else position,
        earth_core=not (_fewer(facts.get(CORD_CORES)) and bool(_earth_cores(circuit))),
    )


def circuit_of_unit(circuit: Circuit, settings: UnitSettings) -> Circuit:
    """The unit's own circuit; the design's itself where nothing differs.

    Raises WiringProblem for a selector position that the circuit does not have.
    """
    if settings == AS_DESIGNED:
        return circuit
    branches = tuple(_own(branch, circuit, settings) for branch in circuit.branches)
    circuit = replace(circuit, branches=branches)
    if not settings.plug_fused:
        circuit = _without_fuse(circuit)
    if settings.detachable:
        circuit = with_inlet(circuit)
    if not settings.earth_core:
        circuit = replace(circuit, missing=_earth_cores(circuit))
    if settings.selector is None:
        return circuit
    position = selector_position(circuit, settings.selector)
    if position is None:
        known = ", ".join(positions_of(circuit)) or "none: it has no voltage selector"
        what = f"{circuit.title} has no selector position '{settings.selector}'"
        raise WiringProblem(Problem(key=(), what=what, expected=f"one of {known}"))
    switches = {
        name: replace(switch, usual=position) if switch.selector and position in switch.positions else switch
        for name, switch in circuit.switches.items()
    }
    return replace(circuit, switches=switches)


def parts_set_by(circuit: Circuit, fact: str) -> frozenset[str]:
    """Ids of the parts that a fact of the unit speaks of: what rests on them is read anew when the fact changes."""
    if fact in (CORD_LENGTH, CORD_AREA, CORD_CORES, DETACHABLE):
        return frozenset(branch.part for branch in circuit.branches if branch.cord_core)
    if fact in (PLUG_FUSE, FUSED):
        return circuit.plug_fuses
    if fact == SELECTOR:
        return frozenset(name for name, switch in circuit.switches.items() if switch.selector)
    return frozenset()


def positions_of(circuit: Circuit) -> tuple[str, ...]:
    """The positions of the circuit's voltage selectors, in the order of the file."""
    return tuple(dict.fromkeys(p for switch in circuit.switches.values() if switch.selector for p in switch.positions))


def selector_position(circuit: Circuit, said: str) -> str | None:
    """The position that is meant: "220", "220V" and "220 V" are one; None where there is none of the kind."""
    wanted = _bare(said)
    return next((position for position in positions_of(circuit) if wanted and _bare(position) == wanted), None)


def _bare(position: str) -> str:
    return "".join(position.casefold().split()).removesuffix("v")


def _usual(circuit: Circuit) -> set[str | None]:
    """No position at all, and the one that every selector which has it stands in as designed."""
    selectors = [switch for switch in circuit.switches.values() if switch.selector]
    return {None} | {
        position
        for position in positions_of(circuit)
        if all(switch.usual == position for switch in selectors if position in switch.positions)
    }


def _own(branch: Branch, circuit: Circuit, settings: UnitSettings) -> Branch:
    if branch.cord_core:
        return replace(branch, resistance=_core(branch, circuit, settings))
    if branch.part in circuit.plug_fuses and settings.plug_fuse is not None:
        fuse = assumptions.fuse_resistance(settings.plug_fuse)
        return replace(branch, resistance=replace(fuse, stated=f"{OWN}fuse link of {settings.plug_fuse:g} A"))
    return branch


def _core(branch: Branch, circuit: Circuit, settings: UnitSettings) -> Toleranced | None:
    """The core's resistance from the unit's own length and area; what the unit does not say the design does."""
    found, cord = branch.resistance, circuit.cord
    length = settings.cord_length or (cord.length if cord is not None else None)
    area = settings.cord_area or (cord.area if cord is not None else None)
    if (settings.cord_length or settings.cord_area) and length and area:
        core = assumptions.cord_core(length, area)
        found = replace(core, stated=f"{OWN}core of {length:g} m × {area * 1e6:g} mm²")
    if settings.detachable and found is not None:
        high = found.high + assumptions.COUPLER
        found = replace(found, high=high, stated=f"{found.stated}, and the contacts of {OWN}coupler")
    return found


def _without_fuse(circuit: Circuit) -> Circuit:
    """A plain contact where the design's plug has its fuse."""
    contact = replace(assumptions.LINK, stated=f"{OWN}plug without a fuse")
    fuses, link = circuit.plug_fuses, kind_named("link")
    branches = (
        replace(branch, kind=link, resistance=contact) if branch.part in fuses else branch
        for branch in circuit.branches
    )
    return replace(
        circuit,
        branches=tuple(branches),
        parts={part: link if part in fuses else kind for part, kind in circuit.parts.items()},
        part_names={**circuit.part_names, **dict.fromkeys(fuses, "the contact in the plug, which has no fuse")},
        plug_fuses=frozenset(),
        plug_fuse=None,
    )


def _fewer(cores: Fact | None) -> bool:
    return isinstance(cores, int | float) and not isinstance(cores, bool) and cores < EARTHED_CORES


def _earth_cores(circuit: Circuit) -> frozenset[str]:
    return frozenset(b.part for b in circuit.branches if b.cord_core and b.kind.protects)


def _number(fact: Fact | None) -> float | None:
    return float(fact) if isinstance(fact, int | float) and not isinstance(fact, bool) and fact > 0 else None
