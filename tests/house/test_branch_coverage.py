"""The ratchet of branch coverage falls on what it should fall on."""

import json

from tests.house import branch_coverage


def report_with(tmp_path, taken):
    files = {
        f"benchapp/{folder}/x.py": {"summary": {"covered_branches": taken, "num_branches": 100}}
        for folder in branch_coverage.floors()
    }
    path = tmp_path / "report.json"
    path.write_text(json.dumps({"files": files}))
    return path


def test_full_coverage_holds(tmp_path, capsys):
    assert branch_coverage.main(report_with(tmp_path, 100)) == 0
    assert "branch coverage of judgement: 100.0 % (100 of 100" in capsys.readouterr().out


def test_a_share_below_its_floor_is_told_and_fails(tmp_path, capsys):
    assert branch_coverage.main(report_with(tmp_path, 50)) == 1
    assert "sequences/interlock: 50 of 100 branches are taken, less than" in capsys.readouterr().out


def test_a_folder_that_was_not_measured_fails(tmp_path):
    path = tmp_path / "report.json"
    path.write_text(json.dumps({"files": {}}))
    assert branch_coverage.main(path) == 1
