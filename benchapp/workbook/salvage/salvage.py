"""What can still be read of a damaged workbook, put into a workbook of its own to look at.

Each table is read page by page, and pages that no readable page leads to as well: a row says by its columns to which
table it belongs. Whether the rows are as they were recorded is not asked here: the check of the record says that.
"""

import re
import sqlite3
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from benchapp.workbook.file import sqlite
from benchapp.workbook.model.problems import DamagedWorkbook
from benchapp.workbook.opened.opening import APPLICATION_ID, migrate
from benchapp.workbook.salvage.page_reader import LEAF, PageRow, Pages, Value
from benchapp.workbook.salvage.remaking import remake_lost_rows

ANY = re.compile(".*", re.DOTALL)
FORMS = {"sha256": re.compile("[0-9a-f]{64}"), "uuid": re.compile("[0-9a-f-]{36}")}
"""columns whose text has a form, by which rows of one table are told from those of another"""


class Column(NamedTuple):
    """A column of a table as SQLite describes it."""

    name: str
    kind: str
    needed: bool
    is_number_of_row: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Salvaged:
    """The workbook made of what could be read, and how many rows of each table that are."""

    path: Path
    rows: Mapping[str, int] = field(default_factory=dict)


def salvage(damaged: Path, to: Path) -> Salvaged:
    """Read what can be read of the file (and its log) into a new workbook `to`; the damaged file stays as it is.

    Raises DamagedWorkbook where no unit and no entry can be read.
    """
    log = sqlite.log_of(damaged)
    pages = Pages(damaged.read_bytes(), log.read_bytes() if log.exists() else b"")
    to.write_bytes(_empty_workbook())
    with closing(sqlite.connect(to, references=False)) as connection:
        sqlite.set_application_id(connection, APPLICATION_ID)
        tables = _tables(connection)
        connection.execute("BEGIN")
        for table, row in (*_reached(pages, tables), *_stray(pages, tables)):
            _insert(connection, table, tables[table], row)
        remake_lost_rows(connection)
        connection.execute("COMMIT")
        rows = {table: _count(connection, table) for table in tables}
    if not rows["units"] and not rows["entries"]:
        raise DamagedWorkbook(damaged.name, "no unit and no entry can be read")
    return Salvaged(path=to, rows=rows)


@cache
def _empty_workbook() -> bytes:
    """A file with the tables and guards of a workbook and nothing in them."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "empty"
        migrate(path)
        return path.read_bytes()


def _tables(connection: sqlite3.Connection) -> dict[str, tuple[Column, ...]]:
    names = [name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
    return {name: _columns(connection, name) for name in names if not name.startswith(("sqlite_", "alembic"))}


def _columns(connection: sqlite3.Connection, table: str) -> tuple[Column, ...]:
    rows = connection.execute('SELECT name, type, "notnull", pk FROM pragma_table_info(?)', (table,)).fetchall()
    alone = sum(1 for *_, key in rows if key) == 1
    return tuple(
        Column(name, kind.upper(), bool(needed), bool(key) and alone and kind.upper() == "INTEGER")
        for name, kind, needed, key in rows
    )


def _reached(pages: Pages, tables: Mapping[str, tuple[Column, ...]]) -> Iterator[tuple[str, PageRow]]:
    """Rows of the pages that the file's own list of tables leads to."""
    for table, root in _roots(pages).items():
        if table in tables:
            for number in pages.leaves(root):
                yield from ((table, row) for row in pages.rows(number) if _is_of_kinds(row, tables[table]))


def _roots(pages: Pages) -> dict[str, int]:
    """The first page of each table, by its name, as far as the file's list of them can be read."""
    found = {}
    for number in pages.leaves(1):
        for row in pages.rows(number):
            if len(row.values) >= 4 and row.values[0] == "table" and isinstance(row.values[3], int):
                found[str(row.values[1])] = row.values[3]
    return found


def _stray(pages: Pages, tables: Mapping[str, tuple[Column, ...]]) -> Iterator[tuple[str, PageRow]]:
    """Rows of the pages that nothing leads to any more, where all of a page fits one table alone."""
    known = {number for root in (1, *_roots(pages).values()) for number in pages.leaves(root)}
    for number in range(1, pages.count + 1):
        if number in known or pages.kind(number) != LEAF:
            continue
        rows = tuple(pages.rows(number))
        table = _table_of(rows, tables)
        if table:
            yield from ((table, row) for row in rows if _fits(row, tables[table]))


def _table_of(rows: Iterable[PageRow], tables: Mapping[str, tuple[Column, ...]]) -> str:
    votes = Counter(table for row in rows for table, columns in tables.items() if _fits(row, columns))
    best = votes.most_common(2)
    if not best or (len(best) == 2 and best[0][1] == best[1][1]):
        return ""
    return best[0][0]


def _fits(row: PageRow, columns: tuple[Column, ...]) -> bool:
    """Whether the row may be one of this table, by the kinds of its values and the form of their text."""
    return len(row.values) == len(columns) and all(
        _is_of_kind(value, column) and _has_form(value, column)
        for value, column in zip(row.values, columns, strict=True)
    )


def _is_of_kinds(row: PageRow, columns: tuple[Column, ...]) -> bool:
    """Whether the table can hold the row; an older one has fewer values than the table has columns."""
    return len(row.values) <= len(columns) and all(map(_is_of_kind, row.values, columns))


def _has_form(value: Value, column: Column) -> bool:
    return not isinstance(value, str) or bool(FORMS.get(column.name, ANY).fullmatch(value))


def _is_of_kind(value: Value, column: Column) -> bool:
    if value is None:
        return column.is_number_of_row or not column.needed
    if column.is_number_of_row:
        return False  # SQLite keeps it as the number of the row
    if column.kind in ("INTEGER", "BOOLEAN"):
        return isinstance(value, int)
    if column.kind in ("BLOB",):
        return isinstance(value, bytes)
    return isinstance(value, str) if column.kind == "TEXT" else isinstance(value, int | float)


def _insert(connection: sqlite3.Connection, table: str, columns: tuple[Column, ...], row: PageRow) -> None:
    """Put the row in, unless one with the same keys is there or it breaks the table's own rules."""
    values = [
        row.rowid if column.is_number_of_row else value for column, value in zip(columns, row.values, strict=False)
    ]
    names = ", ".join(f'"{column.name}"' for column in columns[: len(values)])
    marks = ", ".join("?" * len(values))
    try:
        connection.execute(f'INSERT OR IGNORE INTO "{table}" ({names}) VALUES ({marks})', values)  # noqa: S608
    except (sqlite3.Error, OverflowError, UnicodeError):
        return


def _count(connection: sqlite3.Connection, table: str) -> int:
    return int(connection.execute(f'SELECT count(*) FROM "{table}"').fetchone()[0])  # noqa: S608
