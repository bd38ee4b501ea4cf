"""The day at a bench, as the engine asks for it."""

from benchapp.sequences.planning.bench_day import BenchDay
from benchapp.workbook.model.values import BenchOpening


def day_as_of(last: BenchOpening | None, at: str) -> BenchDay:
    """The last opening of a bench as the day at the time `at`; no day at all where it is of an earlier one."""
    if last is None:
        return BenchDay()
    day = BenchDay(
        opened=last.at,
        meters=last.meters,
        rcd_button_tested=last.rcd_button_tested,
        rcd_rating=last.rcd_rating,
        rcd_reset=last.rcd_reset,
        source=last.source,
        room=last.room,
        closed=bool(last.closed),
    )
    return day.as_at(at)
