"""No folder has a name that the tools pass over: its tests would not run, its code would not be checked."""

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PASSED_OVER = {"build", "dist", "venv", "node_modules", "CVS", "buck-out", "site-packages", "__pypackages__"}
"""what pytest (norecursedirs) and ruff (exclude) leave out by themselves, by their documentation"""


@pytest.mark.parametrize("top", ["benchapp", "tests", "demo"])
def test_no_folder_is_passed_over_by_the_tools(top):
    assert {path.name for path in (ROOT / top).rglob("*") if path.is_dir()} & PASSED_OVER == set()
