"""A fuse link, in the plug or inside."""

from collections.abc import Iterator, Mapping
from typing import Literal

from pydantic import field_validator

from benchapp.files.locations import Key, Mistake
from benchapp.wiring.model import assumptions
from benchapp.wiring.model.circuit import Branch, Circuit, PartKind, Problem
from benchapp.wiring.model.equipment import Equipment, TwoEnded
from benchapp.wiring.model.groups import groups_of
from benchapp.wiring.model.modes import Mode
from benchapp.wiring.model.written import FuseRating, TolerancedResistance

ABOVE_CORD = 2.2  # times the cord's current may its fuse be: 13 A with 0.75 mm² is met; common practice, no source


class FusePart(TwoEnded):
    """A fuse link, its rating and where it sits."""

    kind = PartKind(
        name="fuse", place=4, fault_modes=(Mode.open, Mode.high_resistance), carries_voltage_on=True, removable=True
    )
    fuse: str
    """the part's own id"""
    place: Literal["plug", "inside"] = "inside"
    """where it sits"""
    rating: FuseRating | None = None
    """the rating printed on it: 3 A, T400mA"""
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

    def branches(self, equipment: Equipment, feeds: Mapping[str, float]) -> tuple[Branch, ...]:
        """One, with what the file says or a link of its rating has."""
        return (self.branch(self.resistance or assumptions.fuse_resistance(self.rating)),)

    def complaints(self, key: Key, equipment: Equipment, circuit: Circuit) -> Iterator[Problem]:
        """A rating below the current that the plate states, or far above what the cord carries."""
        supply, cord = equipment.supply, equipment.cord
        if supply is None or supply.current is None or self.rating is None:
            return
        carries = assumptions.cord_current(cord.area) if cord is not None else self.rating
        if cord is not None and self.place == "plug" and self.rating > ABOVE_CORD * carries:
            # a fuse in the plug is there for the cord: one that lets through far more contradicts it
            yield Problem(
                key=(*key, "rating"),
                what=f"the fuse '{self.id}' of {self.rating:g} A is far above the {carries:g} A that the cord of "
                f"{cord.area * 1e6:g} mm² carries (BS 7671 Table 4F3A)",
                expected="a smaller fuse or a thicker cord",
            )
        amps = supply.current
        if self.rating < amps and self.id in _carry_the_supply(circuit):
            what = f"the fuse '{self.id}' of {self.rating:g} A is smaller than the rated current of {amps:.3g} A"
            yield Problem(key=(*key, "rating"), what=what)

    def facts(self) -> dict[str, bool]:
        """Whether a fuse sits inside."""
        return {"internal fuse": True} if self.place == "inside" else {}


def _carry_the_supply(circuit: Circuit) -> set[str]:
    """Parts that the whole supply current flows through: no voltage is lost and nothing parts it on the way."""
    if circuit.supply is None:
        return set()
    group = groups_of(circuit, lambda branch: branch.kind.carries_voltage_on and not branch.kind.protects)
    supplied = {group[circuit.supply.live], group[circuit.supply.neutral]}
    return {branch.part for branch in circuit.branches if {group[branch.a], group[branch.b]} <= supplied}
