"""Bytes flipped anywhere in the file: verify says a sentence or finds nothing because nothing is changed."""

import random
import sqlite3
from contextlib import closing

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.errors import BenchError

FLIPS = 5000


def content_of(path):
    """All that the file holds, row by row, and how; None where SQLite itself cannot read it."""
    try:
        with closing(sqlite3.connect(f"file:{path}?mode=ro&immutable=1", uri=True)) as connection:
            connection.text_factory = bytes
            schema = connection.execute("SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY 1, 2").fetchall()
            tables = [name.decode() for kind, name, *_ in schema if kind == b"table"]
            rows = {name: connection.execute(f'SELECT rowid, * FROM "{name}" ORDER BY 1').fetchall() for name in tables}
            identity = connection.execute("PRAGMA application_id").fetchone()
            return schema, rows, identity
    except (sqlite3.Error, UnicodeDecodeError, OverflowError):
        return None


@pytest.mark.timeout(7200)
def test_no_flipped_byte_is_an_error_or_goes_unseen(path, times, tell):
    number, generator = times(FLIPS), random.Random(11)
    whole, before = path.read_bytes(), content_of(path)
    found = dict.fromkeys(("tried", "told at opening", "found by verify", "nothing changed", "unseen"), 0)
    unseen = []
    for _ in range(number):
        place, bit = generator.randrange(len(whole)), 1 << generator.randrange(8)
        path.write_bytes(whole[:place] + bytes([whole[place] ^ bit]) + whole[place + 1 :])
        found["tried"] += 1
        try:
            differences = verify_workbook(path)
        except BenchError:
            found["told at opening"] += 1
            continue
        if differences:
            found["found by verify"] += 1
        elif content_of(path) == before:
            found["nothing changed"] += 1
        else:
            found["unseen"] += 1
            unseen.append((place, bit))
    tell("flipped bytes", **found)
    assert unseen == []
