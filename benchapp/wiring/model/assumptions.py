"""What is assumed of a part when its file does not say: every figure with its source; a file's own value wins."""

from dataclasses import dataclass
from itertools import pairwise
from math import log
from typing import Final

from benchapp.wiring.model.circuit import Toleranced

COMMON_PRACTICE: Final = "common practice, no source"
FILE: Final = "the equipment file"

COPPER_PER_KELVIN: Final = 0.00393  # 1/K at 20 °C; IEC 60228 Annex B, confirmed (std text)
REFERENCE_TEMPERATURE: Final = 20.0  # °C; IEC 60228 Annex B
ROOM: Final = (15.0, 35.0)  # °C assumed of a winding that nobody has measured; common practice, no source

COPPER_RESISTIVITY: Final = 1 / 58e6  # ohm·m at 20 °C; IEC 60028, from memory
CORD_LOW = 0.9  # of the plain value; common practice, no source
CORD_HIGH = 1.2  # of the plain value; IEC 60228 class 5 maxima: 1.131 to 1.157 plain, up to 1.192 tinned (1.5 mm²)

LINK: Final = Toleranced(nominal=0.02, low=0.0, high=0.2, stated="a sound joint, up to 0.2 ohm")
EARTH: Final = Toleranced(nominal=0.02, low=0.0, high=0.1, stated="a sound bond, up to 0.1 ohm")
SWITCH: Final = Toleranced(nominal=0.05, low=0.0, high=0.5, stated="a sound contact, up to 0.5 ohm")
COUPLER: Final = 0.05  # ohm that a sound coupler's contacts may add to a core; common practice, no source
PROBE_CONTACT: Final = 0.2  # ohm that two probe tips on old metal may add; common practice, no source
DIODE_FORWARD: Final = 1.0  # ohm: the least a sound diode reads, 0.1 V at 0.1 A; common practice, no source
DIODE_BLOCKING: Final = 1e4  # ohm: the least that a sound old germanium diode blocks with; common practice, no source
OPEN_AT_LEAST: Final = 1e6  # ohm between groups that no barrier of the file names; common practice, no source

TURNS_TOLERANCE: Final = 0.03  # of a winding's voltage, either way; common practice, no source
REGULATION_TOLERANCE: Final = 0.25  # of a regulation that was stated; common practice, no source
FROM_RESISTANCE: Final = (0.8, 1.5)  # of the regulation that resistances give: leakage and warm copper; common practice


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualRegulation:
    """The range of regulation that transformers up to a size have."""

    below_va: float
    low: float
    high: float


REGULATIONS: Final = (  # common practice, no source; tiny transformers exceed 30 %
    UsualRegulation(below_va=10, low=0.05, high=0.35),
    UsualRegulation(below_va=50, low=0.04, high=0.25),
    UsualRegulation(below_va=float("inf"), low=0.02, high=0.15),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualNoLoad:
    """The share of the rated current that a mains transformer of a size draws with nothing on its outputs."""

    volt_amperes: float
    low: float
    high: float


NO_LOAD_SHARES: Final = (  # at rated voltage, laminated E-I cores of the period; from memory: no table was published
    UsualNoLoad(volt_amperes=2, low=0.40, high=1.00),
    UsualNoLoad(volt_amperes=5, low=0.30, high=0.80),
    UsualNoLoad(volt_amperes=10, low=0.20, high=0.60),
    UsualNoLoad(volt_amperes=20, low=0.15, high=0.50),
    UsualNoLoad(volt_amperes=50, low=0.10, high=0.35),
    UsualNoLoad(volt_amperes=100, low=0.07, high=0.30),
    UsualNoLoad(volt_amperes=300, low=0.04, high=0.20),
)
NO_LOAD_SOURCE: Final = "no-load shares of laminated transformers, a wide band: from memory"
NO_LOAD_STEEPER: Final = 7.3  # power of the volts above the rated ones: +10 % may double it; from memory
OWN_CIRCUITS: Final = 1.1  # of the rated current, at most, that a set draws by itself; common practice, no source
MOTOR_STANDING: Final = 2.0  # of the rated current, of a small induction motor that does not start; from memory
MOTOR_RUNNING: Final = 0.2  # of the rated current, at least, of one that runs without load; from memory
UNIVERSAL_STANDING: Final = 6.0  # of the rated current, of a universal motor that does not turn yet; from memory
HEATER_SHARE: Final = (0.8, 1.15)  # of the rated current that an element draws; common practice, no source
RUNNING_SHARE: Final = (0.1, 1.15)  # of the rated current that a universal motor without load draws; common practice

CORD_RATINGS: Final = (  # m² -> A; BS 7671 Table 4F3A, confirmed (electrical distributor's copy)
    (0.5e-6, 3.0),
    (0.75e-6, 6.0),
    (1.0e-6, 10.0),
    (1.25e-6, 13.0),
    (1.5e-6, 16.0),
    (2.5e-6, 25.0),
)


def fuse_resistance(rating: float | None) -> Toleranced:
    """Cold resistance of a fuse link (ohm): about 0.1 V drop at its rating (A); common practice, no source."""
    amps = rating or 1.0
    return Toleranced(nominal=0.1 / amps, low=0.0, high=0.1 + 0.5 / amps, stated=f"a sound fuse link of {amps:g} A")


def cord_core(length: float, area: float) -> Toleranced:
    """Resistance of one core (ohm) from length (m) and area (m²): R = length / (58 MS/m × area)."""
    plain = COPPER_RESISTIVITY * length / area
    stated = f"a core of {length:g} m × {area * 1e6:g} mm²"
    return Toleranced(nominal=plain, low=plain * CORD_LOW, high=plain * CORD_HIGH, stated=stated)


def usual_regulation(volt_amperes: float | None) -> UsualRegulation:
    """The range for a transformer of that size; of unknown size, all that any size has."""
    if volt_amperes is None:
        low, high = min(row.low for row in REGULATIONS), max(row.high for row in REGULATIONS)
        return UsualRegulation(below_va=float("inf"), low=low, high=high)
    return next(row for row in REGULATIONS if volt_amperes < row.below_va)


LONGEST_CORD = 25.0  # m that a cord of an item can be; common practice, no source


def no_load_share(volt_amperes: float) -> tuple[float, float]:
    """Lowest and highest share of the rated current without load; between two sizes by the logarithm of the size."""
    rows = NO_LOAD_SHARES
    if volt_amperes <= rows[0].volt_amperes:
        return rows[0].low, rows[0].high
    for smaller, larger in pairwise(rows):
        if volt_amperes <= larger.volt_amperes:
            by = log(volt_amperes / smaller.volt_amperes) / log(larger.volt_amperes / smaller.volt_amperes)
            return smaller.low + by * (larger.low - smaller.low), smaller.high + by * (larger.high - smaller.high)
    return rows[-1].low, rows[-1].high


def cord_current(area: float) -> float:
    """The largest current (A) of a cord of that area (m²); between two sizes the smaller one's."""
    fitting = [amps for size, amps in CORD_RATINGS if area >= size * 0.999]
    return fitting[-1] if fitting else 0.0


def copper_factor(temperature: float) -> float:
    """Resistance at a temperature (°C) against 20 °C; IEC 60228 Annex B."""
    return 1 + COPPER_PER_KELVIN * (temperature - REFERENCE_TEMPERATURE)
