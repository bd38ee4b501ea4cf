"""What does a trainer write about one design of equipment? Rating, construction, connectors and circuit.

The circuit is a list of parts; the key that names a part also says its kind (`winding: primary`). Parts lie between
two nodes: a pin ("outlet.3"), a touchable point ("case") or any name of the author's own ("low.a").
"""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, Tag

from benchapp.files import FileModel, kind_key
from benchapp.wiring.circuit import PartKind
from benchapp.wiring.written import (
    Area,
    Capacitance,
    Current,
    CurrentSpread,
    Frequency,
    Length,
    NotEmpty,
    Power,
    RatedText,
    Ratio,
    Resistance,
    ResistanceSpread,
    Voltage,
    VoltageSpread,
)

Between = tuple[str, str]


class _Part(FileModel):
    between: Between
    say: str = ""  # what a technician calls it: "the joint at pin 4"

    @property
    def id(self) -> str:
        """The part's own name, written behind its kind."""
        return str(getattr(self, self.kind.value))

    @property
    def kind(self) -> PartKind:
        """The kind of part, from the key that names it."""
        return next(kind for kind in PartKind if kind.value in type(self).model_fields)


class LinkPart(_Part):
    """A wire, joint or track; `cord core` takes its resistance from the cord's length and area."""

    link: str
    resistance: ResistanceSpread | None = None
    cord_core: bool = False


class ResistorPart(_Part):
    """A resistor."""

    resistor: str
    resistance: ResistanceSpread


class Tap(FileModel):
    """A tap of a winding: its node, and the rated voltage from the winding's first end to it."""

    at: str
    rated: RatedText


class WindingPart(_Part):
    """A winding; its first end is the one with the dot. Without `rated` it takes the supply's voltage."""

    winding: str
    rated: RatedText | None = None
    regulation: Ratio | None = None
    resistance: ResistanceSpread | None = None
    tolerance: Ratio | None = None
    core: str = "transformer"
    taps: tuple[Tap, ...] = ()


class FusePart(_Part):
    """A fuse link, its rating and where it sits."""

    fuse: str
    place: Literal["plug", "inside"] = "inside"
    rating: Current | None = None
    resistance: ResistanceSpread | None = None


class SwitchPart(FileModel):
    """A switch or voltage selector: the pairs of nodes that each position joins."""

    switch: str
    positions: Mapping[str, tuple[Between, ...]]
    usual: str = ""
    selector: bool = False
    resistance: ResistanceSpread | None = None
    say: str = ""

    @property
    def id(self) -> str:
        """The switch's own name."""
        return self.switch

    @property
    def kind(self) -> PartKind:
        """Always a switch."""
        return PartKind.switch


class DiodePart(_Part):
    """A diode, anode first."""

    diode: str


class CapacitorPart(_Part):
    """A capacitor."""

    capacitor: str
    capacitance: Capacitance


class EarthPart(_Part):
    """A protective conductor or bond: the path that carries a fault current to earth."""

    earth: str
    resistance: ResistanceSpread | None = None
    cord_core: bool = False


class BarrierPart(_Part):
    """Insulation between two groups of nodes (a connector, a prefix such as `mains`, or one node)."""

    barrier: str
    at_least: Resistance | None = None


def _kind_of(written: Any) -> str | None:  # noqa: ANN401  whatever the file holds
    keys = written if isinstance(written, Mapping) else getattr(type(written), "model_fields", ())
    found = [kind for kind in PartKind if kind.value in keys]
    return f"{found[0].value.capitalize()}Part" if len(found) == 1 else None


AnyPart = Annotated[
    Annotated[LinkPart, Tag("LinkPart")]
    | Annotated[ResistorPart, Tag("ResistorPart")]
    | Annotated[WindingPart, Tag("WindingPart")]
    | Annotated[FusePart, Tag("FusePart")]
    | Annotated[SwitchPart, Tag("SwitchPart")]
    | Annotated[DiodePart, Tag("DiodePart")]
    | Annotated[CapacitorPart, Tag("CapacitorPart")]
    | Annotated[EarthPart, Tag("EarthPart")]
    | Annotated[BarrierPart, Tag("BarrierPart")],
    kind_key(_kind_of, PartKind, of="part"),
]


class SupplyRating(FileModel):
    """The supply as the rating plate states it; `at` names its two terminals when no mains connector does."""

    voltage: Voltage
    frequency: Frequency = 50.0
    power: Power | None = None
    no_load_current: CurrentSpread | None = None
    at: Between | None = None


class Cord(FileModel):
    """The mains cord or lead: conductor area (m²), length (m), number of cores, and whether it unplugs."""

    length: Length
    area: Area
    cores: int = Field(ge=2, le=5)
    detachable: bool = False


class StatedOutput(FileModel):
    """An output whose voltage the author states with its source (rectified, regulated, or from service data)."""

    output: str
    between: Between
    volts: VoltageSpread
    current: Literal["AC", "DC"] = "DC"
    """what the meter is set to: most stated outputs are rectified"""
    source: str = Field(min_length=3)


class Equipment(FileModel):
    """One design: what all its units share until a unit says otherwise."""

    equipment: str
    title: str
    equipment_class: Literal["0", "I", "II", "III", "none", "unknown"] = Field(alias="class")
    supply: SupplyRating | None = None
    cord: Cord | None = None
    plug: Literal["rewirable", "moulded", "none"] = "none"
    live_chassis: bool = False
    bare_metal: bool = False
    surge_suppressor: bool = False
    connectors: Annotated[Mapping[str, str], NotEmpty]
    points: Mapping[str, str] = Field(default_factory=dict)
    circuit: Annotated[tuple[AnyPart, ...], NotEmpty]
    outputs: tuple[StatedOutput, ...] = ()
    notes: str = ""

    def facts(self) -> dict[str, str | float | bool]:
        """What is known of every unit of this design, by the words that a sequence's `when` uses; SI floats."""
        known: dict[str, str | float | bool] = {
            "class": self.equipment_class,
            "plug": self.plug,
            "live chassis": self.live_chassis,
            "bare metal": self.bare_metal,
            "surge suppressor": self.surge_suppressor,
            "mains fed": self.supply is not None,
            "voltage selector": any(isinstance(p, SwitchPart) and p.selector for p in self.circuit),
            "internal fuse": any(isinstance(p, FusePart) and p.place == "inside" for p in self.circuit),
            "detachable lead": bool(self.cord and self.cord.detachable),
        }
        if self.cord is not None:
            cord = {"cord length": self.cord.length, "cord area": self.cord.area, "cord cores": self.cord.cores}
            known.update(cord)
        if self.supply is not None and self.supply.power is not None:
            known["power"] = self.supply.power
        return known
