"""The capture of a steady reading: once per touch, when the meter's own counts stand still.

A pure fold over readings with their times. Common practice, no source: readings that agree within a few counts for most
of a second, without drift. Before that the probes must have been seen off: an open circuit reads over range in ohms and
next to nothing in volts and amperes. Over range is never caught, nor is what cannot be told from lifted probes.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from statistics import fmean, median_low

from benchapp.judgement.meters.functions import OHMS, Function


@dataclass(frozen=True, slots=True, kw_only=True)
class Steadiness:
    """The rule. Times are in seconds, `open_below` in the SI unit; None where lifted probes read over range.

    `counts` is how far apart the readings of the window may lie, `share` what is added for their size, `drift` by how
    many counts its second half may lie beside its first. `lifted` is how long after the last touching reading an open
    one shows that the probes were taken off, and did not bounce. `longest_gap` is more than one late reading of a meter
    that gives 2.5 a second; behind a longer one the link was gone.
    """

    seconds: float = 0.8
    least: int = 4
    counts: float = 4.0
    share: float = 0.0002
    drift: float = 2.0
    lifted: float = 0.5
    longest_gap: float = 2.0
    open_below: float | None = None

    def __post_init__(self) -> None:
        sizes = (self.seconds, self.counts, self.share, self.drift, self.lifted, self.longest_gap, self.open_below or 0)
        if self.least < 2 or min(sizes) < 0:
            raise ValueError("steadiness needs two readings or more, and no negative distances")


OPEN_BELOW = {
    Function.ac_voltage: 2.0,
    Function.mains_voltage: 2.0,
    Function.dc_voltage: 0.1,
    Function.ac_current: 0.002,
    Function.dc_current: 0.002,
}
"""V or A below which a reading is no more than lifted probes show on a meter of 10 Mohm (common practice, no source)"""


def rule_for(function: Function) -> Steadiness | None:
    """The rule for a function; None for those that nobody takes by touching two points."""
    if function in OHMS:
        return Steadiness()
    below = OPEN_BELOW.get(function)
    return None if below is None else Steadiness(open_below=below)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """One reading: when (seconds), its value in SI (None over range), the weight of the meter's last digit there."""

    at: float
    value: float | None
    count: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """How far one touch has come. As made, the probes have not been seen off yet, and nothing is caught."""

    since: float | None = None
    """when the last reading came that was not open, or the very first one"""
    ready: bool = False
    """the probes were seen off since the last capture"""
    window: tuple[Sample, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Capture:
    """A steady reading: the middle one as the meter gave it, and all that agreed."""

    sample: Sample
    window: tuple[Sample, ...]


def follow(touch: Touch, sample: Sample, rule: Steadiness) -> tuple[Touch, Capture | None]:
    """The touch after one more reading, and what it caught."""
    since = sample.at if touch.since is None else touch.since
    if _is_open(sample, rule):
        return Touch(since=since, ready=touch.ready or sample.at - since >= rule.lifted), None
    if sample.value is None or not touch.ready:
        return Touch(since=sample.at, ready=touch.ready), None
    kept = touch.window if sample.at - since <= rule.longest_gap else ()
    window = _newest((*kept, sample), rule)
    if not _is_steady(window, rule):
        return Touch(since=sample.at, ready=True, window=window), None
    middle = median_low(one.value or 0.0 for one in window)
    caught = next(one for one in window if one.value == middle)
    return Touch(since=sample.at), Capture(sample=caught, window=window)


def captures(samples: Iterable[Sample], rule: Steadiness) -> Iterator[Capture]:
    """The steady readings of a series, each caught once: the next only after the probes were lifted."""
    touch = Touch()
    for sample in samples:
        touch, caught = follow(touch, sample, rule)
        if caught is not None:
            yield caught


def _is_open(sample: Sample, rule: Steadiness) -> bool:
    if rule.open_below is None:
        return sample.value is None
    return sample.value is not None and abs(sample.value) < rule.open_below


def _newest(samples: tuple[Sample, ...], rule: Steadiness) -> tuple[Sample, ...]:
    """The newest samples that span just the time; more of them where the meter is slow, so that enough can agree."""
    newest = samples[-1].at
    spans = (n for n in range(len(samples) - rule.least, -1, -1) if newest - samples[n].at >= rule.seconds)
    return samples[next(spans, 0) :]


def _is_steady(window: tuple[Sample, ...], rule: Steadiness) -> bool:
    if len(window) < rule.least or window[-1].at - window[0].at < rule.seconds:
        return False
    values = [one.value or 0.0 for one in window]
    count = max(one.count for one in window)
    size = rule.share * max(abs(value) for value in values)
    half = len(values) // 2
    drift = abs(fmean(values[:half]) - fmean(values[-half:]))
    return max(values) - min(values) <= rule.counts * count + size and drift <= rule.drift * count + size / 2
