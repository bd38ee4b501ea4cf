"""A workshop's own record of a shipped meter: it may claim less than the shipped one, never more.

What moves readings (input impedance, kind of response) stays as it is; calibration dates are the workshop's own matter.
Another instrument gets an id of its own.
"""

from collections.abc import Iterator

from benchapp.files.looser import Looser, keeps_words
from benchapp.judgement.meters.meter_text import FrequencyBand
from benchapp.judgement.meters.records import MeterFunction, MeterRange, MeterRecord

_NEAR = 1e-12
_SAME = ("kind", "input_impedance")
_SAME_FUNCTION = ("responds", "four_wire", "test_current")


def claims_more(own: MeterRecord, shipped: MeterRecord) -> Iterator[Looser]:
    """Everything in which an own record claims a better meter than the shipped one of the same id."""
    for field in _SAME:
        mine, theirs = getattr(own, field), getattr(shipped, field)
        if mine != theirs:
            yield _another((field.replace("_", " "),), field.replace("_", " "), mine, theirs)
    for number, category in enumerate(own.category):
        if not shipped.is_rated_for(category.number, category.volts):
            rated = ", ".join(str(one) for one in shipped.category) or "no category"
            what = f"{category} is more than the shipped record claims: {rated}"
            yield Looser(key=("category", number), what=what, expected=rated)
    yield from _warmer(own, shipped)
    if own.lead_resistance.si > shipped.lead_resistance.si:
        what = f"leads of {own.lead_resistance} take more off a reading than the shipped {shipped.lead_resistance}"
        yield Looser(key=("lead resistance",), what=what, expected=f"at most {shipped.lead_resistance}")
    if not keeps_words(own.note, shipped.note):
        yield Looser(key=("note",), what=f"the shipped note “{shipped.note}” is missing", expected="its words")
    for function, stated in own.functions.items():
        if function not in shipped.functions:
            what = f"the shipped record has no function {function}"
            yield Looser(key=("functions", str(function)), what=what, expected=", ".join(shipped.functions))
        else:
            yield from _of_function(("functions", str(function)), stated, shipped.functions[function])


def _another(key: tuple[str | int, ...], what: str, mine: object, theirs: object) -> Looser:
    return Looser(key=key, what=f"{what} {mine} is another than the shipped {theirs}", expected=str(theirs))


def _warmer(own: MeterRecord, shipped: MeterRecord) -> Iterator[Looser]:
    """A wider span in which the accuracy holds, or the meter may be used."""
    for field in ("reference_temperature", "operating_temperature"):
        (low, high), (least, most) = getattr(own, field), getattr(shipped, field)
        if low < least or high > most:
            what = f"{low:g} °C to {high:g} °C is wider than the shipped {least:g} °C to {most:g} °C"
            yield Looser(key=(field.replace("_", " "),), what=what, expected=f"{least:g} °C to {most:g} °C")
    mine, theirs = own.temperature_coefficient, shipped.temperature_coefficient
    if mine < theirs:
        what = f"a temperature coefficient of {mine:g} is better than the shipped {theirs:g}"
        yield Looser(key=("temperature coefficient",), what=what, expected=f"at least {theirs:g}")


def _of_function(key: tuple[str | int, ...], own: MeterFunction, shipped: MeterFunction) -> Iterator[Looser]:
    for field in _SAME_FUNCTION:
        mine, theirs = getattr(own, field), getattr(shipped, field)
        if mine != theirs:
            yield _another((*key, field.replace("_", " ")), field.replace("_", " "), mine, theirs)
    known = {voltage.si for voltage in shipped.test_voltages}
    for number, voltage in enumerate(own.test_voltages):
        if voltage.si not in known:
            stated = ", ".join(str(one) for one in shipped.test_voltages)
            what = f"a test voltage of {voltage} is none that the shipped record states: {stated}"
            yield Looser(key=(*key, "test voltages", number), what=what, expected=stated)
    for number, one in enumerate(own.ranges):
        theirs = next((other for other in shipped.ranges if _near(one.full_scale, other.full_scale)), None)
        at = (*key, "ranges", number)
        if theirs is None:
            names = ", ".join(other.name for other in shipped.ranges)
            yield Looser(
                key=(*at, "to"), what=f"the shipped record has no range to {one.name}: {names}", expected=names
            )
        else:
            yield from _of_range(at, one, theirs)


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= _NEAR * abs(other)


def _of_range(key: tuple[str | int, ...], own: MeterRange, shipped: MeterRange) -> Iterator[Looser]:
    if own.count < shipped.count * (1 - _NEAR):
        what = f"a resolution of {own.resolution} is finer than the shipped {shipped.resolution}"
        yield Looser(key=(*key, "resolution"), what=what, expected=f"at least {shipped.resolution}")
    for number, band in enumerate(own.accuracy):
        around = [one for one in shipped.accuracy if one.low <= band.low and band.high <= one.high]
        # without a frequency the first statement holds: it is held against the first
        theirs = [*around[:1], *(shipped.accuracy[:1] if number == 0 else ())]
        if not around:
            what = f"to {own.name}: the shipped record states no accuracy at all those frequencies"
            yield Looser(key=(*key, "accuracy"), what=what, expected="its frequencies")
        elif any(_is_better(band, one, shipped) for one in theirs):
            what = f"to {own.name}: {band.accuracy.text} is better than the shipped {theirs[-1].accuracy.text}"
            yield Looser(key=(*key, "accuracy"), what=what, expected=theirs[-1].accuracy.text)


def _is_better(own: FrequencyBand, shipped: FrequencyBand, stated: MeterRange) -> bool:
    """Whether an accuracy is smaller somewhere on the range: both are straight lines, so the ends tell."""
    for value in (0.0, stated.full_scale):
        mine, theirs = (one.accuracy.half_width(value, stated.count, stated.full_scale) for one in (own, shipped))
        if mine < theirs * (1 - _NEAR):
            return True
    return False
