"""The picture of the meter that takes the reading at hand, and what its display should show."""

from dataclasses import replace
from typing import TYPE_CHECKING

from benchapp.desktop.bench.gauge_view import band_of
from benchapp.desktop.bench.meters import meter_at_hand
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.pictures.meter_picture import DIAL, MeterPicture
from benchapp.desktop.words import tr
from benchapp.judgement.meters.functions import CURRENTS, OF_THE_MAINS, OHMS, THROUGH_LEADS, WITH_POLARITY, Function

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.sequences.planning.planned import PlannedStep
    from benchapp.sequences.planning.state import Evaluation

_PLUGGED = "plug-in"


def meter_picture(view: UnitView, meter: "MeterRecord", tried: "Evaluation") -> MeterPicture:
    """The meter with its dial on the step's function; its positions are the functions that its record states."""
    step = view.step
    assert step is not None
    set_to = dial_picture(meter, step.read_on)
    expects = expected_display(view, step, meter, tried)
    words = set_to.words
    if expects:
        words += " " + tr("It should show about {value}.").format(value=expects)
    together = "leads proved" in {str(role) for role in step.shows}
    return replace(set_to, words=words, expects=expects, together=together)


def dial_picture(meter: "MeterRecord", function: "Function") -> MeterPicture:
    """The meter with its dial on that function, and its leads in their jacks."""
    words = tr("{meter}, dial on {dial}, for {function}.").format(
        meter=meter.title, dial=DIAL.get(str(function), str(function)), function=tr(str(function))
    )
    return MeterPicture(
        words=words,
        title=meter.title.partition(",")[0],
        positions=tuple(dict.fromkeys(str(one) for one in meter.functions)),
        position=str(function),
        jacks=_jacks(meter, function),
        polar=function in WITH_POLARITY,
    )


def turned_picture(view: UnitView) -> MeterPicture | None:
    """The meter as it has to stand before its leads go onto pins that may be live: now both tips touch nothing."""
    meter = meter_at_hand(view)
    if meter is None or view.step is None:
        return None
    set_to = dial_picture(meter, view.step.read_on)
    return replace(set_to, words=tr("Both tips touch nothing. {meter}").format(meter=set_to.words), loose=True)


def _jacks(meter: "MeterRecord", function: "Function") -> tuple[str, ...]:
    if _PLUGGED in str(meter.kind) or function in OF_THE_MAINS - CURRENTS or function is Function.temperature:
        return ()
    if function in CURRENTS:
        return ("COM", "A")
    return ("COM", "V Ω") if "hand" in str(meter.kind) else ("−", "+")


def expected_display(view: UnitView, step: "PlannedStep", meter: "MeterRecord", tried: "Evaluation") -> str:
    """What a sound item shows on that meter, in its own digits and with its leads in; empty where nothing tells it."""
    from benchapp.quantities.display import show
    from benchapp.sequences.answering.measurement_conditions import leads_of

    band = band_of(step, tried)
    if band is None:
        return ""
    if band.expected is None:
        apart = band.lower is not None and band.upper is None and step.read_on in OHMS
        return "OL" if apart else ""
    leads = leads_of(view.state, meter.meter) if step.read_on in THROUGH_LEADS else None
    value = band.expected + (leads or 0.0)
    ranges = meter.function(step.read_on).ranges
    count = next((one.count for one in ranges if value <= one.full_scale), None)
    return "OL" if count is None else show(value, band.kind, step=count, unit=step.unit)
