"""A list of units from a CSV, XLSX or ODS file, read and held against the workbook; reading takes nothing in."""

import csv
import io
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import IntakeProblem
from benchapp.words import say
from benchapp.workbook.file.whole_files import read_regular

if TYPE_CHECKING:
    from benchapp.lots.listed_units import Designs, ListedUnit, WrongLine

MOST_BYTES = 5_000_000
MOST_UNPACKED = 100_000_000
"""bytes of a spreadsheet once unpacked: what asks for more is no list of units (own choice)"""
MOST_LINES = 2_001
"""a head and as many units as one lot may hold"""
UNKNOWN = "unknown-mains-item"
SPREADSHEETS = (".xlsx", ".ods")


@dataclass(frozen=True, slots=True, kw_only=True)
class DryRun:
    """What a list would bring: units that are right, lines that are not, what is wrong with its head."""

    units: "tuple[ListedUnit, ...]"
    wrong: "tuple[WrongLine, ...]"
    head: tuple[str, ...] = ()


def try_lot_file(bench: Bench, path: Path) -> DryRun:
    """Read the list and say of every line what is wrong with it; raises IntakeProblem where it is no such file."""
    from benchapp.lots.listed_units import read_head, read_units

    rows = _rows(path)
    if not rows:
        raise IntakeProblem(say("{name} holds no lines. The first says what its columns are.", name=path.name))
    if len(rows) > MOST_LINES:
        raise IntakeProblem(
            say(
                "{name} has {count} line(s), and a lot holds at most {most} units.",
                name=path.name,
                count=len(rows),
                most=MOST_LINES - 1,
            )
        )
    names, head = read_head(rows[0])
    if head:
        return DryRun(units=(), wrong=(), head=head)
    units, wrong = read_units(names, rows[1:], designs_offered(bench), bench.workbook.marks())
    return DryRun(units=units, wrong=wrong)


def designs_offered(bench: Bench) -> "Designs":
    """What a unit may be taken in as here."""
    from benchapp.lots.listed_units import Designs

    catalogue = bench.catalogue
    titles = {one: design.title for one, design in catalogue.equipment.items()}
    return Designs(titles=titles, routes={one: catalogue.routes_for(one) for one in titles}, unknown=UNKNOWN)


def _rows(path: Path) -> list[list[str]]:
    content = _content(path)
    if path.suffix.lower() in SPREADSHEETS:
        return _of_spreadsheet(content, path.name)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")  # what office programs of one system write
    try:
        first = text.partition("\n")[0]
        return list(csv.reader(io.StringIO(text, newline=""), delimiter=max("\t;,", key=first.count), strict=True))
    except csv.Error as error:
        raise IntakeProblem(
            say(
                "{name} is no table of comma-separated lines ({error}). Save it as CSV again.",
                name=path.name,
                error=error,
            )
        ) from error


def _content(path: Path) -> bytes:
    try:
        content = read_regular(path)
    except OSError as error:
        raise IntakeProblem(
            say("{path} cannot be read ({why}). Choose another file.", path=path, why=error.strerror or str(error))
        ) from error
    if len(content) > MOST_BYTES:
        raise IntakeProblem(say("{name} is far larger than a list of units. Choose another file.", name=path.name))
    return content


def _of_spreadsheet(content: bytes, name: str) -> list[list[str]]:
    """The first sheet, as text; raises IntakeProblem for what is no spreadsheet."""
    from zipfile import BadZipFile, ZipFile

    no_sheet = say("{name} is no spreadsheet that can be read. Save it again, or save it as CSV.", name=name)
    try:
        with ZipFile(io.BytesIO(content)) as packed:
            unpacked = sum(one.file_size for one in packed.infolist())
    except BadZipFile as error:
        raise IntakeProblem(no_sheet) from error
    if unpacked > MOST_UNPACKED:
        raise IntakeProblem(say("{name} is far larger than a list of units. Choose another file.", name=name))
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        sheet = CalamineWorkbook.from_filelike(io.BytesIO(content)).get_sheet_by_index(0)
        rows = sheet.to_python(skip_empty_area=False)
    except (CalamineError, OSError, ValueError) as error:
        raise IntakeProblem(no_sheet) from error
    return [[_text(cell) for cell in row] for row in rows]


def _text(cell: object) -> str:
    """A cell as a person reads it: a serial number that was taken for a number has no point behind it."""
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return cell.isoformat() if isinstance(cell, datetime | date) else str(cell)
