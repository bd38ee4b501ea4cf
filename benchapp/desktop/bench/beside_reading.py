"""What the reading page says beside the field: where to switch off, of the meter, and what this lot read before."""

from typing import TYPE_CHECKING

from benchapp.actions.workbench.against_siblings import beside_siblings, sibling_sentences
from benchapp.desktop.bench.plain_words import without_id
from benchapp.desktop.bench.unit_view import UnitView, model_field
from benchapp.desktop.words import tr
from benchapp.workbook.model.values import SiblingRow

if TYPE_CHECKING:
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.sequences.planning.planned import PlannedStep
    from benchapp.sequences.planning.state import Evaluation


def stop_above(step: "PlannedStep", tried: "Evaluation") -> str:
    """Above what the unit goes off at once: as its author says, or under power the top of what a sound one draws."""
    from benchapp.quantities.dimensions import Kind
    from benchapp.quantities.display import show

    written = str(model_field(step, "stop_above", ""))
    band = tried.band
    drawn = band is not None and band.kind in (Kind.current, Kind.power) and str(step.supply) != "none"
    if written or band is None or band.upper is None or not drawn:
        return written
    return show(_two_digits(band.upper), band.kind)


def _two_digits(value: float) -> float:
    """The value with two digits, rounded down: what a hand at a switch can use."""
    from math import floor, log10

    weight = 10.0 ** (floor(log10(value)) - 1) if value > 0 else 1.0
    return round(floor(value / weight + 1e-9) * weight, 12)


def caution_words(view: UnitView, meter: "MeterRecord | None") -> str:
    """What must be said of the meter beside every reading: overdue, average-responding, too warm or too cold."""
    if meter is None or view.step is None:
        return ""
    from benchapp.sequences.answering.measurement_conditions import temperature_fact
    from benchapp.sequences.planning.entry_times import day_of
    from benchapp.sequences.planning.facts import ROOM_TEMPERATURE

    warmth = temperature_fact(view.state, ROOM_TEMPERATURE)
    said = meter.cautions(view.step.read_on, day_of(view.state.at), warmth)
    return "\n".join(without_id(one, meter.meter) for one in said)


def ranges_of(meter: "MeterRecord", function: "Function") -> tuple[str, ...]:
    """The names of the meter's ranges of this function, smallest first."""
    return tuple(one.name for one in meter.function(function).ranges)


def sibling_words(siblings: "tuple[SiblingRow, ...]", step: "PlannedStep", tried: "Evaluation") -> str:
    """This lot's earlier readings in a line, the newest few by shelf mark; then how the one at hand sits among them."""
    if not siblings:
        return ""
    from benchapp.judgement.meters.functions import kind_of
    from benchapp.quantities.display import show
    from benchapp.sequences.planning.answer_content import ReadingContent

    kind = kind_of(step.read_on)
    shown = "   ".join(f"{one.mark} {show(one.value, kind, unit=step.unit)}" for one in siblings[-6:])
    weight = tried.reading.si_step if tried.reading is not None else None
    read = tr("This lot read: {readings}").format(readings=shown)
    if not isinstance(tried.content, ReadingContent):
        return read
    beside = beside_siblings(siblings, tried.content, step=weight)
    return "\n".join((read, *sibling_sentences(beside, tried.content)))
