"""What is SQLite's own: connections, how a commit reaches the disk, the log, copies while in use, checks of structure.

No other module names a pragma or connects. Names of chapters are those of SQLite's documentation.
"""

import os
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory, mkstemp
from time import monotonic
from typing import Any

from benchapp.operating_system import database_uri, is_disk_full, may_write, sync_folder
from benchapp.workbook.model.problems import AlreadyThere, CopyProblem, CopyStopped, DamagedWorkbook, as_sentences

Progress = Callable[[int, int], None]
"""told how much is done, of how much"""
Cancel = Callable[[], bool]
"""asked again and again whether to stop"""

WAIT = 10.0
"""seconds that a writer waits for another's write before it says so (common practice, no source)"""
HEADER_BYTES = 100
MAGIC = b"SQLite format 3\x00"
LARGEST_VALUE = 1 << 26
"""bytes of one text or photo: 64 MiB (own choice)"""
STEPS_BETWEEN_LOOKS = 10_000
"""steps of SQLite's machine between two looks at the clock, well below a hundredth of a second"""
DRAFT = (".copy-", ".part")
"""how the name of a copy begins and ends while it is being written"""
PAGES_A_STEP = 256
"""pages copied between two looks at whether to go on: 1 MiB of the usual pages"""


def connect(
    path: Path, *, look_only: bool = False, make: bool = False, wait: float = WAIT, references: bool = True
) -> sqlite3.Connection:
    """A connection in which every transaction is begun by name.

    A file that is not there is made only with `make`. With `look_only` nothing can be written. A row may not refer to
    one that is not there, but with `references` off: a migration that makes a table anew drops the old one ("Foreign
    Key Support", section 5). Raises sqlite3.Error.
    """
    if look_only and not may_write(path):
        uri = unwritable_uri(path)
    else:
        uri = database_uri(path.absolute()) + ("?mode=rwc" if make else "?mode=rw")
    connection = sqlite3.connect(uri, uri=True, timeout=wait, isolation_level=None, check_same_thread=False)
    connection.execute(f"PRAGMA foreign_keys={'ON' if references else 'OFF'}")
    if look_only:
        connection.execute("PRAGMA query_only=ON")
    _trust_nothing(connection)
    return connection


def connect_to_read(path: Path) -> sqlite3.Connection:
    """A connection that writes nothing into the file and folds no log in, not at its end either.

    Raises sqlite3.Error.
    """
    connection = sqlite3.connect(database_uri(path.absolute()) + "?mode=ro", uri=True, isolation_level=None)
    _trust_nothing(connection)
    return connection


def _trust_nothing(connection: sqlite3.Connection) -> None:
    """Whoever wrote the file may be a stranger ("Defense Against The Dark Arts", section 1.2).

    No function with effects runs from its schema, the cells of a page are checked before they are read, no value is
    larger than anything that is kept here, and where Python knows the setting (3.12) no page is written past SQL.
    """
    connection.execute("PRAGMA trusted_schema=OFF")
    connection.execute("PRAGMA cell_size_check=ON")
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, LARGEST_VALUE)
    defensive = getattr(sqlite3, "SQLITE_DBCONFIG_DEFENSIVE", None)
    if defensive is not None:
        connection.setconfig(defensive, True)  # type: ignore[attr-defined, unused-ignore]


@contextmanager
def within(connection: sqlite3.Connection, seconds: float) -> Iterator[None]:
    """Break off whatever SQLite does on this connection after so long; it then says that it was interrupted."""
    end = monotonic() + seconds
    connection.set_progress_handler(lambda: monotonic() > end, STEPS_BETWEEN_LOOKS)
    try:
        yield
    finally:
        connection.set_progress_handler(None, 0)


def unwritable_uri(path: Path) -> str:
    """The address of a file that cannot be written; without a log beside it, no lock is asked for either.

    Where it can be written, one who only looks takes the locks too: what is read is then of one moment, also when
    somebody begins to write ("Uniform Resource Identifiers": `immutable` promises that nobody does).
    """
    uri = database_uri(path.absolute()) + "?mode=ro"
    return uri if log_of(path).exists() else uri + "&immutable=1"


def log_of(path: Path) -> Path:
    """The write-ahead log that SQLite keeps beside a file in use."""
    real = path.resolve()  # SQLite keeps it beside the file itself, not beside a link to it
    return real.with_name(real.name + "-wal")


def left_beside(path: Path) -> Path | None:
    """A log or journal that another file of that name has left: SQLite would write its pages into a new one."""
    beside = (log_of(path), log_of(path).with_name(path.resolve().name + "-journal"))
    return next((one for one in beside if one.exists() and one.stat().st_size), None)


def readable_place(path: Path) -> tuple[Path, TemporaryDirectory[str] | None]:
    """Where the file can be looked at: there, or as a copy of file and log in a folder to be cleaned up after use.

    A log that was left behind is only read with its index, and a medium that cannot be written takes none
    ("Write-Ahead Logging", section 5). Without its log the file would lack what was recorded last.
    """
    log = log_of(path)
    if not log.exists():
        return path, None
    try:
        with closing(connect(path, look_only=True)) as connection:
            connection.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchone()
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF not in {sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY}:
            raise
    else:
        return path, None
    folder = TemporaryDirectory(prefix="benchapp-")
    copy = Path(folder.name) / path.name
    shutil.copyfile(path, copy)
    shutil.copyfile(log, log_of(copy))
    return copy, folder


@contextmanager
def opened(path: Path, *, look_only: bool = False) -> Iterator[sqlite3.Connection]:
    """A connection to read by, wherever the file lies; with the locks of SQLite where it may be written."""
    look_only = look_only or not may_write(path)
    place, private = readable_place(path) if look_only else (path, None)
    try:
        with closing(connect(place, look_only=look_only)) as connection:
            yield connection
    finally:
        if private is not None:
            private.cleanup()


def keep_commits(connection: sqlite3.Connection, *, shared: bool = False) -> str:
    """See to it that a commit is on disk before it returns; the journal mode that SQLite answers: "wal" is usual.

    With `shared`, on a network drive, without the log: its index is shared memory, so that all who use it must be on
    one computer ("Write-Ahead Logging", section 1). macOS needs `fullfsync` for the same promise ("PRAGMA fullfsync").
    """
    for pragma in ("synchronous=FULL", "fullfsync=ON", "checkpoint_fullfsync=ON"):
        connection.execute(f"PRAGMA {pragma}")
    return str(connection.execute(f"PRAGMA journal_mode={'TRUNCATE' if shared else 'WAL'}").fetchone()[0])


def fold_log(connection: sqlite3.Connection) -> bool:
    """Write the log's pages into the file, as far as nobody reads an older state; whether all of them are in it.

    Nobody waits for it and it waits for nobody ("PRAGMA wal_checkpoint", PASSIVE).
    """
    _busy, in_log, folded = connection.execute("PRAGMA wal_checkpoint(PASSIVE)").fetchone()
    return bool(in_log == folded)


def fold_and_empty_log(connection: sqlite3.Connection) -> None:
    """The same, and leave the log empty (TRUNCATE): SQLite itself leaves the log of a file that was moved full."""
    connection.execute("PRAGMA busy_timeout=500")
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()


def application_id(connection: sqlite3.Connection) -> int:
    """SQLite's mark of whose file it is; 0 where no program has set it."""
    return int(connection.execute("PRAGMA application_id").fetchone()[0])


def set_application_id(connection: sqlite3.Connection, number: int) -> None:
    """Mark the file as one of ours."""
    connection.execute(f"PRAGMA application_id={number:d}")


def has_table(connection: sqlite3.Connection, name: str) -> bool:
    """Whether the file has a table of that name."""
    found = connection.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?", (name,))
    return found.fetchone() is not None


def triggers(connection: sqlite3.Connection) -> dict[str, str]:
    """The triggers of the file: name and the statement that made each."""
    return dict(connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"))


def schema(connection: sqlite3.Connection) -> dict[tuple[str, str], str]:
    """All that the file says it is made of: kind and name of each, and the statement that made it.

    Left out are the tables of statistics, which SQLite makes for itself ("ANALYZE"). Raises sqlite3.Error.
    """
    rows = connection.execute("SELECT type, name, coalesce(tbl_name, ''), coalesce(sql, '') FROM sqlite_master")
    found = {(str(kind), str(name)): f"{table}: {sql}" for kind, name, table, sql in rows}
    return {which: text for which, text in found.items() if not which[1].startswith("sqlite_stat")}


def structural_faults(connection: sqlite3.Connection) -> Iterator[str]:
    """What SQLite itself finds wrong with the pages, rows and indexes of the file, in its own words."""
    for (line,) in connection.execute("PRAGMA integrity_check"):
        if line != "ok":
            yield str(line)


def dangling_rows(connection: sqlite3.Connection) -> Iterator[tuple[str, str]]:
    """(table, table referred to) of each row that refers to one that is not there."""
    for row in connection.execute("PRAGMA foreign_key_check"):
        yield str(row[0]), str(row[2])


def driver_of(connection: Any) -> sqlite3.Connection:  # noqa: ANN401 (an SQLAlchemy connection)
    """The driver's own connection under SQLAlchemy's."""
    driver: sqlite3.Connection = connection.connection.driver_connection
    return driver


# copies


def copy_database(
    source: sqlite3.Connection | Path, to: Path, progress: Progress | None = None, cancelled: Cancel | None = None
) -> None:
    """Copy a database as it stands now, log included, into one file: whole, checked and on disk, or not there at all.

    Others may go on writing; the copy is of the moment at which it began ("SQLite Backup API"). `source` is a path, or
    an open connection, which works when its file has been moved or deleted since. No file is ever replaced. Raises
    AlreadyThere, CopyProblem, CopyStopped, or another WorkbookProblem for a source that cannot be read.
    """
    taken = to if to.exists() else left_beside(to)
    if taken is not None:
        raise AlreadyThere(str(taken))
    if not to.parent.is_dir():
        raise CopyProblem(to, "there is no such folder")
    draft = _empty_draft(to)
    try:
        with as_sentences(source.name if isinstance(source, Path) else to.name):
            _copy_into(source, draft, to, progress, cancelled)
        _publish(draft, to)
    finally:
        for left in (draft, *(draft.with_name(draft.name + end) for end in ("-journal", "-wal", "-shm"))):
            with suppress(OSError):
                left.unlink(missing_ok=True)


def _empty_draft(to: Path) -> Path:
    try:
        handle, name = mkstemp(dir=to.parent, prefix=DRAFT[0], suffix=DRAFT[1])
        os.close(handle)
    except OSError as error:
        raise CopyProblem(to, error.strerror or str(error), full=is_disk_full(error)) from error
    return Path(name)


def _copy_into(
    source: sqlite3.Connection | Path, draft: Path, to: Path, progress: Progress | None, cancelled: Cancel | None
) -> None:
    def step(_status: int, remaining: int, total: int) -> None:
        if cancelled is not None and cancelled():
            raise CopyStopped
        if progress is not None:
            progress(total - remaining, total)

    with closing(connect(draft)) as target:
        try:
            if isinstance(source, Path):
                with opened(source) as connection:
                    _copy_moment(connection, target, step)
            else:
                _copy_moment(source, target, step)
            target.execute("PRAGMA journal_mode=DELETE")  # one file alone, that opens from a read-only medium too
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF in {sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR}:
                raise CopyProblem(to, str(error), full=error.sqlite_errorcode == sqlite3.SQLITE_FULL) from error
            raise
    with closing(connect(draft, look_only=True)) as written:
        for fault in structural_faults(written):
            raise DamagedWorkbook(to.name, fault)


def _copy_moment(source: sqlite3.Connection, target: sqlite3.Connection, step: Callable[[int, int, int], None]) -> None:
    """One moment of the source: a transaction around the copy keeps what others write meanwhile out of it."""
    begins = not source.in_transaction
    if begins:
        source.execute("BEGIN")
        source.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchone()
    try:
        source.backup(target, pages=PAGES_A_STEP, progress=step)
    finally:
        if begins:
            source.execute("ROLLBACK")


def _publish(draft: Path, to: Path) -> None:
    """Give the finished copy its name; the name is claimed first, so that no file that came meanwhile is lost."""
    try:
        with draft.open("rb+") as file:
            os.fsync(file.fileno())
        draft.chmod(0o644)
        with to.open("xb"):
            pass
        draft.replace(to)
        sync_folder(to.parent)
    except FileExistsError as error:
        raise AlreadyThere(str(to)) from error
    except OSError as error:
        raise CopyProblem(to, error.strerror or str(error), full=is_disk_full(error)) from error
