"""Meters that type their readings as a keyboard does, what of it is a reading of the step at hand; Qt-free."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.quantities.quantity import Reading
    from benchapp.sequences.planning.planned import PlannedStep


@dataclass(frozen=True, slots=True)
class NotTaken:
    """Why a burst is not recorded; `keeps` says that it stays in the field for a person's Enter."""

    words: str
    keeps: bool = False


def types_itself(bench: "Bench", meter: "MeterRecord") -> bool:
    """Whether the meter's record of today says that it types."""
    wire = bench.wire_of(meter.meter)
    return wire is not None and wire.dialect == "keyboard"


def why_not_typed_by_meter(step: "PlannedStep", text: str, *, stands: str) -> NotTaken | None:
    """Why a text that came at once is not recorded as a reading; None where it is.

    `stands` is what stood in the field before it, which stays: 4 and then 80 ohm are no 480 ohm.
    """
    from benchapp.quantities.quantity import Bound
    from benchapp.sequences.interlock.reading_sources import never_by_itself

    reading = read_burst(text, step.read_on, stands=stands)
    if isinstance(reading, NotTaken):
        return reading
    if reading.bound is not Bound.exact or (never := never_by_itself(step, reading.bound)):
        why = tr("over range is no value") if reading.bound is not Bound.exact else never
        return NotTaken(tr("The meter typed it. Look at it, then Enter: {why}.").format(why=why), keeps=True)
    return None


def read_burst(text: str, function: "Function", *, stands: str = "") -> "Reading | NotTaken":
    """The reading of that function, with its unit, that a text which came at once is; else why it was not taken."""
    from benchapp.errors import BenchError
    from benchapp.judgement.meters.functions import kind_of
    from benchapp.quantities.entry import read_reading

    if stands:
        words = tr(
            "“{stands}” stands there, and what the meter typed was not taken. Empty the field, press its key again."
        )
        return NotTaken(words.format(stands=stands), keeps=True)
    try:
        return read_reading(text, kind=kind_of(function))
    except BenchError as problem:
        said = tr("“{text}” came all at once, and is no reading of {function} with its unit. It was not taken. {why}")
        return NotTaken(said.format(text=text[:40], function=function, why=problem.sentence))
