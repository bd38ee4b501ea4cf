"""Files that people write: check them, and give the schema that an editor completes them by.

What is wrong with a file is the answer of `check`, and so it is printed where answers are.
"""

import argparse
from dataclasses import asdict
from typing import TYPE_CHECKING

from benchapp.cli.shape import Command, add_json, path_named, print_json, say

if TYPE_CHECKING:
    from benchapp.actions.standalone.checking import FileReport


def _check_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "paths", metavar="PATH", nargs="*", type=path_named, help="files or folders; what is shipped if none"
    )
    parser.add_argument(
        "--schema",
        metavar="KIND",
        nargs="?",
        const="",
        help="print the JSON Schema of a kind of file instead (of all kinds when none is named)",
    )
    add_json(parser)


def _check(asked: argparse.Namespace) -> int:
    if asked.schema is not None:
        from benchapp.actions.standalone.schemas import file_schema, file_schemas

        print_json(file_schema(asked.schema) if asked.schema else file_schemas())
        return 0
    from benchapp.actions.standalone.checking import check_files

    reports = check_files(asked.paths)
    if asked.json:
        print_json([asdict(report) | {"good": report.good} for report in reports])
        return 0 if all(report.good for report in reports) else 1
    for report in reports:
        cases = f", {_counted(report.cases, 'worked case')}" if report.cases else ""
        say(f"{_word(report)}  {report.path} ({report.kind}{cases})")
        for line in (*report.complaints, *report.failed_cases):
            say(line)
        for remark in report.remarks:
            say(f"  {remark}")
    wrong = sum(bool(report.complaints or report.failed_cases) for report in reports)
    files = _counted(len(reports), "file")
    say(f"{files}, {wrong} with something to mend" if wrong else f"{files}, all good")
    return 1 if wrong else 0


def _word(report: "FileReport") -> str:
    """How the file stands; what rests on a file with complaints is only read, not checked to the end."""
    if report.complaints or report.failed_cases:
        return "WRONG"
    return "good" if report.whole else "read, not yet checked against the others"


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


COMMANDS = (
    Command(
        name="check",
        says="check files with their cross-references and worked cases; exit 1 when one has something to mend",
        arguments=_check_arguments,
        run=_check,
    ),
)
