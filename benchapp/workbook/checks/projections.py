"""The tables that are made from the record, made again from it and compared: lots, units, runs, benches, tags printed.

What only the engine can say of a unit (disposition, due, grade, price, stages) is compared in `actions.audit`.
"""

import json
import sqlite3
from collections.abc import Iterator, Mapping

from benchapp.words import say
from benchapp.workbook.file.store import Store
from benchapp.workbook.model.problems import DamagedWorkbook, as_sentences
from benchapp.workbook.model.values import Difference
from benchapp.workbook.record.made_rows import COLUMNS, TABLES, Made, Rows, made_rows

LONGEST_VALUE = 1000
"""letters of a value that are said of it (own choice); the settings are no longer"""


def check_projections(store: Store) -> Iterator[Difference]:
    """Every row that is not what the record makes it, in the order of the tables."""
    try:
        with as_sentences(store.name), store.looking() as connection:
            made = made_rows(connection)
            expected = made.tables()
            marks = {uuid: row[1] for uuid, row in expected["units"].items()}
            for table, statement in TABLES.items():
                there = {row[0]: tuple(row[1:]) for row in connection.execute(statement)}
                yield from _differences(table, there, expected[table], marks)
            yield from _missing_pins(connection, made)
    except DamagedWorkbook as damage:
        words = say("The record cannot be read as one of this program's ({found}).", found=damage.found)
        yield Difference(unit="", entry=None, words=words)


def _differences(table: str, there: Rows, expected: Rows, marks: Mapping[str, str]) -> Iterator[Difference]:
    for key in sorted({*there, *expected}):
        unit = marks.get(key, "") if table in ("units", "chains") else ""
        name = unit or key
        if key not in expected:
            yield Difference(
                unit="",
                entry=None,
                words=say("{name} stands among the {words}, in no record.", name=name, words=_words(table)),
            )
        elif key not in there:
            yield Difference(
                unit=unit, entry=None, words=say("{name} is missing among the {words}.", name=name, words=_words(table))
            )
        else:
            for column, found, said in zip(COLUMNS[table], there[key], expected[key], strict=True):
                if found != said:
                    words = f"{name}: its {column} among the {_words(table)} is {_said(found)}, "
                    words += f"the record says {_said(said)}."
                    yield Difference(unit=unit, entry=None, words=words)


def _said(value: object) -> str:
    text = repr(value)
    return text if len(text) <= LONGEST_VALUE else f"{text[:LONGEST_VALUE]} …"


def _words(table: str) -> str:
    return {"workbook": "workbook's own words", "tags_printed": "tags printed"}.get(table, table)


def _missing_pins(connection: sqlite3.Connection, made: Made) -> Iterator[Difference]:
    """Lists of texts, and texts of the lists, that are not there."""
    texts = dict(connection.execute("SELECT sha256, text FROM revisions"))
    for listed in sorted({entry.content.pins for _, _, entry in made.runs.values()}):
        if listed not in texts:
            yield Difference(
                unit="", entry=None, words=say("A list of pinned texts ({listed}) is missing.", listed=listed[:8])
            )
            continue
        for name, link in json.loads(texts[listed]).items():
            if link not in texts:
                yield Difference(
                    unit="",
                    entry=None,
                    words=say("The pinned text {name} ({link}) is missing.", name=name, link=link[:8]),
                )
