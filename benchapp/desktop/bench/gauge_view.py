"""From an answer that was tried to what the gauge and the reasons beside it show."""

from typing import TYPE_CHECKING

from benchapp.desktop.bench.plain_words import about, is_stated, plain_source, plain_what
from benchapp.desktop.widgets.gauge import GaugeContent, Mark
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.judgement.statements.band import Band
    from benchapp.sequences.planning.planned import PlannedStep
    from benchapp.sequences.planning.state import Evaluation


def band_of(step: "PlannedStep", tried: "Evaluation") -> "Band | None":
    """The band that the answer is held against, even before anything is typed."""
    return tried.band or (step.probe.band if step.probe else None)


def gauge_content(step: "PlannedStep", tried: "Evaluation", siblings: tuple[float, ...]) -> GaugeContent:
    """The band, and the reading on it where one could be read."""
    band = band_of(step, tried)
    if band is None:
        return GaugeContent(judgement=str(tried.judgement), sentence=tried.sentence, siblings=siblings)
    decision = tried.decision
    over = tried.reading is not None and tried.reading.quantity is None
    return GaugeContent(
        lower=band.lower,
        upper=band.upper,
        guard=(decision.guard_band or 0.0) if decision else 0.0,
        marks=_marks(band),
        value=decision.value if decision is not None and not over else None,
        over_range=over,
        judgement=str(tried.judgement) if tried.reading is not None else "",
        sentence=tried.sentence,
        siblings=siblings,
    )


def _marks(band: "Band") -> tuple[Mark, ...]:
    from benchapp.quantities.display import show

    say = show if is_stated(band) else about
    limits = [limit for limit in (band.lower, band.upper) if limit is not None]
    marks = [Mark(value=limit, text=say(limit, band.kind, unit=band.unit)) for limit in limits]
    if band.expected is not None and band.expected not in (band.lower, band.upper):
        text = tr("expected {value}").format(value=show(band.expected, band.kind, unit=band.unit))
        marks.append(Mark(value=band.expected, text=text, expected=True))
    return tuple(marks)


def why_words(step: "PlannedStep", tried: "Evaluation", *, stop_said: bool = False) -> str:
    """The derivation of the band, a line for each thing that went into it, then what the reading was put right by.

    The band itself stands above it, and so does where to switch off, with `stop_said`: neither is said again.
    """
    from benchapp.judgement.statements.sentences import say_limits
    from benchapp.wiring.expected.first_power import is_off_at_once

    band = band_of(step, tried)
    if band is None:
        return "\n".join([tr("No band: this reading is recorded and not judged."), *_put_right(tried)])
    limits = say_limits(band)
    lines = [derivation_line(line.what, line.value, line.source) for line in band.derivation if line.value != limits]
    if step.probe is not None and step.probe.why:
        lines.insert(0, step.probe.why)
    cautions = [one for one in band.cautions if not (stop_said and is_off_at_once(one))]
    return "\n".join([*lines, *cautions, *_put_right(tried)])


def _put_right(tried: "Evaluation") -> list[str]:
    """What was taken off the reading before it was judged: leads, the meter's load, a bent wave."""
    from benchapp.sequences.planning.answer_content import ReadingContent

    if not isinstance(tried.content, ReadingContent):
        return []
    return [derivation_line(line.what, line.value, line.source) for line in tried.content.corrections]


def derivation_line(what: str, value: str, source: str) -> str:
    """One step of a derivation, with its source where it has one."""
    return f"{plain_what(what)}: {value}" + (f"  ({plain_source(source)})" if source else "")
