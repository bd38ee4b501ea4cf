"""The rules of the house that no other tool holds."""

import ast
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted((ROOT / "benchapp").rglob("*.py"))
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "benchapp", "sequences", "resources", "tests", "demo"}


def _name(path: Path) -> str:
    return str(path.relative_to(ROOT))


@pytest.mark.parametrize("path", SOURCES, ids=_name)
def test_every_file_says_in_its_first_lines_what_it_answers(path):
    assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))), f"{_name(path)} has no module docstring"


@pytest.mark.parametrize("path", SOURCES, ids=_name)
def test_no_file_grows_beyond_four_hundred_lines(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


def test_no_module_is_called_utils():
    assert not [path for path in SOURCES if path.stem in {"utils", "util", "helpers", "misc", "common"}]


def test_the_top_level_holds_what_the_readme_says_and_nothing_else():
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    names = {line.split("/")[0] for line in listed.splitlines()}
    assert {name for name in names if not name.startswith(".")} <= TOP_LEVEL


def test_the_map_for_developers_names_every_package():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    packages = [path.name for path in (ROOT / "benchapp").iterdir() if (path / "__init__.py").exists()]
    assert [name for name in packages if f"{name}/" not in text] == []


def test_the_readme_shows_both_commands():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "python3 demo/start.py" in text
    assert "python3 tests/start.py" in text
