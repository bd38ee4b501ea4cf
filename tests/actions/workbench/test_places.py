"""A bench whose file has gone, or may not be written, says so and still closes."""

import pytest

from benchapp.actions.entries.faults import record_hazard
from benchapp.actions.workbench.bench import Bench
from benchapp.operating_system import may_write
from benchapp.workbook.model.problems import ForLookingOnly, WorkbookGone
from benchapp.workbook.opened import workbook


def test_a_bench_whose_file_is_gone_records_nothing_and_closes(bench, lot, path):
    before = bench.entries("TB-001")
    path.unlink()
    with pytest.raises(WorkbookGone):
        record_hazard(bench, "TB-001", "smoke", by="AB")
    assert bench.entries("TB-001") == before
    assert bench.lost().startswith("tarnbeck.workbook is no longer in")
    bench.close()


def test_a_bench_for_looking_only_shows_all_and_closes(bench, lot, path, monkeypatch):
    bench.close()
    monkeypatch.setattr(workbook, "may_write", lambda _path: False)
    assert may_write(path)
    with Bench.open(path) as looking:
        assert looking.remarks == ("tarnbeck.workbook is open for looking only: nothing is recorded in it.",)
        assert [unit.mark for unit in looking.units()] == ["TB-001", "TB-002", "TB-003"]
        with pytest.raises(ForLookingOnly):
            record_hazard(looking, "TB-001", "smoke", by="AB")
