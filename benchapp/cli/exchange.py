"""Day files on the console: write one, and bring them into a workbook."""

import argparse
import sys

from benchapp.cli.places import tell_place
from benchapp.cli.shape import Command, path_named, say
from benchapp.errors import BenchError


def _export_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument("--out", required=True, metavar="FILE", type=path_named, help="the day file; never over one")
    parser.add_argument("--unit", metavar="MARK", action="append", default=[], help="this unit alone; may be repeated")
    parser.add_argument("--since", metavar="DATE", default="", help="units with an entry since that day, as 2026-05-04")
    parser.add_argument("--lend-to", metavar="BENCH", default="", help="lend the units to that bench, by name or UUID")
    parser.add_argument("--by", metavar="INITIALS", default="", help="who lends them, for the record")


def _export(asked: argparse.Namespace) -> int:
    from benchapp.actions.exchange.exporting import export_day_file
    from benchapp.actions.workbench.bench import Bench

    with Bench.open(asked.workbook) as bench:
        tell_place(bench)
        units, since = tuple(asked.unit), asked.since
        done = export_day_file(bench, out=asked.out, units=units, since=since, lend_to=asked.lend_to, by=asked.by)
    say(done.words)
    return 0


def _import_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument("files", metavar="FILE", nargs="+", type=path_named, help="day files, in any order")
    parser.add_argument("--by", metavar="INITIALS", default="", help="who brings them in, for the record")


def _import(asked: argparse.Namespace) -> int:
    from benchapp.actions.exchange.importing import import_day_file
    from benchapp.actions.workbench.bench import Bench

    problems: list[BenchError] = []
    with Bench.open(asked.workbook) as bench:
        tell_place(bench)
        for path in asked.files:
            try:
                say(import_day_file(bench, path, by=asked.by).words)
            except BenchError as problem:  # the other files are still brought in
                problems.append(problem)
    for told in problems[:-1]:
        say(f"benchapp: {told.sentence}", to=sys.stderr)
    if problems:
        raise problems[-1]
    return 0


COMMANDS = (
    Command(
        name="export",
        says="write a day file: the whole records of all units, of some, or of those worked on since a day",
        arguments=_export_arguments,
        run=_export,
    ),
    Command(
        name="import",
        says="bring day files into a workbook; nothing is added twice, and nothing of a file that does not hold",
        arguments=_import_arguments,
        run=_import,
    ),
)
