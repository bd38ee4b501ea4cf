"""What the engine costs beside the disk: a fold of a hundred entries, an answer tried, against one durable commit."""

import sqlite3
import time
from pathlib import Path

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.interlock.fold import fold
from tests.sequences.bench import Unit, plan_of

pytestmark = pytest.mark.performance
ROUNDS = 200


def per_call(work) -> float:
    best = float("inf")
    for _ in range(5):
        begin = time.perf_counter()
        for _ in range(ROUNDS // 5):
            work()
        best = min(best, (time.perf_counter() - begin) / (ROUNDS // 5))
    return best


def test_fold_and_attempt_cost_less_than_the_disk(tmp_path: Path, capsys):
    unit = Unit(plan_of())
    unit.finish()
    entries = (unit.entries * 2)[:100]
    address = "live-voltage.outputs/outlet.1-2"
    state = unit.state
    given = ReadingAnswer(typed="10.26 V", meter="tb-m1")
    folded = per_call(lambda: fold(unit.plan, entries, at=unit.at))
    tried = per_call(lambda: evaluate(unit.plan, state, address, given, at=unit.at))
    connection = sqlite3.connect(tmp_path / "floor.db")
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE entry (text TEXT)")

    def commit() -> None:
        connection.execute("INSERT INTO entry VALUES ('x')")
        connection.commit()

    durable = per_call(commit)
    connection.close()
    with capsys.disabled():
        print(
            f"\nfold of 100 entries {folded * 1e3:.2f} ms ({folded / durable:.2f} × a durable commit), "
            f"answer tried {tried * 1e3:.2f} ms ({tried / durable:.2f} ×)"
        )
    assert folded < 0.02
    assert tried < 0.02
