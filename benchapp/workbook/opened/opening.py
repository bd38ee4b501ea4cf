"""Whether a file may be opened, and making or migrating one. alembic is only loaded where it has work to do."""

import sqlite3
from collections.abc import Callable, Mapping
from contextlib import closing, suppress
from pathlib import Path
from typing import Any

from benchapp.operating_system import is_disk_full
from benchapp.words import say
from benchapp.workbook.file import sqlite
from benchapp.workbook.file.left_log import refuse_strange_log
from benchapp.workbook.file.schema_check import refuse_other_schema
from benchapp.workbook.file.sqlite import HEADER_BYTES, MAGIC, copy_database, log_of
from benchapp.workbook.file.standing_place import is_open_here
from benchapp.workbook.model.problems import (
    AlreadyThere,
    DamagedWorkbook,
    DiskFull,
    NewerWorkbook,
    NoSuchWorkbook,
    NotAWorkbook,
    ReadOnlyPlace,
    UnreadablePlace,
    WorkbookProblem,
    as_sentences,
)
from benchapp.workbook.model.values import BenchIdentity

LONGEST_LOOK = 4.0
"""seconds for finding out what a file is made of; an honest one takes a few milliseconds (own choice)"""
HEAD = "0001"
"""The revision that this version of the program writes; a test holds it equal to the newest migration."""
APPLICATION_ID = 0x62656E63
"""SQLite's mark of whose file it is: "benc" in ASCII"""


def revision_of(path: Path, *, look_only: bool = False) -> str:
    """The revision a workbook file stands at; raises WorkbookProblem when it is none, damaged or newer."""
    check_header(path)
    with as_sentences(path.name), sqlite.opened(path, look_only=look_only) as connection:
        return revision_in(connection, path.name)


def revision_in(connection: sqlite3.Connection, name: str) -> str:
    """The same of an open file."""
    if sqlite.application_id(connection) != APPLICATION_ID:
        raise NotAWorkbook(name)
    with sqlite.within(connection, LONGEST_LOOK):
        return _revision_of_ours(connection, name)


def _revision_of_ours(connection: sqlite3.Connection, name: str) -> str:
    row = _stored_revision(connection)
    if row is None:
        raise DamagedWorkbook(name, "it does not say of which format it is")
    revision = str(row[0])
    if revision > HEAD:
        raise NewerWorkbook(name, revision, HEAD)
    if revision == HEAD:
        refuse_other_schema(connection, name)
    return revision


def _stored_revision(connection: sqlite3.Connection) -> tuple[str] | None:
    if not sqlite.has_table(connection, "alembic_version"):
        return None
    rows: list[tuple[str]] = connection.execute("SELECT version_num FROM alembic_version LIMIT 2").fetchall()
    return rows[0] if len(rows) == 1 else None


def check_header(path: Path) -> None:
    """Refuse what is no database before SQLite touches it, and a file shorter than its own header says.

    A workbook that this process has open is known to be one. Raises WorkbookProblem.
    """
    if is_open_here(path):
        return
    try:
        if not path.exists():
            raise NoSuchWorkbook(str(path))
        if not path.is_file():
            raise NotAWorkbook(path.name)
        with path.open("rb") as file:
            header = file.read(HEADER_BYTES)
    except OSError as error:
        raise UnreadablePlace(path.name, error.strerror or str(error)) from error
    if header[:16] != MAGIC:
        raise NotAWorkbook(path.name)
    if len(header) < HEADER_BYTES or _is_cut_short(path, header):
        raise DamagedWorkbook(path.name, "its end is missing")
    try:
        with as_sentences(path.name):
            refuse_strange_log(path)
    except OSError as error:
        raise UnreadablePlace(path.name, error.strerror or str(error)) from error


def _is_cut_short(path: Path, header: bytes) -> bool:
    """By page size and page count (SQLite file format, section 1.3), when no log is beside the file."""
    if log_of(path).exists() or header[24:28] != header[92:96]:
        return False
    page = int.from_bytes(header[16:18], "big")
    pages = int.from_bytes(header[28:32], "big")
    return path.stat().st_size < pages * (65536 if page == 1 else page)


def create_file(path: Path, *, made: str, settings: Mapping[str, Any], by: str, bench: BenchIdentity) -> None:
    """Make an empty workbook at the head revision: whole under its name, or not there at all."""
    draft = path.with_name(path.name + ".new")
    try:
        if path.exists():
            raise AlreadyThere(str(path))
        if left := sqlite.left_beside(path):
            raise AlreadyThere(str(left))
        if not path.parent.is_dir():
            raise NoSuchFolder(path)
        draft.unlink(missing_ok=True)
        with as_sentences(path.name):
            _build(draft, made=made, settings=settings, by=by, bench=bench)
        draft.rename(path)
    except OSError as error:
        raise _place_problem(path, error) from error
    finally:
        with suppress(OSError):
            draft.unlink(missing_ok=True)


def _build(draft: Path, *, made: str, settings: Mapping[str, Any], by: str, bench: BenchIdentity) -> None:
    from benchapp.workbook.record.days import begin_workbook

    with closing(sqlite.connect(draft, make=True)) as connection:
        sqlite.set_application_id(connection, APPLICATION_ID)
    migrate(draft)
    with closing(sqlite.connect(draft)) as connection:
        connection.execute("BEGIN")
        begin_workbook(connection, settings, made=made, by=by, bench=bench)
        connection.execute("COMMIT")


def _place_problem(path: Path, error: OSError) -> WorkbookProblem:
    return DiskFull(path.name) if is_disk_full(error) else ReadOnlyPlace(path.name)


class NoSuchFolder(WorkbookProblem):
    """A workbook was to be made in a folder that is not there."""

    def __init__(self, path: Path) -> None:
        super().__init__(
            say(
                "There is no folder {parent}. Make it first, or choose another place for {name}.",
                parent=path.parent,
                name=path.name,
            )
        )


def bring_up_to_date(
    path: Path, *, head: str = HEAD, further: tuple[Path, ...] = (), before: Callable[[Path], object] | None = None
) -> Path | None:
    """Migrate an older file after a backup copy; returns the copy, or None when nothing was to do.

    `further` folders hold revisions beside the shipped ones; `before` is called with the file while it is as it was.
    """
    if revision_of(path) == head:
        return None
    if before is not None:
        before(path)
    copy = back_up(path, path.with_name(f"{path.stem} before format {head}{path.suffix}"))
    with as_sentences(path.name):
        migrate(path, further=further)
    return copy


def back_up(path: Path, to: Path) -> Path:
    """A copy of the file as it stands, log included; never over another file."""
    number = 1
    target = to
    while target.exists():
        number += 1
        target = to.with_name(f"{to.stem} {number}{to.suffix}")
    copy_database(path, target)
    return target


def migrate(path: Path, *, further: tuple[Path, ...] = ()) -> None:
    """Run the migrations up to the newest."""
    from benchapp.workbook.file.migrating import run_migrations

    run_migrations(path, further=further)
