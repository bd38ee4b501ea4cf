"""A sentence with values in it goes through `say` or `tr`, or no translation ever reaches it."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = (
    "quantities",
    "files",
    "judgement",
    "wiring",
    "sequences",
    "workbook",
    "paper",
    "printers",
    "meters",
    "actions",
    "lots",
    "desktop",
)
"""those whose sentences come before people; the console speaks English alone"""
FEWEST_WORDS = 4


def unmarked(tree: ast.AST) -> Iterator[int]:
    """The lines of f-strings that are sentences: some words, a full stop, a value."""
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr) and _is_sentence(node):
            yield node.lineno


def _is_sentence(node: ast.JoinedStr) -> bool:
    text = "".join(one.value for one in node.values if isinstance(one, ast.Constant))
    words = re.findall(r"[A-Za-z]{2,}", text)
    valued = any(isinstance(one, ast.FormattedValue) for one in node.values)
    return valued and len(words) >= FEWEST_WORDS and (text.rstrip().endswith(".") or ". " in text)


@pytest.mark.parametrize("package", PACKAGES)
def test_no_sentence_with_values_is_left_unmarked(package):
    found = [
        f"{path.relative_to(ROOT)}:{line}"
        for path in sorted((ROOT / "benchapp" / package).rglob("*.py"))
        for line in unmarked(ast.parse(path.read_text(encoding="utf-8")))
    ]
    assert found == [], "write say('... {name} ...', name=name)"


def test_the_rule_sees_a_sentence_and_passes_over_what_is_none():
    assert list(unmarked(ast.parse('f"The disk that holds {folder} is full."'))) == [1]
    assert list(unmarked(ast.parse('f"{name}-{number}"'))) == []
    assert list(unmarked(ast.parse('say("The disk that holds {folder} is full.", folder=folder)'))) == []
