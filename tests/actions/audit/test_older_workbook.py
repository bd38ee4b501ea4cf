"""A workbook as the program of 25 November 2026 (commit 8a6dba8, rules 2) wrote it still holds.

Four units went through their routes with that program: both mains units, the recorder (capacitors), and a made-up one
with a rectifier (`tests.wiring.made_up_equipment`, seed 0), read dead and live on every pair of its outlet.
"""

import gzip
from pathlib import Path

import pytest

from benchapp.actions.audit.following import follow_readings
from benchapp.actions.audit.rejudging import rejudge_workbook
from benchapp.actions.audit.verifying import verify_workbook
from tests.actions.audit.test_verifying import forge

KEPT = Path(__file__).with_name("rules-2.workbook.gz")
MADE_UP = 4


@pytest.fixture
def older(tmp_path):
    path = tmp_path / "older.workbook"
    path.write_bytes(gzip.decompress(KEPT.read_bytes()))
    return path


def test_it_is_verified(older):
    assert verify_workbook(older) == ()


def test_it_is_followed_without_a_difference(older):
    for mark in ("T-1", "T-2", "T-3", "T-4"):
        assert all(one["differs_when_judged_again"] == [] for one in follow_readings(older, mark))


def test_it_is_judged_again_without_a_change(older):
    assert rejudge_workbook(older).changes == ()


@pytest.mark.parametrize(
    ("address", "content"),
    [
        ("vv.v35a", {"judgement": "fail"}),
        ("vv.v35d", {"conformance_probability": 0.5}),
        ("vv.v34a", {"upper": 8.0}),  # further off than any rule ever put it
        ("vv.v34d", {"value": 5.6}),
        ("continuity.outputs/outlet.4-outlet.3", {"judgement": "fail"}),
        ("continuity.outputs/outlet.4-outlet.3", {"upper": 12.0}),
    ],
)
def test_what_is_forged_in_it_is_found(older, address, content):
    forge(older, MADE_UP, address, **content)
    (found,) = verify_workbook(older)
    assert address in found.words
