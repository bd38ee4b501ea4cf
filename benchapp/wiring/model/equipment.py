"""What does a trainer write about one design of equipment? Rating, construction, connectors and circuit.

The circuit is a list of parts; the key that names a part also says its kind (`winding: primary`). Parts lie between
two nodes: a pin ("outlet.3"), a touchable point ("case") or any name of the author's own ("low.a").
"""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, Tag, field_validator

from benchapp.files.kinds import kind_key
from benchapp.files.locations import Mistake
from benchapp.files.models import FileModel
from benchapp.wiring.model.circuit import PartKind
from benchapp.wiring.model.written import (
    Area,
    Current,
    Frequency,
    Length,
    NotEmpty,
    Power,
    RatedText,
    Ratio,
    Resistance,
    TolerancedCapacitance,
    TolerancedCurrent,
    TolerancedResistance,
    TolerancedVoltage,
    Voltage,
)

Between = tuple[str, str]


class _Part(FileModel):
    between: Between
    """its two nodes: pins (outlet.3), touchable points (case), or names of your own (low.a)"""
    say: str = ""
    """what a technician calls it: the joint at pin 4"""

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
    """the part's own id"""
    resistance: TolerancedResistance | None = None
    """where it is more than a joint's: 0.2 ohm ± 20 %"""
    cord_core: bool = False
    """a core of the cord, with its resistance"""


class ResistorPart(_Part):
    """A resistor."""

    resistor: str
    """the part's own id"""
    resistance: TolerancedResistance
    """its value with its tolerance: 4.7 kohm ± 10 %"""


class Tap(FileModel):
    """A tap of a winding: its node, and the rated voltage from the winding's first end to it."""

    at: str
    """the node of the tap"""
    rated: RatedText
    """the voltage from the winding's first end: 220 V supply"""


class WindingPart(_Part):
    """A winding; its first end is the one with the dot. Without `rated` it takes the supply's voltage."""

    winding: str
    """the part's own id"""
    rated: RatedText | None = None
    """as the plate states it: 9 V at 0.6 A on load, 24 V off load, 240 V supply"""
    regulation: Ratio | None = None
    """how far its voltage falls from no load to full load: 14 %"""
    resistance: TolerancedResistance | None = None
    """of its copper at room temperature: 1.2 ohm ± 15 %"""
    tolerance: Ratio | None = None
    """of its turns, where the maker states one"""
    core: str = "transformer"
    """which windings share a core; one transformer needs no name"""
    taps: tuple[Tap, ...] = ()
    """taps between its ends"""


class FusePart(_Part):
    """A fuse link, its rating and where it sits."""

    fuse: str
    """the part's own id"""
    place: Literal["plug", "inside"] = "inside"
    """where it sits"""
    rating: Current | None = None
    """the rating printed on it: 3 A"""
    resistance: TolerancedResistance | None = None
    """of the link, where it is known"""

    @field_validator("rating", mode="before")
    @classmethod
    def _no_temperature(cls, written: object) -> object:
        if str(written).strip().endswith(("°C", "°F")):
            what = f"{written} is the temperature of a thermal fuse, and a rating is a current"
            raise Mistake(
                what, expected=f"no 'rating', or its current; the temperature in 'say: the thermal fuse, {written}'"
            )
        return written


class SwitchPart(FileModel):
    """A switch or voltage selector: the pairs of nodes that each position joins."""

    switch: str
    """the part's own id"""
    positions: Mapping[str, tuple[Between, ...]]
    """for each position the pairs of nodes that it joins: on: [[a, b]], off: []"""
    usual: str = ""
    """the position it is tested in: on, or the first, where none is named"""
    selector: bool = False
    """whether it is the voltage selector"""
    resistance: TolerancedResistance | None = None
    """of a closed contact, where it is known"""
    say: str = ""
    """what a technician calls it: the power switch"""

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
    """the part's own id"""


class CapacitorPart(_Part):
    """A capacitor."""

    capacitor: str
    """the part's own id"""
    capacitance: TolerancedCapacitance
    """its value, with its tolerance where it is known: 2200 µF, 100 nF ± 10 %"""


class EarthPart(_Part):
    """A protective conductor or bond: the path that carries a fault current to earth."""

    earth: str
    """the part's own id"""
    resistance: TolerancedResistance | None = None
    """where it is more than a joint's"""
    cord_core: bool = False
    """the earth core of the cord, with its resistance"""


class BarrierPart(_Part):
    """Insulation between two groups of nodes (a connector, a prefix such as `mains`, or one node)."""

    barrier: str
    """the part's own id"""
    at_least: Resistance | None = None
    """its insulation resistance: 2 Mohm"""


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
    """240 V"""
    frequency: Frequency = 50.0
    """50 Hz"""
    power: Power | None = None
    """as the plate states it, in W or VA"""
    no_load_current: TolerancedCurrent | None = None
    """drawn with nothing on the outputs, where it is known: 12 mA ± 30 %"""
    at: Between | None = None
    """the two terminals at which it comes in, where no mains connector says it: [input.1, input.2]"""


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
    circuit: Annotated[tuple[AnyPart, ...], NotEmpty]
    """the parts, each between its nodes"""
    outputs: tuple[StatedOutput, ...] = ()
    """voltages that somebody states: rectified, regulated, or from service data"""
    notes: str = ""
    """what else is worth knowing"""

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
