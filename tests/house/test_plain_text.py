"""Recorded text and text of files is shown as it stands: it steers no console and is no markup in the window."""

import ast
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtGui import Qt as MarkupQt

from benchapp.cli.shape import print_json, print_table, say
from benchapp.desktop.widgets.texts import PlainLabel, label, tip
from benchapp.visible import visible

ROOT = Path(__file__).resolve().parents[2]
HOSTILE = "\x1b[2J\x9b31m\x07TB-1\u202e41\u2066\udc80\r<b>bold</b>"
SEEN = "\\x1b[2J\\x9b31m\\x07TB-1\\u202e41\\u2066\\udc80\\x0d<b>bold</b>"
MAKES_LABELS = "desktop/widgets/texts.py"
SHOWS_MARKUP = {"desktop/widgets/hints.py": "escapes every word itself"}
RICH = {"setToolTip", "setWhatsThis", "setHtml", "insertHtml", "appendHtml", "showText", "setInformativeText"}
"""Qt's own that take a text which looks like markup for markup."""


def _calls(path: Path) -> set[str]:
    """The names that are called in a file, or inherited from."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    called = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    bases = [base for node in ast.walk(tree) if isinstance(node, ast.ClassDef) for base in node.bases]
    return {node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "") for node in [*called, *bases]}


def _name(path: Path) -> str:
    return path.relative_to(ROOT / "benchapp").as_posix()


@pytest.mark.parametrize("path", sorted((ROOT / "benchapp" / "cli").rglob("*.py")), ids=_name)
def test_the_console_prints_through_one_module(path: Path) -> None:
    assert path.name == "shape.py" or "print" not in _calls(path)


@pytest.mark.parametrize("path", sorted((ROOT / "benchapp" / "desktop").rglob("*.py")), ids=_name)
def test_the_window_makes_labels_and_tips_in_one_module(path: Path) -> None:
    calls = _calls(path)
    if _name(path) not in {MAKES_LABELS, *SHOWS_MARKUP}:
        assert not calls & {"QLabel", "QMessageBox", "QTextEdit", "QTextBrowser", "QToolTip"}
        if calls & {"addRow"} and "QFormLayout" in path.read_text(encoding="utf-8"):
            assert calls & {"add_rows", "plain_row"} or _gives_no_words(path)
    if calls & RICH or "ToolTipRole" in path.read_text(encoding="utf-8").replace("== Qt.ItemDataRole.ToolTipRole", ""):
        assert "tip" in calls


def _gives_no_words(path: Path) -> bool:
    """Whether every row of a form that the file adds has widgets alone, or a literal."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    rows = [
        node for node in ast.walk(tree) if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "addRow"
    ]
    return all(isinstance(row.args[0], ast.Name | ast.Constant) for row in rows)


def test_what_steers_a_console_is_written_out() -> None:
    assert visible(HOSTILE) == SEEN
    assert visible("Zażółć 9,5\u00a0V ± 2\u202f% Ω µ 電 می\u200cخواهم é e\u0301") == (
        "Zażółć 9,5\u00a0V ± 2\u202f% Ω µ 電 می\u200cخواهم é e\u0301"
    )


@given(st.text(st.characters(exclude_categories=[])))
def test_no_text_is_left_with_a_character_that_cannot_be_seen(text: str) -> None:
    seen = visible(text)
    assert not any(ord(letter) < 32 or 0x7F <= ord(letter) < 0xA0 for letter in seen)
    assert not set(seen) & set("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u2028\u2029")
    seen.encode("utf-8")
    assert visible(seen) == seen


def test_lines_tables_and_json_steer_no_console(capsys: pytest.CaptureFixture[str]) -> None:
    say(HOSTILE)
    print_table([["1", HOSTILE], ["2", "good"]], head=["Unit", HOSTILE + "\n"])
    print_json({"mark": HOSTILE})
    out = capsys.readouterr().out
    assert out.count(SEEN) == 3
    assert all(letter.isprintable() or letter == "\n" for letter in out)
    assert '"\\u001b[2J\\u009b31m\\u0007TB-1\\u202e41\\u2066\\udc80\\r<b>bold</b>"' in out


def test_a_label_shows_markup_as_text(qtbot) -> None:
    for made in (label("a", "", HOSTILE), PlainLabel(HOSTILE)):
        qtbot.addWidget(made)
        assert made.textFormat() is Qt.TextFormat.PlainText
        assert made.text() == SEEN
        made.setText("<img src=x>")
        assert made.text() == "<img src=x>"


def test_a_tip_shows_markup_as_text() -> None:
    assert tip("begun 2/5 <3 %") == "begun 2/5 <3 %"
    assert tip("<b>all is well</b>") == "<qt>&lt;b&gt;all is well&lt;/b&gt;</qt>"
    assert not MarkupQt.mightBeRichText(tip("a < b"))
