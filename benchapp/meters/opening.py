"""The instrument of a record, by its dialect."""

from benchapp.judgement.meters.records import MeterRecord
from benchapp.meters.instrument import PATIENCE, Instrument
from benchapp.meters.lines import LineInstrument
from benchapp.meters.scpi import ScpiInstrument


def instrument_of(record: MeterRecord, *, patience: float = PATIENCE) -> Instrument:
    """The instrument behind the record's wire; raises MeterProblem where it has none."""
    lines = record.wire is not None and record.wire.dialect == "lines"
    return LineInstrument(record, patience=patience) if lines else ScpiInstrument(record, patience=patience)
