"""What a trainer writes about one design of equipment: rating, construction, connectors and circuit.

The circuit is a list of parts; the key that names a part also says its kind (`winding: primary`). Parts lie between
two nodes: a pin ("outlet.3"), a touchable point ("case") or any name of the author's own ("low.a"). The kinds
themselves are in the room `kinds`; here is what each of them must say.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Annotated, Any, ClassVar, Literal

from pydantic import ConfigDict, Field, SerializerFunctionWrapHandler, model_serializer

from benchapp.files.locations import Key
from benchapp.files.models import FileModel
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Barrier, Branch, Circuit, PartKind, Problem, Switch, Toleranced
from benchapp.wiring.model.kind_of_load import KindOfLoad, usual_kind_of_load
from benchapp.wiring.model.registry import ROOM, KindProblem, OfAnyKind
from benchapp.wiring.model.written import (
    Area,
    Frequency,
    Length,
    NotEmpty,
    Power,
    SupplyVoltsText,
    TolerancedCurrent,
    TolerancedVoltage,
    YearsText,
)
from benchapp.words import say

Between = tuple[str, str]


class Part(FileModel):
    """Base of every kind of part: what a kind must say, and what it may say besides.

    A kind has a `kind` with its fault modes, a field of the kind's name, its `branches` and its `complaints`. One that
    lacks any of these is refused when its class is made: KindProblem.
    """

    kind: ClassVar[PartKind]
    say: str = ""
    """what a technician calls it: the joint at pin 4"""

    @classmethod
    def __pydantic_init_subclass__(cls, **more: Any) -> None:  # noqa: ANN401  pydantic's own
        """Refuse a kind that is not whole; a class outside the room of kinds is no kind, but a base of some."""
        super().__pydantic_init_subclass__(**more)
        if cls.__module__.startswith(ROOM) and (missing := list(_missing(cls))):
            file = cls.__module__.rpartition(".")[2]
            raise KindProblem(
                say(
                    "The part kind {name} in {file}.py cannot be used: it lacks {listed}.",
                    name=cls.__name__,
                    file=file,
                    listed=", ".join(missing),
                )
            )

    @property
    def id(self) -> str:
        """The part's own name, written behind its kind."""
        return str(getattr(self, self.kind.name))

    def branches(self, equipment: "Equipment", feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """The two-terminal branches that stand for the part; `feeds` holds for each iron core the ohms before it."""
        raise NotImplementedError

    def complaints(self, key: Key, equipment: "Equipment", circuit: Circuit) -> Iterable[Problem]:
        """What in its file contradicts itself; `key` is where the part is written."""
        raise NotImplementedError

    def nodes(self) -> Iterator[tuple[Key, str]]:
        """Every node that it touches, with the key inside the part that it is written at."""
        return iter(())

    def misnamed(self, key: Key, nodes: tuple[str, ...]) -> Iterator[Problem]:
        """What its names alone show to be wrong, before there is a circuit; `nodes` are all of the file's."""
        return iter(())

    def as_switch(self) -> Switch | None:
        """The switch that it is, for a kind that has positions."""
        return None

    def as_barrier(self, nodes: tuple[str, ...]) -> Barrier | None:
        """The barrier that it is, for a kind that keeps groups of nodes apart."""
        return None

    def facts(self) -> dict[str, bool]:
        """What it tells of every unit, by the words that a sequence's `when` uses."""
        return {}


def _missing(kind: type[Part]) -> Iterator[str]:
    """What a kind does not say, in words."""
    said = getattr(kind, "kind", None)
    if said is None:
        yield "its `kind` with the name"
    elif said.name not in kind.model_fields:
        yield f"the field `{said.name}` for the part's own id"
    if said is None or not said.fault_modes:
        yield "its faults (`fault_modes` of its `kind`)"
    if kind.branches is Part.branches:
        yield "its `branches`"
    if kind.complaints is Part.complaints:
        yield "its checks (`complaints`, which may be none)"


class TwoEnded(Part):
    """A part between two nodes."""

    between: Between
    """its two nodes: pins (outlet.3), touchable points (case), or names of your own (low.a)"""

    def nodes(self) -> Iterator[tuple[Key, str]]:
        """Its two ends."""
        return ((("between", end), node) for end, node in enumerate(self.between))

    def misnamed(self, key: Key, nodes: tuple[str, ...]) -> Iterator[Problem]:
        """Both ends at one node."""
        if self.between[0] == self.between[1]:
            yield Problem(key=(*key, "between"), what=f"both ends of '{self.id}' are the same node")

    def branch(self, resistance: Toleranced | None = None, *, cord_core: bool = False) -> Branch:
        """One branch from end to end; a core of the cord is of copper."""
        a, b = self.between
        return Branch(
            part=self.id, kind=self.kind, a=a, b=b, resistance=resistance, copper=cord_core, cord_core=cord_core
        )


def no_ohms(part: Part, resistance: Toleranced | None, key: Key) -> Iterator[Problem]:
    """A part with a resistance that is none: a short in a dead test."""
    if resistance is not None and not resistance.nominal:
        what = f"the {part.kind} '{part.id}' has no resistance at all: 0 ohm"
        expected = "what a sound one reads, or a 'link' for a wire"
        yield Problem(key=(*key, "resistance"), what=what, expected=expected)


class SupplyRating(FileModel):
    """The supply as the rating plate states it; `at` names its two terminals when no mains connector does."""

    volts: SupplyVoltsText = Field(alias="voltage")
    """240 V, or a range: 100 V to 240 V"""
    frequency: Frequency = 50.0
    """50 Hz"""
    power: Power | None = None
    """as the plate states it, in W or VA"""
    no_load_current: TolerancedCurrent | None = None
    """drawn with nothing on the outputs, where it is known: 12 mA ± 30 %"""
    kind_of_load: KindOfLoad | None = None
    """what draws the current: transformer, transformer with circuits behind it, induction motor, heater or universal
    motor; left out: as its parts show"""
    at: Between | None = None
    """the two terminals at which it comes in, where no mains connector says it: [input.1, input.2]"""

    @model_serializer(mode="wrap")
    def _as_written(self, dump: SerializerFunctionWrapHandler) -> dict[str, Any]:
        """Under the key of the file: a single voltage as its number, a range in words."""
        said: dict[str, Any] = dump(self)
        said.pop("volts", None)
        return {"voltage": self.volts.words if self.volts.is_range else self.voltage, **said}

    @property
    def voltage(self) -> float:
        """The highest voltage (V) that it is for: what its insulation and its iron bear."""
        return self.volts.highest

    @property
    def current(self) -> float | None:
        """The rated current (A), at the lowest voltage that it is for, where it is highest; None without a power."""
        return None if self.power is None else self.power / self.volts.lowest


class Cord(FileModel):
    """The mains cord or lead: conductor area (m²), length (m), number of cores, and whether it unplugs."""

    length: Length
    """1.8 m"""
    area: Area
    """of one conductor: 0.75 mm²"""
    cores: int = Field(ge=2, le=5)
    """2 or 3, the earth core included"""
    detachable: bool = False
    """whether it unplugs from the item"""


class StatedOutput(FileModel):
    """An output whose voltage the author states with its source (rectified, regulated, or from service data)."""

    output: str
    """the output's own id"""
    between: Between
    """its two pins, the positive one first"""
    volts: TolerancedVoltage
    """what to expect: 12 V ± 5 %, between 0 V and 20 mV"""
    current: Literal["AC", "DC"] = "DC"
    """what the meter is set to: most stated outputs are rectified"""
    source: str = Field(min_length=3)
    """where that is stated: rating plate, service data, a known-good unit"""


class Equipment(FileModel):
    """One design: what all its units share until a unit says otherwise."""

    model_config = ConfigDict(defer_build=True)  # the kinds of part know this model: they are looked for at first use

    equipment: str
    """the design's own id: small letters, digits and dashes"""
    title: str
    """what it is, in words"""
    equipment_class: Literal["0", "I", "II", "III", "none", "unknown"] = Field(alias="class")
    """protection class of IEC 61140; none for an item without mains"""
    supply: SupplyRating | None = None
    """the mains as the plate states it; left out for an item without mains"""
    cord: Cord | None = None
    """the mains cord or lead"""
    plug: Literal["rewirable", "moulded", "none"] = "none"
    """the mains plug"""
    live_chassis: bool = False
    """whether metal inside hangs together with live or neutral"""
    bare_metal: bool = False
    """whether metal can be touched outside"""
    surge_suppressor: bool = False
    """whether a suppressor would be damaged by 500 V: insulation is then tested at 250 V"""
    connectors: Annotated[Mapping[str, str], NotEmpty]
    """each connector's name here, and the connector file that it is of"""
    points: Mapping[str, str] = Field(default_factory=dict)
    """places that can be touched, with what to call them: case: bare metal of the case"""
    circuit: Annotated[tuple[Annotated[Part, OfAnyKind()], ...], NotEmpty]
    """the parts, each between its nodes"""
    outputs: tuple[StatedOutput, ...] = ()
    """voltages that somebody states: rectified, regulated, or from service data"""
    made: YearsText | None = None
    """the years in which it was made: 1962, or 1962 to 1975; left out where nobody knows"""
    hazards: tuple[str, ...] = ()
    """hazards of old equipment that the design is known for: they are looked for whatever its age"""
    design_known: bool = True
    """whether anybody knows what is inside: where nobody does, it never comes to mains and is never for sale"""
    notes: str = ""
    """what else is worth knowing"""
    example: bool = False
    """whether it is made up: as shipped it is offered in a demo's workbook alone"""

    def nodes(self) -> set[str]:
        """Every node that a part of it touches."""
        return {node for part in self.circuit for _, node in part.nodes()}

    @property
    def kind_of_load(self) -> KindOfLoad | None:
        """As the file says; else what its parts show. None where nothing tells it, and without mains."""
        if self.supply is None:
            return None
        return self.supply.kind_of_load or usual_kind_of_load({part.kind.name for part in self.circuit})

    def core_of_cord(self) -> Toleranced | None:
        """Resistance (ohm) of one core of its cord; None where it has none."""
        return assumptions.cord_core(self.cord.length, self.cord.area) if self.cord is not None else None

    def facts(self) -> dict[str, str | float | bool]:
        """What is known of every unit of this design, by the words that a sequence's `when` uses; SI floats."""
        known: dict[str, str | float | bool] = {
            "class": self.equipment_class,
            "plug": self.plug,
            "live chassis": self.live_chassis,
            "bare metal": self.bare_metal,
            "surge suppressor": self.surge_suppressor,
            "mains fed": self.supply is not None,
            "design known": self.design_known,
            "voltage selector": False,
            "internal fuse": False,
            "holds charge": not self.design_known or any(part.kind.name == "capacitor" for part in self.circuit),
            "detachable lead": bool(self.cord and self.cord.detachable),
        }
        for part in self.circuit:
            known.update(part.facts())
        if self.cord is not None:
            cord = {"cord length": self.cord.length, "cord area": self.cord.area, "cord cores": self.cord.cores}
            known.update(cord)
        if self.supply is not None and self.supply.power is not None:
            known["power"] = self.supply.power
        if self.kind_of_load is not None:
            known["kind of load"] = self.kind_of_load.value
        if self.kind_of_load is KindOfLoad.heater:
            known["heating"] = True
        return known
