"""Workbook files as somebody who means harm would make them, each from a sound one by SQL or by its bytes."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

_ENDLESS = "WITH RECURSIVE r(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM r)"
_FIRST = " WHERE mark = (SELECT min(mark) FROM units)"
SCHEMA: dict[str, tuple[str, ...]] = {
    "a view in the place of the units": ("ALTER TABLE units RENAME TO kept", "CREATE VIEW units AS SELECT * FROM kept"),
    "a view that never ends": (
        "ALTER TABLE units RENAME TO kept",
        f"CREATE VIEW units AS {_ENDLESS} SELECT kept.* FROM kept, r WHERE n < 0",
    ),
    "a trigger that acts": ("CREATE TRIGGER acts AFTER INSERT ON entries BEGIN DELETE FROM unit_stages; END",),
    "a guard that acts": (
        "DROP TRIGGER entries_refuse_update",
        "CREATE TRIGGER entries_refuse_update AFTER INSERT ON entries BEGIN DELETE FROM unit_stages; END",
    ),
    "a generated column": ("ALTER TABLE lots ADD COLUMN more TEXT AS (hex(zeroblob(100000000))) VIRTUAL",),
    "a table that is not ours": ("CREATE TABLE more (a)",),
    "a table with a hostile name": ('CREATE TABLE "\x1b[2J\u202eunits" (a)',),
    "an index that is not ours": ("CREATE UNIQUE INDEX one_link ON entries (sha256)",),
    "an index over an expression": ("CREATE INDEX heavy ON entries (hex(sealed))",),
    "a full-text table": ("CREATE VIRTUAL TABLE found USING fts5(a)",),
    "no entries": ("DROP TABLE tags_printed", "DROP TABLE entries"),
    "no units": ("PRAGMA foreign_keys=OFF", "DROP TABLE units"),
    "no chains": ("PRAGMA foreign_keys=OFF", "DROP TABLE chains"),
    "no table at all but the format": (
        "PRAGMA foreign_keys=OFF",
        *(
            f"DROP TABLE {name}"
            for name in (
                *("unit_stages", "tags_printed", "runs", "units", "entries", "benches"),
                *("workbook", "revisions", "photos", "lots", "chains"),
            )
        ),
    ),
    "a column too few": ("ALTER TABLE lots DROP COLUMN note",),
    "rubbish in the list of tables": (
        "PRAGMA writable_schema=ON",
        "UPDATE sqlite_master SET sql = 'CREATE TABLE lots (rubbish' WHERE name = 'lots'",
    ),
    "numbers in the list of tables": (
        "PRAGMA writable_schema=ON",
        "INSERT INTO sqlite_master VALUES (1, 2.5, x'00', 'x', 7)",
    ),
    "two format numbers": ("INSERT INTO alembic_version VALUES ('0000')",),
    "a format number of bytes": ("UPDATE alembic_version SET version_num = x'ff'",),
    "no format number": ("DELETE FROM alembic_version",),
}
"""Statements that make the file of other things than a workbook is made of."""


def _in_entries(old: str, new: str) -> str:
    return f"UPDATE entries SET sealed = replace(sealed, '{old}', '{new}')"


VALUES: dict[str, str] = {
    "bytes for a mark": f"UPDATE units SET mark = x'00ff'{_FIRST}",
    "bytes for the name of a lot": "UPDATE lots SET name = x'ff00'",
    "a lone surrogate for a mark": f"UPDATE units SET mark = CAST(x'eda080' AS TEXT){_FIRST}",
    "a lone surrogate for a reason": "UPDATE unit_stages SET why = CAST(x'eda080' AS TEXT)",
    "text for a count": "UPDATE unit_stages SET done = 'many'",
    "bytes for a count": "UPDATE unit_stages SET steps = x'01'",
    "text for the last entry": "UPDATE chains SET last_entry = 'last'",
    "an entry number without end": "UPDATE chains SET last_entry = 9223372036854775807",
    "a number below any": "UPDATE unit_stages SET done = -9223372036854775808",
    "rubbish for the settings": "UPDATE workbook SET settings = '[1'",
    "a list for the settings": "UPDATE workbook SET settings = '[]'",
    "bytes for the settings": "UPDATE workbook SET settings = x'ff'",
    "no workbook row": "DELETE FROM workbook",
    "an entry that is no JSON": "UPDATE entries SET sealed = 'rubbish'",
    "an entry that is a list": "UPDATE entries SET sealed = '[]'",
    "an entry of bytes": "UPDATE entries SET sealed = x'ff'",
    "an entry that lacks all": "UPDATE entries SET sealed = '{}'",
    "an entry nested without end": (
        "UPDATE entries SET sealed = '{\"content\":' || replace(hex(zeroblob(50000)), '00', '[') || '}'"
    ),
    "an entry with a huge number": _in_entries('"number":1', '"number":1e999'),
    "an entry of a hundred megabytes": "UPDATE entries SET sealed = hex(zeroblob(50000000)) WHERE id = 1",
    "an entry of an unknown kind": _in_entries('"kind":"', '"kind":"un'),
    "contents that are text": _in_entries('"content":{', '"content":7,"y":{'),
    "cites of another shape": _in_entries('"cites":[', '"cites":[7,'),
    "a time that is none": "UPDATE entries SET at = 'yesterday', sealed = replace(sealed, '2026', 'MMXX')",
    "text for a value": "UPDATE entries SET value = 'nine'",
    "a pinned text that is none": "UPDATE revisions SET text = '{'",
    "pins that are a list": "UPDATE revisions SET text = '[]'",
    "pinned bytes": "UPDATE revisions SET text = x'ff'",
    "a run of nothing": "UPDATE runs SET pins = 'nothing'",
    "a run with rubbish settings": "UPDATE runs SET settings = '[1'",
    "settings of a run as a list": "UPDATE runs SET settings = '[]'",
    "a unit of no lot": "UPDATE units SET lot_id = 999999",
    "a stage of an unknown state": "UPDATE unit_stages SET status = 'bewitched'",
    "a disposition that is none": "UPDATE units SET disposition = 'bewitched'",
    "a mark of a million letters": f"UPDATE units SET mark = hex(zeroblob(500000)){_FIRST}",
    "a mark that steers the console": f"UPDATE units SET mark = char(27) || '[2J' || char(8238){_FIRST}",
    "thirty thousand stages": (
        "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 30000) INSERT INTO unit_stages "
        "SELECT (SELECT min(chain_id) FROM units), 's' || i, i, 't', 'done', 1, 1, '' FROM n"
    ),
}
"""One statement each that puts a value where it does not belong."""


def _bytes(change: Callable[[bytearray], None]) -> Callable[[Path], None]:
    def apply(path: Path) -> None:
        content = bytearray(path.read_bytes())
        change(content)
        path.write_bytes(content)

    return apply


def _claims_pages(content: bytearray) -> None:
    content[28:32] = (2**31 - 2).to_bytes(4, "big")


def _claims_cells(content: bytearray) -> None:
    for page in range(4096, len(content), 4096):
        if content[page] in (5, 13, 2, 10):
            content[page + 3 : page + 5] = b"\xff\xff"


def _header_alone(content: bytearray) -> None:
    del content[100:]


def _rubbish_pages(content: bytearray) -> None:
    content[4096:] = b"\x0d" * (len(content) - 4096)


def _others_pages(path: Path) -> None:
    """Two tables with the pages of one."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA writable_schema=ON")
        root = "(SELECT rootpage FROM sqlite_master WHERE name = 'entries')"
        connection.execute(f"UPDATE sqlite_master SET rootpage = {root} WHERE name = 'units'")


def _other_log(path: Path) -> None:
    """A log of another file, left beside this one under its name."""
    other = path.with_name("other.db")
    other.unlink(missing_ok=True)
    with closing(sqlite3.connect(other, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute("PRAGMA wal_autocheckpoint=0")
        for number in range(200):
            connection.execute(f"CREATE TABLE t{number} (a)")
        log = other.with_name(other.name + "-wal").read_bytes()
    path.with_name(path.name + "-wal").write_bytes(log)


def _rubbish_log(path: Path) -> None:
    path.with_name(path.name + "-wal").write_bytes(b"\x37\x7f\x06\x82" * 5000)


BYTES: dict[str, Callable[[Path], None]] = {
    "two thousand million pages claimed": _bytes(_claims_pages),
    "sixty-five thousand cells claimed on each page": _bytes(_claims_cells),
    "pages of rubbish": _bytes(_rubbish_pages),
    "an empty file": _bytes(bytearray.clear),
    "the header alone": _bytes(_header_alone),
    "a table on another's pages": _others_pages,
    "the log of another file": _other_log,
    "a log of rubbish": _rubbish_log,
}
"""Changes of the bytes of the file, or of what lies beside it."""

NAMES = (*SCHEMA, *VALUES, *BYTES)


def make_hostile(path: Path, name: str) -> None:
    """Change a sound workbook file; the guards are off meanwhile, and on again where they can be."""
    if name in BYTES:
        BYTES[name](path)
        return
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        guards = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for guard, _ in guards if name in VALUES else ():
            connection.execute(f"DROP TRIGGER {guard}")
        for statement in SCHEMA.get(name) or (VALUES[name],):
            connection.execute(statement)
        for _, statement in guards if name in VALUES else ():
            connection.execute(statement)
