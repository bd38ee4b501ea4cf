"""Whether a file is made of the tables, indexes and guards that this program makes, and of nothing else.

A stranger's file may have views in the place of tables, triggers that act, generated columns. It is held against a
file made anew; the digest of that one is written here, so that a window opens without making one.
"""

import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing
from functools import cache
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory

from benchapp.workbook.file import sqlite
from benchapp.workbook.file.guards import guards
from benchapp.workbook.model.problems import DamagedWorkbook

Schema = Mapping[tuple[str, str], str]
"""kind and name of each thing a file is made of, and the statement that made it"""
DIGEST = "b3cf3fc796668b49918becc7ddb3985aeee1d6e4a5b36c30c86e53f04a2c0f39"
"""SHA-256 of what a new file is made of, guards apart; a test holds it"""
LONGEST_NAME = 60


def refuse_other_schema(connection: sqlite3.Connection, name: str) -> None:
    """Raise DamagedWorkbook where the file holds another thing than ours; a missing guard is told by the check."""
    for fault in other_than_ours(sqlite.schema(connection)):
        raise DamagedWorkbook(name, fault)


def other_than_ours(found: Schema) -> Iterator[str]:
    """What a file is made of that a new one is not, or otherwise, or lacks; guards that are missing are not told."""
    ours = {("trigger", name): statement for name, statement in guards().items()}
    rest = dict(found)
    for which, text in found.items():
        if which in ours and text.endswith(f": {ours[which]}"):
            del rest[which]
    if digest(rest) != DIGEST:
        yield from differences(rest, fresh_schema())


def differences(found: Schema, fresh: Schema) -> Iterator[str]:
    """The same in words: what stands there that should not, what is otherwise, what is missing."""
    for kind, name in found:
        said = fresh.get((kind, name))
        if said is None:
            yield f"it holds a {kind} {name[:LONGEST_NAME]!r} that this program does not make"
        elif said != found[kind, name]:
            yield f"its {kind} {name[:LONGEST_NAME]!r} is not as this program makes it"
    for kind, name in fresh:
        if (kind, name) not in found:
            yield f"its {kind} {name!r} is missing"


def digest(schema: Schema) -> str:
    """One text for all that a file is made of, whatever the order."""
    return sha256(repr(sorted(schema.items())).encode("utf-8", "backslashreplace")).hexdigest()


@cache
def fresh_schema() -> Schema:
    """What a new file is made of, guards apart, found by making one."""
    from benchapp.workbook.file.migrating import run_migrations  # takes alembic, which an honest file does not need

    with TemporaryDirectory(prefix="benchapp-") as folder:
        path = Path(folder) / "new"
        run_migrations(path)
        with closing(sqlite.connect(path, look_only=True)) as connection:
            made = sqlite.schema(connection)
    return {which: text for which, text in made.items() if which[0] != "trigger"}
