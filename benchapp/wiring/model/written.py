"""The kinds of value that an equipment file may hold, as pydantic types: text in the file, SI floats in the model."""

import re
from collections.abc import Callable, Collection
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from typing import Annotated, Any

from pydantic import AfterValidator, PlainValidator

from benchapp.quantities.dimensions import Kind
from benchapp.wiring.model.circuit import Toleranced
from benchapp.wiring.model.plates import plate_volts, read_frequency, read_fuse_rating
from benchapp.wiring.model.values import read_positive, read_ratio, read_toleranced

_RATED = re.compile(
    r"(?P<volts>[^\s].*?V)(?:\s+at\s+(?P<amps>.+?A))?(?:\s+(?P<basis>on load|off load|supply))?", re.IGNORECASE
)

_VOLTAGES = re.compile(r"(?P<from>[0-9.]+(?: *V)?) *(?:-|–|to) *(?P<to>[0-9.]+ *V)", re.IGNORECASE)

_YEARS = re.compile(r"(?P<first>(?:18|19|20)[0-9]{2})(?: to (?P<last>(?:18|19|20)[0-9]{2}))?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rated:
    """A winding's rating: V, A when stated, and whether the plate means on load, off load, the supply, or is silent."""

    volts: float
    amps: float | None
    basis: str  # "on load", "off load", "supply" or "unknown"
    stated: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyVolts:
    """The voltages (V) between which a plate says that it may be fed; both the same where it says one."""

    lowest: float
    highest: float

    @property
    def words(self) -> str:
        """ "240 V", "100 V to 240 V"."""
        return " to ".join(f"{end:g} V" for end in dict.fromkeys((self.lowest, self.highest)))

    @property
    def is_range(self) -> bool:
        """Whether the plate says two voltages."""
        return self.lowest != self.highest


def read_supply_volts(text: str) -> SupplyVolts:
    """Read "240 V", "240 V AC", "100-240 V", "200/250 V" or "100 V to 240 V"."""
    written = plate_volts(str(text))
    found = _VOLTAGES.fullmatch(written)
    if found is None:
        try:
            volts = read_positive(written, Kind.voltage)
        except ValueError as problem:
            raise ValueError(f"{problem}; a range is written like '100 V to 240 V'") from problem
        return SupplyVolts(lowest=volts, highest=volts)
    ends = [read_positive(f"{found[end].strip().removesuffix('V').strip()} V", Kind.voltage) for end in ("from", "to")]
    if ends[0] >= ends[1]:
        raise ValueError(f"'{written}' begins with the higher voltage; write the lower one first: '100 V to 240 V'")
    return SupplyVolts(lowest=ends[0], highest=ends[1])


FIRST_YEAR, LAST_YEAR = 1880, 2040
"""Years of making outside of these are slips: 2071 for 1971 would ask for no hazard of old equipment (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Years:
    """The years between which a design was made, the first and the last of them."""

    first: int
    last: int


def read_years(text: str) -> Years:
    """Read "1962" or "1962 to 1975"."""
    found = _YEARS.fullmatch(str(text).strip())
    if found is None:
        raise ValueError(f"'{text}' is no year of making; write it like '1962' or '1962 to 1975'")
    made = Years(first=int(found["first"]), last=int(found["last"] or found["first"]))
    if made.last < made.first:
        raise ValueError(f"'{text}' ends before it begins; write the first year first: '{made.last} to {made.first}'")
    if made.first < FIRST_YEAR or made.last > LAST_YEAR:
        raise ValueError(f"'{text}' is not between {FIRST_YEAR} and {LAST_YEAR}: look at the digits again")
    return made


def read_rated(text: str) -> Rated:
    """Read "9 V at 0.6 A on load", "9 V off load", "120 V supply" or plain "9 V"."""
    match = _RATED.fullmatch(str(text).strip())
    if match is None:
        raise ValueError(
            f"'{text}' is no rating; write it like '9 V at 0.6 A on load', '9 V off load', '9 V' or '120 V supply'"
        )
    amps = match["amps"]
    return Rated(
        volts=read_positive(match["volts"], Kind.voltage),
        amps=None if amps is None else read_positive(amps, Kind.current),
        basis=(match["basis"] or "unknown").lower(),
        stated=str(text).strip(),
    )


def _not_empty(values: Collection[Any]) -> Collection[Any]:
    if not values:
        raise ValueError("nothing stands here, and at least one entry is needed")
    return values


NotEmpty = AfterValidator(_not_empty)  # unlike a smallest length, it stays silent when the entries themselves are wrong


def _read_by(reader: Callable[..., Any], *given: Any, written: Any = str, **more: Any) -> Any:  # noqa: ANN401  pydantic's marker
    """Text of the file as the reader takes it, with what else the reader is given."""
    return PlainValidator(lambda text: reader(str(text), *given, **more), json_schema_input_type=written)


_toleranced = partial(_read_by, read_toleranced, usual=Decimal("0.1"))  # without a tolerance: ± 10 %, common practice
_value = partial(_read_by, read_positive)

TolerancedResistance = Annotated[Toleranced, _toleranced(Kind.resistance)]
TolerancedCapacitance = Annotated[Toleranced, _toleranced(Kind.capacitance, usual=Decimal("0.2"))]  # common practice
TolerancedCurrent = Annotated[Toleranced, _toleranced(Kind.current)]
TolerancedVoltage = Annotated[Toleranced, _toleranced(Kind.voltage)]
Resistance = Annotated[float, _value(Kind.resistance)]
SupplyVoltsText = Annotated[SupplyVolts, _read_by(read_supply_volts)]
Current = Annotated[float, _value(Kind.current)]
Frequency = Annotated[float, _read_by(read_frequency)]
FuseRating = Annotated[float, _read_by(read_fuse_rating)]
Power = Annotated[float, _value(Kind.power)]
Length = Annotated[float, _value(Kind.length)]
Area = Annotated[float, _value(Kind.area)]
Ratio = Annotated[float, _read_by(read_ratio, written=str | float)]
YearsText = Annotated[Years, _read_by(read_years, written=str | int)]
RatedText = Annotated[Rated, _read_by(read_rated)]
