"""The rules of the house that no other tool holds."""

import ast
import re
import subprocess
import tomllib
from functools import cache
from pathlib import Path

import pytest

from benchapp.judgement.meters.functions import Function

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted((ROOT / "benchapp").rglob("*.py"))
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "benchapp", "sequences", "resources", "tests", "demo"}

VALIDATING = {
    *("model_validate", "model_validate_json", "model_validate_strings", "model_construct", "parse_obj"),
    *("TypeAdapter", "validate_python", "validate_json", "validate_call"),
}
"""pydantic's own ways to make or check a model"""


def _name(path: Path) -> str:
    return str(path.relative_to(ROOT))


def _module(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts)


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def _imported(path: Path) -> dict[str, str]:
    """The names that a file imports, each with the module that it comes from."""
    lines = (node for node in ast.walk(_tree(path)) if isinstance(node, ast.ImportFrom))
    return {name.asname or name.name: line.module or "" for line in lines for name in line.names}


@pytest.mark.parametrize("path", SOURCES, ids=_name)
def test_every_file_says_in_its_first_lines_what_is_inside(path):
    assert ast.get_docstring(_tree(path)), f"{_name(path)} has no module docstring"


@pytest.mark.parametrize("path", SOURCES, ids=_name)
def test_what_is_inside_is_stated_not_asked(path):
    assert "?" not in (ast.get_docstring(_tree(path)) or "")


@pytest.mark.parametrize("path", SOURCES, ids=_name)
def test_no_file_grows_beyond_four_hundred_lines(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


def test_what_is_sqlites_own_stands_in_one_module():
    """No other module connects or names a pragma."""
    own = re.compile(r"PRAGMA|sqlite3\.connect|sqlite3 import")
    found = [_name(path) for path in SOURCES if own.search(path.read_text(encoding="utf-8"))]
    assert found == ["benchapp/workbook/file/sqlite.py"]


def test_what_is_of_one_operating_system_stands_in_one_module():
    """No other module asks which system this is, or knows its tables, numbers of errors or users."""
    own = re.compile(r"sys\.platform|os\.name\b|platform\.system|/proc/|\berrno\.|import errno|geteuid|winerror|windll")
    found = [_name(path) for path in SOURCES if own.search(path.read_text(encoding="utf-8"))]
    assert found == ["benchapp/operating_system.py"]


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


def test_the_map_for_developers_names_no_file_that_is_not_there():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    files = [
        path.relative_to(ROOT).as_posix()
        for top in ("benchapp", "tests", "demo")
        for path in (ROOT / top).rglob("*.py")
    ]
    named = set(re.findall(r"`([a-z_/]+\.py)\b", text)) - {"sequences/kinds/listen.py", "wiring/kinds/thermistor.py"}
    assert len(named) > 20
    assert [name for name in sorted(named) if not any(f"/{file}".endswith(f"/{name}") for file in files)] == []


def test_the_map_for_developers_names_every_room_in_its_order():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| (\w+) \| ([^|]+) \|$", text, re.MULTILINE))
    linter = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
    rooms = [one for one in linter["contracts"] if one["name"].startswith("Rooms of ")]
    assert len(rooms) == 6
    for contract in rooms:
        assert re.split(r", | or ", rows[contract["name"].removeprefix("Rooms of ")]) == contract["layers"][::-1]


def test_the_glossary_has_at_most_forty_words():
    glossary = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Glossary")[2]
    assert 20 < len(re.findall(r"^\| (?!word|---)", glossary, re.MULTILINE)) <= 40


def test_the_readme_shows_both_commands():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "python3 demo/start.py" in text
    assert "python3 tests/start.py" in text


def _classes_of_files() -> dict[str, str]:
    """Each model of what people write in files, by its class, with the module that defines it."""
    classes = [(path, node) for path in SOURCES for node in ast.walk(_tree(path)) if isinstance(node, ast.ClassDef)]
    found = {"FileModel": "benchapp.files.models"}
    while True:
        more = {
            node.name: _module(path)
            for path, node in classes
            if node.name not in found and any(ast.unparse(base) in found for base in node.bases)
        }
        if not more:
            return found
        found |= more


def test_models_of_files_are_made_through_one_door():
    """What an author wrote is checked by `build_model` and `made_of`, which put what is wrong into a sentence."""
    classes, door = _classes_of_files(), ROOT / "benchapp" / "files" / "models.py"
    assert len(classes) > 40
    past_it = []
    for path in set(SOURCES) - {door}:
        here = _imported(path) | {name: module for name, module in classes.items() if module == _module(path)}
        for call in (node for node in ast.walk(_tree(path)) if isinstance(node, ast.Call)):
            name = ast.unparse(call.func)
            made = name in classes and here.get(name) == classes[name] and bool(call.args or call.keywords)
            if made or name.rpartition(".")[2] in VALIDATING:
                past_it.append(f"{_name(path)}:{call.lineno}: {name}")
    assert past_it == []


FUNCTIONS = {one.value for one in Function}


def _only_functions(node: ast.AST) -> bool:
    """Whether it is a list, tuple or set of nothing but meter functions as bare text."""
    return isinstance(node, ast.Tuple | ast.List | ast.Set) and {
        one.value if isinstance(one, ast.Constant) else None for one in node.elts
    } <= FUNCTIONS - {None}


def _compares_a_function_with_text(node: ast.AST) -> bool:
    if not isinstance(node, ast.Compare):
        return False
    sides = [node.left, *node.comparators]
    text = any(isinstance(one, ast.Constant) and one.value in FUNCTIONS for one in sides)
    return text and any(ast.unparse(one).endswith("function") for one in sides)


@pytest.mark.parametrize("path", SOURCES, ids=_name)
def test_a_meter_function_is_named_by_the_enumeration_not_by_bare_text(path):
    """A word spelt wrong in a comparison is no mistake that anything finds."""
    found = [
        f"{_name(path)}:{node.lineno}: {ast.unparse(node)}"
        for node in ast.walk(_tree(path))
        if isinstance(node, ast.expr)
        and (_compares_a_function_with_text(node) or (_only_functions(node) and getattr(node, "elts", ())))
    ]
    assert found == []
