"""What a meter can do: functions, ranges, accuracy, category and calibration, as its record in a file states them."""

from __future__ import annotations

from datetime import date
from functools import cached_property
from typing import Annotated

from pydantic import Field, field_validator, model_validator

from benchapp.files.forms import TextForm
from benchapp.files.models import FileModel
from benchapp.judgement.meters.accuracy import Accuracy
from benchapp.judgement.meters.functions import Function, Responds, kind_of
from benchapp.judgement.meters.meter_text import AccuracyField, AnyQuantity, CategoryField, TemperatureSpan
from benchapp.judgement.meters.wire import Wire
from benchapp.judgement.statements.problems import MeterProblem
from benchapp.quantities.entry import read_quantity
from benchapp.quantities.fields import PositiveResistance, WrittenCurrent, WrittenResistance, WrittenVoltage
from benchapp.words import say

ID_WORDS = "small letters and digits with dashes between them, as in tb-m1"


class MeterRange(FileModel):
    """One range of a function: full scale, weight of the last digit, accuracy."""

    to: AnyQuantity
    """Full scale: the largest reading of this range."""
    resolution: AnyQuantity
    """One count: the weight of the last digit."""
    accuracy: AccuracyField
    """Largest error, as the maker states it."""

    @cached_property
    def name(self) -> str:
        """How the record calls the range: its full scale as written."""
        return str(self.to)

    @cached_property
    def full_scale(self) -> float:
        """The largest reading, in SI."""
        return self.to.si

    @cached_property
    def count(self) -> float:
        """The weight of the last digit, in SI."""
        return self.resolution.si

    def accuracy_at(self, frequency: float | None) -> Accuracy:
        """The statement for this frequency in hertz, the first one where none is given; raises MeterProblem."""
        if frequency is None:
            return self.accuracy[0].accuracy
        for band in self.accuracy:
            if band.low <= frequency <= band.high:
                return band.accuracy
        raise MeterProblem(
            say(
                "The range to {name} states no accuracy at {frequency:g} Hz: use another meter.",
                name=self.name,
                frequency=frequency,
            )
        )


class MeterFunction(FileModel):
    """One function of a meter with its ranges, smallest first."""

    ranges: tuple[MeterRange, ...] = Field(min_length=1)
    """From the smallest to the largest."""
    responds: Responds = Responds.true_rms
    """How AC readings are formed: true RMS, or average (right for sine waves alone)."""
    four_wire: bool = False
    """Whether the leads' resistance is left out by separate sense leads."""
    test_voltages: tuple[WrittenVoltage, ...] = ()
    """Open-circuit test voltages of an insulation function."""
    test_current: WrittenCurrent | None = None
    """Test current of an earth or continuity function."""

    @model_validator(mode="after")
    def _ranges_grow(self) -> MeterFunction:
        for number, (smaller, larger) in enumerate(zip(self.ranges, self.ranges[1:], strict=False), start=1):
            if larger.full_scale <= smaller.full_scale:
                what = say(
                    "The range to {name} must come before the range to {name_2}.", name=larger.name, name_2=smaller.name
                )
                raise MeterProblem(what, key=("ranges", number, "to"))
        for number, one in enumerate(self.ranges):
            if not 0 < one.count <= one.full_scale:
                what = say(
                    "A resolution of {resolution} does not fit a range to {name}.",
                    resolution=one.resolution,
                    name=one.name,
                )
                raise MeterProblem(what, key=("ranges", number, "resolution"))
        return self


class MeterRecord(FileModel):
    """One meter of the workshop."""

    meter: Annotated[str, TextForm(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", words=ID_WORDS)]
    """The meter's id, as on its label."""
    title: str
    """What it is, in words."""
    example: bool = False
    """Whether it is made up: as shipped it is offered in a demo's workbook alone."""
    kind: str
    """hand meter, insulation and earth tester, plug-in mains meter."""
    serial: str = ""
    """Its serial number."""
    category: tuple[CategoryField, ...] = ()
    """Measurement categories with their voltages."""
    calibrated: date
    """Date of the last calibration."""
    due: date
    """Date by which the next is due."""
    input_impedance: PositiveResistance | None = None
    """Of the voltage functions."""
    reference_temperature: TemperatureSpan = (18.0, 28.0)
    """Where the accuracy holds as stated."""
    temperature_coefficient: float = Field(default=0.1, ge=0, le=1)
    """Share of the accuracy added for each degree outside the reference temperature."""
    operating_temperature: TemperatureSpan = (0.0, 40.0)
    """Outside this the meter is not to be used."""
    lead_resistance: WrittenResistance = read_quantity("0.2 ohm")
    """Of its own test leads, where it is neither nulled nor measured."""
    functions: dict[Function, MeterFunction] = Field(min_length=1)
    """What it measures."""
    note: str = ""
    """What else its user must know."""
    wire: Wire | None = None
    """How it sends its readings; left out where they are typed."""

    @field_validator("functions")
    @classmethod
    def _ranges_are_of_their_function(cls, functions: dict[Function, MeterFunction]) -> dict[Function, MeterFunction]:
        for function, facts in functions.items():
            kind = kind_of(function)
            for number, one in enumerate(facts.ranges):
                if one.to.unit.kind is not kind or one.resolution.unit.kind is not kind:
                    raise MeterProblem(
                        say(
                            "{function}: the range to {name} with a resolution of {resolution} is no range of {value}.",
                            function=function,
                            name=one.name,
                            resolution=one.resolution,
                            value=kind.value,
                        ),
                        key=(str(function), "ranges", number),
                    )
        if Function.insulation in functions and not functions[Function.insulation].test_voltages:
            raise MeterProblem("The insulation function states no test voltage.")
        return functions

    @model_validator(mode="after")
    def _wire_is_of_its_functions(self) -> MeterRecord:
        for function in self.wire.configure if self.wire else ():
            if function not in self.functions:
                what = say("{meter} has no function {function} to be set to.", meter=self.meter, function=function)
                raise MeterProblem(what, key=("wire", "configure", function.value))
        return self

    @model_validator(mode="after")
    def _dates_agree(self) -> MeterRecord:
        if self.due <= self.calibrated:
            raise MeterProblem(
                say(
                    "{meter} is due on {due}, not after its calibration on {calibrated}.",
                    meter=self.meter,
                    due=self.due,
                    calibrated=self.calibrated,
                )
            )
        return self

    def function(self, function: Function) -> MeterFunction:
        """The record of one function; raises MeterProblem where the meter has none."""
        try:
            return self.functions[function]
        except KeyError:
            has = ", ".join(self.functions)
            raise MeterProblem(
                say("“{meter}” has no function {function}; it has {has}.", meter=self.title, function=function, has=has)
            ) from None

    def is_rated_for(self, category: int, volts: float) -> bool:
        """Whether it may be connected to a circuit of this measurement category and voltage to earth."""
        return any(has.number >= category and has.volts >= volts for has in self.category)

    def is_overdue(self, on: date) -> bool:
        """Whether the calibration had run out on this day."""
        return on > self.due

    def cautions(self, function: Function, on: date, temperature: float | None = None) -> tuple[str, ...]:
        """What to say beside every reading of this function on this day, with the meter at `temperature` (°C)."""
        words = [self.calibration_words(on)] if self.is_overdue(on) else []
        if temperature is not None:
            words.extend(self._temperature_words(temperature))
        if self.function(function).responds is Responds.average:
            words.append(
                say(
                    "{meter} forms its AC readings from the average: they are right for sine waves alone. "
                    "Behind a rectifier, a dimmer or a saturated core take a meter that reads true RMS.",
                    meter=self.meter,
                )
            )
        return tuple(words)

    def _temperature_words(self, temperature: float) -> tuple[str, ...]:
        low, high = self.operating_temperature
        if not low <= temperature <= high:
            return (
                say(
                    "{meter} is not to be used at {temperature:g} °C: it works from {low:g} °C to {high:g} °C.",
                    meter=self.meter,
                    temperature=temperature,
                    low=low,
                    high=high,
                ),
            )
        low, high = self.reference_temperature
        if low <= temperature <= high:
            return ()
        return (
            say(
                "{meter} at {temperature:g} °C is outside {low:g} °C to {high:g} °C: its readings are less sure.",
                meter=self.meter,
                temperature=temperature,
                low=low,
                high=high,
            ),
        )

    def calibration_words(self, on: date) -> str:
        """What every record says of the calibration on this day."""
        if self.is_overdue(on):
            return say(
                "{meter}: calibration overdue since {due}; its accuracy is not assured.", meter=self.meter, due=self.due
            )
        return f"{self.meter}: calibrated {self.calibrated}, due {self.due}."
