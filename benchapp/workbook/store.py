"""Connections to a workbook file: many readers, one writer at a time, every commit on disk before it returns.

Write-ahead log, `synchronous=FULL`, foreign keys on each connection; a writer begins immediately, so that two windows
on one file wait for each other instead of overwriting.
"""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from benchapp.workbook import sqlite
from benchapp.workbook.problems import as_sentences

if TYPE_CHECKING:
    from sqlalchemy import Connection, Engine


class Store:
    """The open file. `look_only` opens it for reading alone, also from a read-only folder."""

    def __init__(self, path: Path, *, look_only: bool = False, wait: float = sqlite.WAIT) -> None:
        self.path = path
        self.name = path.name
        self.look_only = look_only
        self.writer = threading.Lock()
        self._wait = wait
        self._kept: sqlite3.Connection | None = None
        self._engine: Engine | None = None
        self._making = threading.Lock()

    @property
    def engine(self) -> "Engine":
        """SQLAlchemy's engine on the file, made when it is first asked for: the board is read without."""
        with self._making:
            self._engine = self._engine or self._make_engine()
            return self._engine

    def _make_engine(self) -> "Engine":
        from sqlalchemy import create_engine, event
        from sqlalchemy.pool import QueuePool

        engine = create_engine("sqlite://", creator=self._connect, poolclass=QueuePool, pool_size=4)

        @event.listens_for(engine, "begin")
        def _begin(connection: "Connection") -> None:
            writes = connection.get_execution_options().get("writes", False)
            connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

        return engine

    def _connect(self) -> sqlite3.Connection:
        connection = sqlite.connect(self.path, look_only=self.look_only, wait=self._wait)
        if not self.look_only:
            sqlite.keep_commits(connection)
        return connection

    @contextmanager
    def looking(self) -> Iterator[sqlite3.Connection]:
        """One consistent view of the file on the driver's own connection."""
        with as_sentences(self.name), closing(self._connect()) as connection:
            connection.execute("BEGIN")
            yield connection
            connection.execute("COMMIT")

    @contextmanager
    def reading(self) -> Iterator["Connection"]:
        """One consistent view of the file."""
        with as_sentences(self.name), self.engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def writing(self) -> Iterator["Connection"]:
        """One transaction that is on disk when the block ends, or never was."""
        with as_sentences(self.name), self.writer, self.engine.connect() as plain:
            connection = plain.execution_options(writes=True)
            with connection.begin():
                yield connection

    @contextmanager
    def kept_transaction(self) -> Iterator[sqlite3.Connection]:
        """The same on the driver's own connection, kept open for the entries of a day at the bench."""
        with self.writer:
            if self._kept is None:
                self._kept = self._connect()
            kept = self._kept
            kept.execute("BEGIN IMMEDIATE")
            try:
                yield kept
                kept.execute("COMMIT")
            except BaseException:
                if kept.in_transaction:
                    kept.execute("ROLLBACK")
                raise

    def close(self) -> None:
        """Close every connection; the last one to close folds the log into the file."""
        with self.writer:
            if self._kept is not None:
                self._kept.close()
                self._kept = None
            if self._engine is not None:
                self._engine.dispose()


def compiled(statement: Any) -> str:  # noqa: ANN401 (any Core statement)
    """The SQL of a Core statement with named parameters, to be sent through the driver's own connection."""
    from sqlalchemy.dialects import sqlite

    return str(statement.compile(dialect=sqlite.dialect(paramstyle="named")))
