"""Readings that a tester kept, and the file that describes how its table says them.

The table is text with a head of column names (RFC 4180, from memory). Each row that names a unit and a test becomes one
reading, with the row itself beside it; what cannot be read is told by its line, and nothing is guessed.
"""

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from benchapp.files.forms import TextForm
from benchapp.files.models import FileModel
from benchapp.meters.problems import MeterProblem
from benchapp.visible import visible
from benchapp.words import say

MOST_ROWS = 10_000
LONGEST_TABLE = 5_000_000
"""characters of one table (own choice)"""
LONGEST_ROW = 300
"""characters of a row that are kept beside its reading (own choice)"""
_ID = TextForm(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", words="small letters and digits with dashes between them")


class StoredColumns(FileModel):
    """The names of the columns, as the head of the table has them."""

    unit: str
    """the shelf mark"""
    test: str
    """which test it was, in the tester's words"""
    value: str
    """what it read"""
    in_: str = ""
    """in which unit, where a column of its own says it"""
    time: str = ""
    """when, as the tester writes it"""


class StoredReadings(FileModel):
    """How the table of one tester is read."""

    stored_readings: Annotated[str, _ID]
    """the id of this description"""
    title: str
    """which tester's table it is, in words"""
    taken_with: str
    """the id of the meter that took the readings"""
    columns: StoredColumns
    """which column says what"""
    tests: dict[str, str] = Field(min_length=1)
    """for each test in the tester's words, the step it answers: sequence.step"""
    separator: Literal[",", ";", "tab"] = ","
    """what stands between two columns"""
    in_: str = ""
    """in which unit all values are, where no column says it: Mohm"""
    over_range: tuple[str, ...] = ()
    """what stands for over range"""


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredReading:
    """One row: which unit, which step, what was read as a person would type it, and the row as it stands."""

    line: int
    unit: str
    address: str
    typed: str
    row: str
    time: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """The readings of a table, and what was passed over, a sentence each."""

    readings: tuple[StoredReading, ...]
    passed_over: tuple[str, ...] = ()


def read_table(text: str, described: StoredReadings) -> Table:
    """The readings of a table; raises MeterProblem where it is not the table that is described."""
    if len(text) > LONGEST_TABLE:
        raise MeterProblem(say("This table is longer than any tester's memory. Check that it is the right file."))
    separator = "\t" if described.separator == "tab" else described.separator
    rows = csv.reader(io.StringIO(text.removeprefix("\ufeff")), delimiter=separator, strict=True)
    try:
        head = [name.strip() for name in next(rows, [])]
        _refuse_other_head(head, described)
        found = list(_readings(rows, head, described))
    except csv.Error as error:
        raise MeterProblem(
            say("Line {line_num} is no line of a table ({error}).", line_num=rows.line_num, error=error)
        ) from error
    readings = tuple(one for one in found if isinstance(one, StoredReading))
    return Table(readings=readings, passed_over=tuple(one for one in found if isinstance(one, str)))


def _refuse_other_head(head: list[str], described: StoredReadings) -> None:
    columns = described.columns
    named = [columns.unit, columns.test, columns.value, columns.in_, columns.time]
    if missing := [name for name in named if name and name not in head]:
        there = ", ".join(visible(name)[:40] for name in head[:20]) or "nothing"
        raise MeterProblem(
            say(
                "The table has no column “{missing}”; it has {there}. Mend the columns in "
                "{stored_readings}, or choose the file that it describes.",
                missing=missing[0],
                there=there,
                stored_readings=described.stored_readings,
            )
        )


def _readings(rows: Iterator[list[str]], head: list[str], described: StoredReadings) -> Iterator[StoredReading | str]:
    for count, row in enumerate(rows):
        if count >= MOST_ROWS:
            raise MeterProblem(
                say("The table has more than {MOST_ROWS} rows. Take a part of it at a time.", MOST_ROWS=MOST_ROWS)
            )
        if any(cell.strip() for cell in row):
            said = {name: cell.strip() for name, cell in zip(head, row, strict=False)}
            yield _reading(count + 2, said, ";".join(row), described)


def _reading(line: int, said: Mapping[str, str], row: str, described: StoredReadings) -> StoredReading | str:
    columns = described.columns
    unit, test, value = (said.get(name, "") for name in (columns.unit, columns.test, columns.value))
    if not unit or not value:
        return say("Line {line} names no {value}.", line=line, value="unit" if not unit else "value")
    address = described.tests.get(test)
    if address is None:
        return say(
            "Line {line}: “{visible}” is none of the tests that {stored_readings} describes.",
            line=line,
            visible=visible(test)[:40],
            stored_readings=described.stored_readings,
        )
    within = said.get(columns.in_, "") or described.in_
    over = value in described.over_range
    return StoredReading(
        line=line,
        unit=unit,
        address=address,
        typed="OL" if over else f"{value} {within}".strip(),
        row=visible(row)[:LONGEST_ROW],
        time=said.get(columns.time, ""),
    )
