"""The day at this bench, as the engine asks for it."""

from benchapp.actions.workbench.bench import Bench
from benchapp.sequences.planning.bench_day import BenchDay


def bench_day(bench: Bench) -> BenchDay:
    """What today's last opening found, and whether the bench was closed since."""
    opening = bench.opening()
    last = opening or bench.closing()
    if last is None:
        return BenchDay()
    return BenchDay(
        opened=last.at, meters=last.meters, rcd_button_tested=last.rcd_button_tested, closed=opening is None
    )
