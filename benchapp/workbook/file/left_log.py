"""A log that was left beside a file by another one of that name: found before SQLite writes its pages into the file.

After a crash the log belongs to the file and holds what was recorded last. Where a workbook was copied over one that
was in use, or a log to another workbook, it does not: folded in, it would take the place of what the file holds.
"""

import shutil
import sqlite3
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

from benchapp.workbook.file.sqlite import connect_to_read, log_of, structural_faults
from benchapp.workbook.file.standing_place import is_open_here
from benchapp.workbook.model.problems import StrangeLog

LOG_HEADER_BYTES = 32
"""a log no longer than this holds nothing ("WAL-mode File Format", section 1.1)"""
MISFITS = frozenset({sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR})
UNWRITABLE = frozenset({sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM})
HEADS = "SELECT uuid, last_entry, (SELECT max(number) FROM entries WHERE chain_id = chains.id) FROM chains"


def refuse_strange_log(path: Path) -> None:
    """Refuse a file beside which a log lies that is not its own; nothing is changed. Raises StrangeLog, OSError.

    The two are read together without writing. Where they do not fit, or where the file by itself has entries that the
    two together lack, the log is of another file, or of an earlier state of this one.
    """
    log = log_of(path)
    index = log.with_name(path.resolve().name + "-shm")
    if is_open_here(path):
        return
    for one in (log, index):
        if one.exists() and not one.is_file():
            raise StrangeLog(path.name, one.name)
    if not log.exists() or log.stat().st_size <= LOG_HEADER_BYTES:
        return
    alone = _heads_alone(path)
    if alone is None:
        return  # whatever is wrong, the file has nothing that the log could take away
    together = _heads_together(path)
    if together is None or any(together.get(chain, -1) < newest for chain, newest in alone.items()):
        raise StrangeLog(path.name, log.name)


def _heads_together(path: Path) -> Mapping[str, int] | None:
    """The newest entry of each chain of file and log; None where the two do not fit.

    A connection for reading alone never folds a log in, not at its end either. It makes the log's index, so where
    nothing can be written a copy of both is read.
    """
    try:
        return _heads_by(path)
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF not in UNWRITABLE:
            raise
    with TemporaryDirectory(prefix="benchapp-") as folder:
        copy = Path(folder) / path.name
        shutil.copyfile(path, copy)
        shutil.copyfile(log_of(path), log_of(copy))
        return _heads_by(copy)


def _heads_alone(path: Path) -> Mapping[str, int] | None:
    """The same of the file without its log; None where it is not whole by itself."""
    with TemporaryDirectory(prefix="benchapp-") as folder:
        copy = Path(folder) / path.name
        shutil.copyfile(path, copy)
        return _heads_by(copy)


def _heads_by(path: Path) -> Mapping[str, int] | None:
    """By chain the number of its newest entry; None where SQLite finds it damaged, or an entry is missing."""
    try:
        with closing(connect_to_read(path)) as connection:
            if any(structural_faults(connection)):
                return None
            heads = {str(chain): (said, newest) for chain, said, newest in connection.execute(HEADS)}
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode & 0xFF in MISFITS:
            return None
        raise
    missing = any(newest is None or newest < said for said, newest in heads.values())
    return None if missing else {chain: newest for chain, (_, newest) in heads.items()}
