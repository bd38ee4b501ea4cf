"""Connections to a workbook file: many readers, one writer at a time, every commit on disk before it returns.

Foreign keys hold on each connection; a writer begins immediately, so that two windows on one file wait for each other
instead of overwriting. Before and after a commit the file must still stand where it was opened.
"""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from benchapp.operating_system import network_place
from benchapp.words import say
from benchapp.workbook.file import sqlite
from benchapp.workbook.file.log_folding import LogFolding
from benchapp.workbook.file.standing_place import StandingPlace
from benchapp.workbook.model.problems import ForLookingOnly, LogInUse, WorkbookGone, as_sentences, rubbish_is_damage

if TYPE_CHECKING:
    from sqlalchemy import Connection, Engine

STATEMENTS = 256
"""made into SQL and kept; the program has about a hundred"""


class Store:
    """The open file. `look_only` opens it for reading alone, also from a read-only folder.

    Raises WorkbookProblem where it cannot be opened so.
    """

    def __init__(self, path: Path, *, look_only: bool = False, wait: float = sqlite.WAIT) -> None:
        self.path = path
        self.name = path.name
        self.look_only = look_only
        self.network = network_place(path)
        """a word for the network file system that holds the file; empty on a disk of this computer"""
        self.writer = threading.Lock()
        self._wait = wait
        self._journal_mode = ""
        self._engine: Engine | None = None
        self._making = threading.Lock()
        self._place = StandingPlace(path)
        self._private: TemporaryDirectory[str] | None = None
        self._read_path = path
        self._kept: sqlite3.Connection | None = None
        self._folding = LogFolding(self._connect)
        try:
            with as_sentences(self.name):
                self._open()
        except BaseException:
            self.close()
            raise

    def _open(self) -> None:
        if self.look_only:
            self._read_path, self._private = sqlite.readable_place(self.path)
            return
        self._kept = self._connect()  # held from here on: what is still open can be copied when the file is gone
        self._kept.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchone()
        if not self.network and (log := sqlite.log_of(self.path)).exists():
            self._place.watch_log(log)

    @property
    def engine(self) -> "Engine":
        """SQLAlchemy's engine on the file, made when it is first asked for: the board is read without."""
        with self._making:
            self._engine = self._engine or self._make_engine()
            return self._engine

    def _make_engine(self) -> "Engine":
        from sqlalchemy import create_engine, event
        from sqlalchemy.pool import NullPool, QueuePool

        # What is only looked at may be changed elsewhere without a lock: each look is at the file as it is then.
        pool: dict[str, Any] = {"poolclass": NullPool} if self.look_only else {"poolclass": QueuePool, "pool_size": 4}
        engine = create_engine("sqlite://", creator=self._connect, **pool)

        @event.listens_for(engine, "begin")
        def _begin(connection: "Connection") -> None:
            writes = connection.get_execution_options().get("writes", False)
            connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

        return engine

    def _connect(self) -> sqlite3.Connection:
        self._place.check()
        connection = sqlite.connect(self._read_path, look_only=self.look_only, wait=self._wait)
        if self.look_only:
            return connection
        try:
            self._keep_commits(connection)
        except BaseException:
            connection.close()
            raise
        return connection

    def _keep_commits(self, connection: sqlite3.Connection) -> None:
        try:
            mode = sqlite.keep_commits(connection, shared=bool(self.network))
        except sqlite3.OperationalError as error:
            if self.network and error.sqlite_errorcode & 0xFF == sqlite3.SQLITE_BUSY:
                raise LogInUse(self.name) from error
            raise
        if self.network and mode == "wal":
            raise LogInUse(self.name)
        self._journal_mode = mode

    # reading

    @contextmanager
    def looking(self) -> Iterator[sqlite3.Connection]:
        """One consistent view of the file on the driver's own connection."""
        with as_sentences(self.name), rubbish_is_damage(self.name):
            self._place.check()
            with closing(sqlite.connect(self._read_path, look_only=self.look_only, wait=self._wait)) as connection:
                connection.execute("BEGIN")
                yield connection
                connection.execute("COMMIT")

    @contextmanager
    def reading(self) -> Iterator["Connection"]:
        """One consistent view of the file."""
        told = (as_sentences(self.name), rubbish_is_damage(self.name))
        with told[0], told[1], self.engine.connect() as connection, connection.begin():
            yield connection

    # writing

    @contextmanager
    def writing(self) -> Iterator["Connection"]:
        """One transaction that is on disk when the block ends, or never was."""
        self.refuse_looking()
        with as_sentences(self.name), self.writer, self._standing(), self.engine.connect() as plain:
            connection = plain.execution_options(writes=True)
            with connection.begin():
                yield connection
                self._place.check()
        self._folding.recorded()

    @contextmanager
    def kept_transaction(self) -> Iterator[sqlite3.Connection]:
        """The same on the driver's own connection, kept open for the entries of a day at the bench."""
        self.refuse_looking()
        with self.writer, self._standing():
            kept = self._kept
            assert kept is not None
            kept.execute("BEGIN IMMEDIATE")
            try:
                yield kept
                self._place.check()
                kept.execute("COMMIT")
            except BaseException:
                if kept.in_transaction:
                    kept.execute("ROLLBACK")
                raise
        self._folding.recorded()

    @contextmanager
    def _standing(self) -> Iterator[None]:
        """Raise WorkbookGone where the file is gone, also in the place of what SQLite says of that."""
        try:
            yield
        except Exception:
            self._place.check()
            raise
        self._place.check_file()

    def refuse_looking(self) -> None:
        """Raise ForLookingOnly where nothing may be written."""
        if self.look_only:
            raise ForLookingOnly(self.name)

    # the file itself

    def remarks(self) -> tuple[str, ...]:
        """What a person should know of the file's place before working with it, as sentences."""
        said = []
        if self.look_only:
            said.append(say("{name} is open for looking only: nothing is recorded in it.", name=self.name))
        if self.network:
            said.append(
                say(
                    "{name} lies on a network drive ({network}). It is written without a log there, which is "
                    "slower; a file on a disk of this computer is safer.",
                    name=self.name,
                    network=self.network,
                )
            )
        elif self._journal_mode not in {"", "wal"}:  # a file system without shared memory
            mode = self._journal_mode
            said.append(
                say(
                    "{name} is written without a log here (journal mode {mode}), which is slower.",
                    name=self.name,
                    mode=mode,
                )
            )
        return tuple(said)

    def lost(self) -> str:
        """Why the file no longer counts as the one that was opened, as a sentence; empty while all is well."""
        try:
            self._place.check()
        except WorkbookGone as gone:
            return gone.sentence
        return ""

    def copy_to(
        self, to: Path, progress: sqlite.Progress | None = None, cancelled: sqlite.Cancel | None = None
    ) -> None:
        """Copy all that is recorded into one new file, also when the opened one was moved or deleted since.

        Raises WorkbookProblem; then no file is left.
        """
        if self._kept is None or not self.lost():
            sqlite.copy_database(self._read_path, to, progress, cancelled)
            return
        with self.writer:
            sqlite.copy_database(self._kept, to, progress, cancelled)

    def close(self) -> None:
        """Close every connection; the last one to close folds the log into the file."""
        self._folding.close()
        with self.writer:
            if self._engine is not None:
                self._engine.dispose()
            if self._kept is not None:
                if self.lost():
                    with suppress(sqlite3.Error):
                        sqlite.fold_and_empty_log(self._kept)
                self._kept.close()
                self._kept = None
            self._place.leave()
            if self._private is not None:
                self._private.cleanup()


@lru_cache(maxsize=STATEMENTS)
def compiled(statement: Any) -> str:  # noqa: ANN401 (any Core statement)
    """The SQL of a Core statement with named parameters, to be sent through the driver's own connection.

    A statement is made into SQL once: that takes longer than most of them take to run.
    """
    from sqlalchemy.dialects import sqlite

    return str(statement.compile(dialect=sqlite.dialect(paramstyle="named")))
