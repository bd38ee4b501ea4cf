"""From when until when mains may have been on a unit, by its entries, and which spans of one bench overlap."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from benchapp.sequences.planning.entries import Entry


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerSpan:
    """Mains may have been on this unit at this bench: from the entry of that number until a good plug-out, if any."""

    unit: str
    bench: str
    number: int
    since: str
    until: str = ""

    def covers(self, at: str) -> bool:
        """Whether it had begun at that time and was not over; one that a clock set back has turned round never was."""
        moment = datetime.fromisoformat(at)
        begun = datetime.fromisoformat(self.since) <= moment
        return begun and (not self.until or moment < datetime.fromisoformat(self.until))


def power_spans(
    unit: str, entries: Sequence[Entry], on_before: Mapping[int, bool], *, on_after: bool
) -> Iterator[PowerSpan]:
    """The spans of one unit: `on_before` says by number whether mains may have been on before each of its entries."""
    began: Entry | None = None
    for entry, following in zip(entries, (*entries[1:], None), strict=False):  # the None is left over of none
        on = on_after if following is None else on_before.get(following.number, began is not None)
        if on and began is None:
            began = entry
        elif began is not None and not on:
            yield _span(unit, began, entry.at)
            began = None
    if began is not None:
        yield _span(unit, began, "")


def _span(unit: str, began: Entry, until: str) -> PowerSpan:
    return PowerSpan(unit=unit, bench=began.bench, number=began.number, since=began.at, until=until)


def together(spans: Iterable[PowerSpan]) -> Iterator[tuple[PowerSpan, PowerSpan]]:
    """Each span that began at a bench while another unit's was not over, the other one first."""
    benches: defaultdict[str, list[PowerSpan]] = defaultdict(list)
    for span in spans:
        benches[span.bench].append(span)
    for there in benches.values():
        going: list[PowerSpan] = []
        for span in sorted(there, key=lambda one: datetime.fromisoformat(one.since)):
            going = [one for one in going if one.covers(span.since)]
            yield from ((one, span) for one in going if one.unit != span.unit)
            going.append(span)
