"""No module imports itself by a roundabout way, late imports and imports for types included."""

import ast
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def modules_below(folder: Path) -> dict[str, Path]:
    """Every module below a package's folder, by its dotted name."""
    found = {}
    for path in folder.rglob("*.py"):
        parts = path.relative_to(folder.parent).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imported(source: str, known: frozenset[str]) -> Iterator[str]:
    """The modules among those known that a source imports, anywhere in it."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.ImportFrom) and node.module and not node.level:
            for alias in node.names:
                whole = f"{node.module}.{alias.name}"
                yield from {whole if whole in known else node.module} & known
        elif isinstance(node, ast.Import):
            yield from {alias.name for alias in node.names} & known


def circle_below(folder: Path) -> list[str]:
    """One circle of imports below a package's folder; empty where there is none."""
    modules = modules_below(folder)
    known = frozenset(modules)
    graph = {name: set(imported(path.read_text(encoding="utf-8"), known)) - {name} for name, path in modules.items()}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as circle:
        return list(circle.args[1])
    return []


@pytest.mark.parametrize("package", ["benchapp", "demo", "tests"])
def test_no_circle_of_imports_is_left(package):
    assert circle_below(ROOT / package) == []


def test_a_late_import_that_closes_a_circle_is_found(tmp_path):
    (tmp_path / "house").mkdir()
    (tmp_path / "house" / "low.py").write_text("def late():\n    from house.high import work\n")
    (tmp_path / "house" / "high.py").write_text("import house.low\n")
    assert set(circle_below(tmp_path / "house")) == {"house.low", "house.high"}
