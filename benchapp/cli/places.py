"""Where a workbook lies: a whole copy of it elsewhere, and what is to be told of its place."""

import argparse
import sys
from typing import TYPE_CHECKING

from benchapp.cli.shape import Command, path_named, progress_of, say

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench


def tell_place(bench: "Bench") -> None:
    """Say on stderr what a person should know of the file's place: for looking only, on a network drive."""
    for remark in bench.remarks:
        say(f"benchapp: {remark}", to=sys.stderr)


def _copy_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("workbook", metavar="WORKBOOK", type=path_named)
    parser.add_argument("to", metavar="TO", type=path_named, help="the new file, or a folder for one of the same name")


def _copy(asked: argparse.Namespace) -> int:
    from benchapp.actions.workbench.copying import UnsoundCopy, copy_workbook

    try:
        say(copy_workbook(asked.workbook, asked.to, progress=progress_of("pages")).words)
    except UnsoundCopy as problem:
        say(problem.sentence)
        return 1
    return 0


COMMANDS = (
    Command(
        name="copy",
        says="make a whole, checked copy of a workbook, also while it is in use; exit 1 when its record does not hold",
        arguments=_copy_arguments,
        run=_copy,
    ),
)
