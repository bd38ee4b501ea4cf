"""What does an entry on disk cost, against a bare insert and commit on the same disk?

Both are taken in turn within one run, with a write-ahead log and `synchronous=FULL`: the disk's mood meets both.
"""

import json
import sqlite3
import time
from statistics import median
from uuid import uuid4

import pytest

from benchapp.sequences.planning.contents import read_content
from benchapp.sequences.planning.entries import Entry, EntryKind
from benchapp.workbook.model.values import Lot, StageRow, UnitSummary
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.intake import NewUnits, Pins

pytestmark = pytest.mark.performance

ROUNDS = 400
AT = "2026-05-04T09:00:00.000Z"
CONTENT = {
    "step": "measure",
    "typed": "9.12 V",
    "value": 9.12,
    "unit": "V",
    "kind": "voltage",
    "bound": "exact",
    "meter": "hand-meter-1",
    "range": "20 V",
    "lower": 8.1,
    "upper": 9.9,
    "rule": "guarded",
    "safety": False,
    "expected": 9.0,
    "standard_uncertainty": 0.0312345678,
    "expanded_uncertainty": 0.0624691356,
    "guard_band": 0.0624691356,
    "conformance_probability": 0.9999999,
    "judgement": "pass",
    "sentence": "9.12 V is inside 8.10 V to 9.90 V, further from the edge than this meter's uncertainty.",
    "derivation": [
        ["rated output", "9 V", "rating plate"],
        ["measured mains", "243 V", "reading of 10:14"],
        ["regulation", "14 %", "equipment file"],
        ["tolerance", "10 %", "common practice"],
    ],
    "rules_version": "1",
}
STAGES = ("visual", "plug", "continuity", "insulation", "first power", "live")


@pytest.fixture
def workbook(tmp_path):
    book = Workbook.create(tmp_path / "measured.workbook", made=AT)
    lot = Lot(name="Tarnbeck", equipment="tb-mu1", route="check", title="Mains unit", taken_in=AT, by="AB")
    pins = Pins(route="check", equipment="tb-mu1", texts={})
    book.add_lot(lot, [NewUnits(units=[("TB-001", {})], pins=pins)])
    yield book
    book.close()


@pytest.fixture
def bare(tmp_path):
    connection = sqlite3.connect(tmp_path / "bare.db", isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE entries (id INTEGER PRIMARY KEY, uuid TEXT, content TEXT)")
    yield connection
    connection.close()


def _entry(run, cites, number):
    return Entry(
        number=number,
        uuid=str(uuid4()),
        kind=EntryKind.answer,
        at=AT,
        by="AB",
        address="live-voltage.low",
        content=read_content(EntryKind.answer, CONTENT),
        run=run,
        cites=cites,
    )


def _summary(number):
    stages = tuple(
        StageRow(unit="TB-001", position=i, stage=name, title=name, status="in progress", done=number, of=500)
        for i, name in enumerate(STAGES)
    )
    return UnitSummary(disposition="quarantine", due="Read the low output.", stages=stages)


def test_a_durable_entry_costs_at_most_twice_a_bare_insert_and_commit(workbook, bare, capsys):
    run, cites = workbook.current_run("TB-001").uuid, workbook.grounds().cites
    text = json.dumps(CONTENT)
    ours, floor = [], []
    for number in range(1, ROUNDS + 1):
        entry, summary, uuid = _entry(run, cites, number), _summary(number), str(uuid4())
        started = time.perf_counter()
        workbook.append("TB-001", entry, summary)
        between = time.perf_counter()
        bare.execute("INSERT INTO entries (uuid, content) VALUES (?, ?)", (uuid, text))
        ours.append(between - started)
        floor.append(time.perf_counter() - between)
    ratio = median(ours) / median(floor)
    with capsys.disabled():
        print(f"\ndurable entry {median(ours) * 1e3:.3f} ms, bare {median(floor) * 1e3:.3f} ms: {ratio:.2f} ×")
    assert ratio <= 2.0
