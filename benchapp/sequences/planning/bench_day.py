"""The day at one bench, as far as what is recorded of units rests on it."""

from dataclasses import dataclass
from typing import Protocol

from benchapp.sequences.planning.entry_times import is_todays


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
    closed: bool = False

    @property
    def is_open(self) -> bool:
        """Whether the bench was opened that day and not closed since."""
        return bool(self.opened) and not self.closed

    def as_at(self, at: str) -> "BenchDay":
        """The day as it stands at that time: an opening of another day, or one still to come, opens nothing."""
        return self if is_todays(self.opened, at) else BenchDay()

    def check_of(self, meter: str) -> MeterCheck | None:
        """What the opening in force found of the meter; None where nobody looked, or where none is in force."""
        return next((one for one in self.meters if one.meter == meter), None) if self.is_open else None
