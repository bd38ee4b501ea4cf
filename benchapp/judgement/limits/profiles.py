"""What the limits file of a region holds: every figure with its unit, its source and how sure we are of it.

The text of a figure that is not confirmed says so wherever it is shown. Nothing here replaces the published document.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import BaseModel, Field

from benchapp.files.forms import TextForm
from benchapp.files.models import FileModel
from benchapp.judgement.limits.figures import Figure, Sourced, Statement, Table


class Mains(FileModel):
    """The supply voltage at the terminals and its tolerance."""

    title: str
    """Where and when it holds."""
    nominal: Figure
    """Nominal voltage."""
    below: Figure
    """Tolerance below, in percent of nominal."""
    above: Figure
    """Tolerance above, in percent of nominal."""
    frequency: Figure
    """Nominal frequency."""
    past: bool = False
    """Whether it is supplied no more: then it tells what an old plate was made for."""


class LongerCords(FileModel):
    """A limit that grows in whole steps with the length of the cord."""

    up_to: Figure
    """Length that the base holds for."""
    each_further: Figure
    """Length of one step, counted when it has begun."""
    adds: Figure
    """What a step adds."""
    at_most: Figure
    """Where the steps end."""
    largest_area: Figure
    """Thicker conductors are calculated instead."""
    smallest: Figure
    """Smallest limit of a thicker conductor."""


class EarthContinuity(FileModel):
    """The largest resistance of the protective conductor from plug to case."""

    base: Figure
    """Limit before the cord is counted, or with it."""
    conductor: Literal["added", "in the base"]
    """Whether the cord's own conductor is added to the base."""
    longer_cords: LongerCords | None = None
    """Steps for longer cords."""
    test_current: Statement | str = ""
    """Which test current is asked for, in words; without a source in files of the first edition."""


class Heating(FileModel):
    """Equipment with heating elements."""

    minimum: Figure
    """Smallest insulation resistance."""
    from_power: Figure | None = None
    """Rated power from which it holds; without one it holds for all."""


class Insulation(FileModel):
    """The smallest insulation resistance by class (IEC 61140)."""

    test_voltage: Figure
    """DC test voltage."""
    test_voltage_with_suppressor: Figure | None = None
    """DC test voltage where a surge suppressor is fitted."""
    minimum: dict[Literal["I", "II", "III"], Figure]
    """By equipment class."""
    heating: Heating | None = None
    """Class I with heating elements."""


class HeatingCurrent(FileModel):
    """A limit that grows with the rated power of class I equipment with heating elements."""

    each_kilowatt: Figure
    """For each kilowatt of rated power."""
    at_most: Figure
    """Where it ends."""
    at_least: Figure | None = None
    """Where it begins; it holds too where the power is not known."""
    above_power: Figure | None = None
    """Rated power above which it holds; without one it holds for all."""


class Currents(FileModel):
    """The largest protective conductor or touch current by class."""

    by_class: dict[Literal["I", "II", "III"], Figure]
    """By equipment class."""
    hand_held: Figure | None = None
    """Class I equipment held in the hand."""
    heating: HeatingCurrent | None = None
    """Class I equipment with heating elements."""


class Fuses(FileModel):
    """The fuse links of this region's plugs."""

    ratings: tuple[Figure, ...] = Field(min_length=1)
    """Preferred ratings, smallest first."""
    cut_over_power: Figure
    """Up to this rated power the smaller rating is fitted."""
    inrush: Figure
    """What a load with a high starting current may need instead of the smaller rating."""
    largest_for_cord: Table
    """Largest fuse by area of the cord."""
    largest_for_inrush: Table
    """The same for a load with a high starting current."""


class CordRatings(FileModel):
    """What current a flexible cord may carry."""

    by_area: Table
    """By area of the cord."""
    short_moulded: Figure | None = None
    """A short cord of 0.75 mm² on a moulded plug."""
    short_length: Figure | None = None
    """How long a short cord may be."""
    short_area: Figure | None = None
    """The area that the exception holds for."""


class CoreColour(Sourced):
    """Colours of one core of a flexible cord."""

    core: Literal["live", "neutral", "earth"]
    """Which core."""
    new: str
    """The colour now."""
    old: str = ""
    """The colour before."""

    @property
    def words(self) -> str:
        """The colour now, and before where that was another."""
        return f"{self.new} (before: {self.old})" if self.old else self.new


class RegionPlug(Sourced):
    """The mains plugs of a region, in words for the one who looks at them and wires them."""

    say: str
    """what they are called"""
    connectors: tuple[str, ...] = Field(min_length=1)
    """ids of their connector files, the one with an earth first"""
    pins: str
    """what is so of sound pins"""
    marks: str
    """what can be read on a sound one"""
    live: str
    """where the live core goes"""
    neutral: str
    """where the neutral core goes"""
    earth: str
    """where the earth core goes"""


class Conductors(FileModel):
    """Copper: largest resistance by area at 20 °C, and how it follows temperature."""

    plain: Table
    """Flexible, plain copper, in ohm/km."""
    tinned: Table | None = None
    """Flexible, tinned copper, in ohm/km."""
    temperature_coefficient: Figure
    """Per kelvin, at 20 °C."""


class LimitProfile(FileModel):
    """The limits of one region."""

    limits: Annotated[str, TextForm(pattern=r"^[a-z]+(-[a-z]+)*$", words="small letters, as in gb or au")]
    """Id of the region."""
    title: str
    """The region in words."""
    caution: str
    """What screen and paper say beside these limits."""
    capability: Figure
    """Largest expanded uncertainty of a meter, as a share of a safety limit that it judges; the note says why."""
    mains: Mains
    """The supply now."""
    other_mains: tuple[Mains, ...] = ()
    """Supplies of the past or of a part of the region."""
    voltage_low: Figure
    """What counts as low before hands or ohms: the way back."""
    plug_pins: Figure | None = None
    """Largest voltage between plug pins one second after unplugging."""
    earth_continuity: EarthContinuity | None = None
    """Protective conductor."""
    insulation: Insulation | None = None
    """Insulation resistance."""
    protective_conductor_current: Currents | None = None
    """By class."""
    touch_current: Currents | None = None
    """By class."""
    conductors: Conductors | None = None
    """Copper conductors of flexible cords."""
    cords: CordRatings | None = None
    """Current ratings of flexible cords."""
    fuses: Fuses | None = None
    """Fuses in the plug; a region without them leaves this out."""
    plug: RegionPlug | None = None
    """Plugs of the region; a region without them is not offered to a workshop."""
    core_colours: tuple[CoreColour, ...] = ()
    """Core colours of flexible cords."""
    plug_rules: tuple[Statement, ...] = ()
    """What must be known to look at a plug of this region, in words."""

    def supplies(self) -> tuple[Mains, ...]:
        """The mains that a workshop of the region may have, the usual one first."""
        return (self.mains, *(one for one in self.other_mains if not one.past))

    def supplied_by(self, title: str) -> LimitProfile:
        """The same limits on the mains of that title; on the usual mains where the title is none of the region's."""
        mains = next((one for one in self.supplies() if one.title == title), self.mains)
        return self if mains is self.mains else self.model_copy(update={"mains": mains})

    def figures(self) -> Iterator[tuple[str, Figure | Table | CoreColour | Statement]]:
        """Every figure, table, colour and rule with its place in words ("insulation, minimum, II")."""
        return _sourced(self, "")


def _sourced(value: object, path: str) -> Iterator[tuple[str, Figure | Table | CoreColour | Statement]]:
    if isinstance(value, Figure | Table | CoreColour | Statement):
        yield path, value
        return
    if isinstance(value, BaseModel):
        parts = {name.replace("_", " "): getattr(value, name) for name in type(value).model_fields}
    elif isinstance(value, dict):
        parts = value
    elif isinstance(value, tuple):
        parts = {_name_of(item, number): item for number, item in enumerate(value, start=1)}
    else:
        return
    for name, part in parts.items():
        yield from _sourced(part, f"{path}, {name}" if path else name)


def _name_of(item: object, number: int) -> str:
    return str(getattr(item, "title", "") or getattr(item, "core", "") or number)
