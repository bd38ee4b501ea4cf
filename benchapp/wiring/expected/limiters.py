"""What limits first power: a filament lamp in series, or a variable transformer; and what each passes.

A lamp of W watt at V volt passes W / V into a short. At another voltage across it the current follows a power of
the voltage: exponent below 1 measured (a university's measurement), 0.55 from memory. The rest is Kirchhoff's
voltage law: a resistive item shares the mains with the lamp, a magnetising current stands a quarter turn behind it.
"""

from collections.abc import Callable
from dataclasses import dataclass

from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show

FILAMENT_POWER = 0.55  # of the voltage that a lamp's current follows; from memory
LAMP_SHARE = 0.4  # of the lamp's short-circuit current that a sound item may draw; common practice, no source
TIMES_THE_ITEM = 2.0  # the least lamp watts as a multiple of the item's sound watts; common practice, no source
LAMPS = (15.0, 25.0, 40.0, 60.0, 75.0, 100.0, 150.0, 200.0, 300.0, 500.0)  # W of filament lamps that were sold
TURNED_UP = (0.05, 0.5)  # shares of the mains at which a variable transformer is read; common practice, no source
STEPS = 60  # halvings of the search for the current: far below a meter's last digit


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp:
    """A filament lamp of so many watt, on mains of so many volt."""

    watts: float
    mains: float

    @property
    def short_circuit(self) -> float:
        """The current (A) into a short."""
        return self.watts / self.mains

    @property
    def words(self) -> str:
        """What it is."""
        return f"a lamp of {self.watts:g} W"

    def highest(self, amps: float) -> float:
        """Current (A) of an item that draws `amps` on full mains, where all of it is magnetising current."""
        return self._passed(amps, lambda lamp: max(1.0 - lamp**2, 0.0) ** 0.5)

    def resistive(self, amps: float) -> float:
        """Current (A) of an item that draws `amps` on full mains, where it is a resistance."""
        return self._passed(amps, lambda lamp: 1.0 - lamp)

    def least(self, amps: float) -> float:
        """The least (A) of an item that draws `amps` on full mains: iron draws less than in proportion below them."""
        through = self.resistive(amps)
        share = through / amps if amps else 1.0
        return amps * share**2

    def _passed(self, amps: float, left: Callable[[float], float]) -> float:
        """The current at which lamp and item share the mains; `left` is the item's share for the lamp's."""
        low, high = 0.0, min(amps, self.short_circuit)
        for _ in range(STEPS):
            tried = 0.5 * (low + high)
            across_lamp = (tried / self.short_circuit) ** (1 / FILAMENT_POWER)
            low, high = (tried, high) if amps * left(across_lamp) > tried else (low, tried)
        return 0.5 * (low + high)


@dataclass(frozen=True, slots=True, kw_only=True)
class Variable:
    """A variable transformer, turned up to so many volt."""

    volts: float
    mains: float

    @property
    def words(self) -> str:
        """What it is, and how far it is turned up."""
        return f"a variable transformer at {self.volts:g} V"

    def highest(self, amps: float) -> float:
        """Current (A) at most of an item that draws `amps` on full mains: in proportion to the volts."""
        return amps * self.volts / self.mains

    def resistive(self, amps: float) -> float:
        """Current (A) of such an item where it is a resistance."""
        return amps * self.volts / self.mains

    def least(self, amps: float) -> float:
        """The least of such an item: the current of iron falls faster than the volts."""
        return amps * (self.volts / self.mains) ** 2


Limiter = Lamp | Variable


def tells_a_short(lamp: Lamp, most: float, *, resistive: bool) -> bool:
    """Whether a short behind the lamp cannot be taken for an item that draws up to `most` (A) on full mains."""
    drawn = lamp.resistive(most) if resistive else lamp.highest(most)
    return drawn <= LAMP_SHARE * lamp.short_circuit and lamp.watts >= TIMES_THE_ITEM * most * lamp.mains


def least_lamp(most: float, mains: float, *, resistive: bool) -> float | None:
    """The smallest usual lamp (W) that can tell a short from an item that draws up to `most` (A); None: none can."""
    able = (w for w in LAMPS if tells_a_short(Lamp(watts=w, mains=mains), most, resistive=resistive))
    return next(able, None)


def shown_volts(mains: float) -> str:
    """The volts at which a variable transformer is read, in words."""
    low, high = (share * mains for share in TURNED_UP)
    return f"{show(low, Kind.voltage)} to {show(high, Kind.voltage)}"
