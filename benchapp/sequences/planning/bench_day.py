"""The day at one bench, as far as what is recorded of units rests on it."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from benchapp.sequences.planning.entries import person
from benchapp.sequences.planning.entry_times import is_todays


class KnownSource(StrEnum):
    """What a meter is proved on: a known voltage that cannot hurt, never a socket (HSE GS38, 4th ed. 2015)."""

    proving_unit = "proving unit"
    battery = "battery"
    extra_low = "extra-low-voltage supply"


LARGEST_RCD = 0.03
"""A: what an RCD that is to protect people may be rated at most (BS 7671 and IEC 60364-4-41, 415.1.1, from memory)"""

NO_SOURCE = "Say on which known source the meters were proved: {known}. Never by probing a socket."


class MeterCheck(Protocol):
    """What the bench opening found of one meter; `lead_resistance` in ohm, None: not measured."""

    @property
    def meter(self) -> str:
        """Its id."""

    @property
    def proved(self) -> bool:
        """Whether it read a known source well."""

    @property
    def lead_resistance(self) -> float | None:
        """Of its leads, in ohm."""

    @property
    def nulled(self) -> bool:
        """Whether it takes its leads off by itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchDay:
    """The last opening of the bench that is of the day, and whether it was closed since; as it is, there was none."""

    opened: str = ""
    """the time of the opening (ISO 8601, UTC); empty: the bench was not opened that day"""
    meters: tuple[MeterCheck, ...] = ()
    rcd_button_tested: bool = False
    rcd_rating: float | None = None
    """A, as printed on it; None: nobody read it"""
    rcd_reset: bool = False
    source: str = ""
    """what its meters were proved on (`KnownSource`)"""
    room: str = ""
    """who else was in the room; empty: nobody"""
    closed: bool = False

    @property
    def is_open(self) -> bool:
        """Whether the bench was opened that day and not closed since."""
        return bool(self.opened) and not self.closed

    @property
    def is_proved(self) -> bool:
        """Whether any meter was proved, and on a known source: without one, the bench is open for dead work alone."""
        return any(self.proves(one.meter) for one in self.meters)

    @property
    def protects_people(self) -> bool:
        """Whether the RCD is rated low enough to protect people."""
        return self.rcd_rating is not None and 0 < self.rcd_rating <= LARGEST_RCD

    def proves(self, meter: str) -> bool:
        """Whether the opening in force proved the meter, on a known source."""
        check = self.check_of(meter)
        return check is not None and check.proved and self.source in set(KnownSource)

    def as_at(self, at: str) -> "BenchDay":
        """The day as it stands at that time: an opening of another day, or one still to come, opens nothing."""
        return self if is_todays(self.opened, at) else BenchDay()

    def check_of(self, meter: str) -> MeterCheck | None:
        """What the opening in force found of the meter; None where nobody looked, or where none is in force."""
        return next((one for one in self.meters if one.meter == meter), None) if self.is_open else None


def refuse_opening(meters: Iterable[MeterCheck], source: str, room: str, by: str) -> str | None:
    """The sentence with which an opening is refused; None where the bench is open with it."""
    if not any(one.proved for one in meters):
        return "No meter is proved: that is no open bench. Prove one on a proving unit or another known source."
    if source not in set(KnownSource):
        return NO_SOURCE.format(known=", ".join(KnownSource))
    if room.strip() and person(room) == person(by):
        return "Somebody else is meant: name who is in the room beside you, or leave it empty and do no live work."
    return None
