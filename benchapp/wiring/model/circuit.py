"""What a circuit is once its file has been read: branches between nodes, in plain SI floats.

A circuit is the whole of what the other modules of wiring need; no file, model or connector is looked at again.
A *terminal* is a node that a probe can touch ("outlet.3", "plug.L", "case"); every other node is inside the equipment.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from benchapp.errors import BenchError
from benchapp.files.locations import Key
from benchapp.judgement.statements.band import DerivationStep
from benchapp.wiring.model.kind_of_load import KindOfLoad
from benchapp.wiring.model.modes import Mode


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PartKind:
    """A kind of part: its name in a file, how it fails, and what the circuit has to know of it.

    Where a kind says nothing more it is a plain resistance.
    """

    name: str
    place: int = 100  # where it stands among the others wherever they are listed
    fault_modes: tuple[Mode, ...] = ()
    conducts: bool = True  # direct current, one way at least
    one_way: bool = False  # a diode, anode at `a`
    charges: bool = False  # a capacitor: a path for alternating current alone
    couples: bool = False  # a winding: transforms on an iron core
    carries_voltage_on: bool = False  # no voltage lies across it while it is closed
    protects: bool = False  # carries a fault's current to earth and no other
    removable: bool = False  # can be taken out for a test, as a fuse link can

    def __str__(self) -> str:
        return self.name


CONDUCTOR = PartKind(name="conductor")
"""what a fault leaves of a part, or puts between two nodes: a plain resistance that is no part of the design"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Toleranced:
    """A value with the limits that its tolerance allows, SI units, and the words that stated it."""

    nominal: float
    low: float
    high: float
    stated: str


@dataclass(frozen=True, slots=True)
class Extreme:
    """One end of a tolerance of a winding: factors on its voltage off load and on its resistance under load."""

    emf: float = 1.0
    ohms: float = 1.0


ToleranceRange = tuple[Extreme, ...]
"""the ends of one tolerance, which moves by itself: the turns, or how far the winding sags"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """One two-terminal piece of a part: a winding with taps has several, a switch one for every contact."""

    part: str
    kind: PartKind
    a: str
    b: str
    resistance: Toleranced | None = None  # ohm at 20 °C; None: no path for direct current
    copper: bool = False  # follows the temperature of copper
    cord_core: bool = False  # a core of the mains cord, whose resistance follows from the cord's length and area
    switch: str | None = None  # closed only while this switch stands in one of `closed_in`
    closed_in: frozenset[str] = frozenset()
    core: str | None = None  # the iron core of a winding
    emf: Toleranced | None = None  # V off load at the rated supply, positive at `a` while the supply's L is positive
    farads: float | None = None
    working: Toleranced | None = None  # ohm under load, where the stated regulation gives more than the copper alone
    tolerance_ranges: tuple[
        ToleranceRange, ...
    ] = ()  # an output winding's turns and regulation; a capacitor's tolerance
    reasons: tuple[DerivationStep, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Barrier:
    """Two groups of nodes that must stay apart, and the insulation resistance (ohm) that proves it."""

    part: str
    side_a: frozenset[str]
    side_b: frozenset[str]
    at_least: float
    stated: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Switch:
    """A switch or voltage selector: its positions in the order of the file and the one it is tested in."""

    part: str
    positions: tuple[str, ...]
    usual: str
    selector: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Output:
    """An output whose author states what to expect, because the linear model cannot know it."""

    id: str
    a: str
    b: str
    volts: Toleranced
    source: str
    alternating: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    """A connector as the circuit uses it: its pins as terminals, in the order of the connector's file."""

    name: str
    title: str
    terminals: tuple[str, ...]
    unused: frozenset[str]
    mains: bool
    neighbours: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """The rated supply: V (of a range the highest), Hz, W or VA, and the terminals it comes in at."""

    voltage: float
    frequency: float
    power: float | None
    live: str
    neutral: str
    stated: str
    no_load_current: Toleranced | None = None
    kind_of_load: KindOfLoad | None = None
    lowest_voltage: float | None = None
    """the lowest voltage (V) of a range on the plate; None where it says one voltage"""

    @property
    def ends(self) -> tuple[float, float]:
        """The lowest and the highest voltage (V) that it is for."""
        return (self.voltage if self.lowest_voltage is None else self.lowest_voltage, self.voltage)

    def near(self, mains: float) -> float:
        """The voltage (V) that it is for and that is nearest to this mains."""
        return min(max(mains, self.ends[0]), self.ends[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class CordMade:
    """The mains cord or lead of the design: length (m), conductor area (m²), and whether it unplugs."""

    length: float
    area: float
    detachable: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """An equipment's wiring, checked: see the module docstring."""

    equipment: str
    title: str
    nodes: tuple[str, ...]
    terminals: tuple[str, ...]
    spoken: Mapping[str, str]
    branches: tuple[Branch, ...]
    barriers: tuple[Barrier, ...]
    switches: Mapping[str, Switch]
    connectors: Mapping[str, Plug]
    parts: Mapping[str, PartKind]
    part_names: Mapping[str, str]
    supply: Supply | None
    outputs: tuple[Output, ...]
    exposed: tuple[str, ...] = ()  # touchable points that a protective conductor must reach
    cord: CordMade | None = None
    plug_fuses: frozenset[str] = frozenset()  # ids of the fuses that sit in the mains plug
    feeds: Mapping[str, float] = field(default_factory=dict)  # ohm between the supply and each iron core
    plug_fuse: float | None = None  # A, the rating that the design has there
    missing: frozenset[str] = frozenset()  # ids of parts that must be there and that this unit does not have
    worked_out: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """what was asked of this circuit before (remembered.py); one that is made from it begins with nothing"""

    @property
    def has_diodes(self) -> bool:
        """Whether a part conducts one way only, so that it counts which probe is on which end."""
        return any(kind.one_way for kind in self.parts.values())

    @property
    def inlet(self) -> Plug | None:
        """The connector whose pin is the supply's live; None where nothing feeds it, or live is no pin."""
        return self.connectors.get(self.supply.live.partition(".")[0]) if self.supply is not None else None

    @property
    def output_connectors(self) -> tuple[Plug, ...]:
        """The connectors at which no mains comes in."""
        return tuple(plug for plug in self.connectors.values() if not plug.mains)

    def say(self, terminal: str) -> str:
        """The terminal in spoken words, "pin 3 of the outlet"; a node inside keeps its name."""
        return self.spoken.get(terminal, terminal)


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """How the circuit is set up: what is not mentioned is as usual (switches on, all fuses in, nothing joined).

    Two states that are set up alike are equal, and a state can be the key of a table.
    """

    switches: frozenset[tuple[str, str]] = frozenset()  # a switch and the position it stands in
    fuses_in: frozenset[str] | None = None
    joined: tuple[tuple[str, str], ...] = ()
    selector: str | None = None
    open_parts: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A resistor (ohm) laid across two terminals for an on-load reading."""

    a: str
    b: str
    ohms: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One complaint about a circuit: the key path into its file, what is wrong, what was expected."""

    key: Key
    what: str
    expected: str = ""
    nearest: str = ""


class WiringProblem(BenchError):
    """A circuit that contradicts itself, or a question that it cannot answer; all complaints at once."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("\n".join(_sentence(problem) for problem in problems))


def _sentence(problem: Problem) -> str:
    expected = f"; expected {problem.expected}" if problem.expected else ""
    nearest = f"; did you mean {problem.nearest}?" if problem.nearest else ""
    return f"{problem.what}{expected}{nearest}"


def unknown(what: str, name: str, known: tuple[str, ...]) -> WiringProblem:
    """The complaint about a terminal, connector or switch that does not exist."""
    return WiringProblem(Problem(key=(), what=f"there is no {what} '{name}'", expected="one of " + ", ".join(known)))
