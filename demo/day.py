"""The demo itself: a fresh workbook of the made-up archive, in a window or played from first key to printed tags.

Everything goes into demo/out/; the list of `keep.py` says which files there are the demo's own and may be replaced.
"""

import argparse
import os
import sys
import time
from pathlib import Path

from benchapp.errors import BenchError
from benchapp.operating_system import DATA_VARIABLE, has_display
from demo.keep import Keep
from demo.scenario import Day, LotOfTheDay, read_day

OUT = Path(__file__).with_name("out")


def main() -> int:
    """Play the day where there is no display or when asked to, else open the window on it."""
    parser = argparse.ArgumentParser(description="The repair-bench workbook on a made-up day.")
    parser.add_argument("--no-window", action="store_true", help="play the day offscreen and write papers and pictures")
    arguments = parser.parse_args()
    keep = Keep(OUT)
    try:
        keep.clear()
        os.environ[DATA_VARIABLE] = str(keep.data())  # the demo's bench is none of the person's own
        if arguments.no_window or not has_display():
            return play(keep, read_day())
        return show(keep, read_day())
    except BenchError as problem:
        print(problem, file=sys.stderr)
        return 2
    except OSError as problem:
        print(f"{problem.filename or OUT} could not be written: {problem.strerror}.", file=sys.stderr)
        return 2


def show(keep: Keep, day: Day) -> int:
    """A workbook with the lots taken in and the bench open, in a window."""
    from benchapp.actions.workbench.bench import Bench
    from benchapp.desktop.start import run
    from benchapp.sequences.planning.planned import Workshop

    path = keep.workbook()
    bench = Bench.create(path, workshop=Workshop(people=day.people, demo=True))
    for lot in day.lots:
        take_in(bench, lot, day)
    bench.close()
    return run(path)


def take_in(bench: object, lot: LotOfTheDay, day: Day) -> None:
    """Take in one lot of the day."""
    from benchapp.actions.entries.intake import shelf_marks, take_in_lot

    marks = shelf_marks(lot.first, lot.count)
    take_in_lot(
        bench,  # type: ignore[arg-type]
        name=lot.lot,
        equipment=lot.equipment,
        route=route_for(bench, lot.equipment),
        marks=marks,
        by=day.technician,
    )


def route_for(bench: object, equipment: str) -> str:
    """The first shipped route that names the equipment."""
    routes = bench.catalogue.routes  # type: ignore[attr-defined]
    return next(name for name, route in routes.items() if equipment in route.equipment)


def play(keep: Keep, day: Day) -> int:
    """The same day by keys through the same pages, without a display, then papers and a short account."""
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    from demo.played import played_day

    began = time.monotonic()
    account = played_day(keep, day)
    print(account)
    print(f"Papers and pictures are in {keep.folder} ({time.monotonic() - began:.0f} s).")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
