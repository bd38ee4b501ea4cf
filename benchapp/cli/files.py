"""Files that people write: check them, and give the schema that an editor completes them by."""

import argparse
import sys
from dataclasses import asdict
from pathlib import Path

from benchapp.cli.shape import Command, add_json, print_json


def _check_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("paths", metavar="PATH", nargs="*", type=Path, help="files or folders; what is shipped if none")
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
        from benchapp.actions import file_schema, file_schemas

        print_json(file_schema(asked.schema) if asked.schema else file_schemas())
        return 0
    from benchapp.actions import check_files

    reports = check_files(asked.paths)
    if asked.json:
        print_json([asdict(report) | {"good": report.good} for report in reports])
        return 0 if all(report.good for report in reports) else 1
    for report in reports:
        for line in (*report.complaints, *report.failed_cases):
            print(line, file=sys.stderr)
        cases = f", {report.cases} worked cases" if report.cases else ""
        print(f"{'good' if report.good else 'WRONG'}  {report.path} ({report.kind}{cases})")
    wrong = sum(not report.good for report in reports)
    print(f"{len(reports)} files, {wrong} with something to mend" if wrong else f"{len(reports)} files, all good")
    return 1 if wrong else 0


COMMANDS = (
    Command(
        name="check",
        says="check files with their cross-references and worked cases; exit 1 when one has something to mend",
        arguments=_check_arguments,
        run=_check,
    ),
)
