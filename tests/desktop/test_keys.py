"""The one table of keys: every key stands in it once, is made into one action, and is written down nowhere else."""

import ast
import re
from collections import Counter
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtGui import QAction, QKeySequence

from benchapp.actions.entries.taking_back import TakingBack
from benchapp.actions.papers.print_jobs import Paper
from benchapp.desktop.bench.leaving import LeavingDialog
from benchapp.desktop.bench.page_book import page_classes
from benchapp.desktop.bench.pause_dialog import PauseDialog
from benchapp.desktop.keys import ALIKE, ALL_KEYS, ANYWHERE, BENCH, KEYS, TABLE, WINDOW, add_action
from benchapp.desktop.keys_dialog import KeysDialog
from benchapp.desktop.lots.list_dialog import LotListDialog
from benchapp.desktop.lots.lot_units import LotUnitsDialog
from benchapp.desktop.lots.new_lot import NewLotDialog
from benchapp.desktop.lots.unit_photos import UnitPhotosDialog
from benchapp.desktop.meter_dialog import MeterDialog
from benchapp.desktop.printing.dialog import PrintDialog
from benchapp.desktop.take_back_dialog import TakeBackDialog
from benchapp.desktop.widgets.save_dialog import SaveDialog

DESKTOP = Path(__file__).resolve().parents[2] / "benchapp" / "desktop"
OTHERS = sorted(path for path in DESKTOP.rglob("*.py") if path.name != "keys.py")
KEY = re.compile(r"\bF[0-9]{1,2}\b|\bEsc\b|\b(Ctrl|Alt|Shift)\+|[↑↓]")
PAGES = {page.name for page in page_classes()}
DIALOGS = {
    *("keys-dialog", "save-dialog", "leaving-dialog", "print-dialog", "take-back-dialog", "pause-dialog"),
    *("new-lot-dialog", "lot-list-dialog", "lot-units-dialog", "unit-photos-dialog", "meter-dialog"),
}
MADE = {key.id: key for key in KEYS.values() if not key.typed}


def name_of(path):
    return str(path.relative_to(DESKTOP))


def words_in(path):
    """Every text of a module but its docstrings, with where it stands."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    said = {node.value for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in said:
            yield node.lineno, node.value


def names_in(path):
    """Every name that a module uses or imports."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.ImportFrom):
            yield from (alias.name for alias in node.names)


def hold_together(one, other):
    """Whether two rows of the table can hold at the same time."""
    wheres = {one.where, other.where}
    if len(wheres) == 1 or wheres & {WINDOW, ANYWHERE}:
        return not wheres & DIALOGS
    return BENCH in wheres and bool(wheres & PAGES)


@pytest.mark.parametrize("path", OTHERS, ids=name_of)
def test_no_key_is_written_down_beside_the_table(path):
    assert [(line, words) for line, words in words_in(path) if KEY.search(words)] == []


@pytest.mark.parametrize("path", OTHERS, ids=name_of)
def test_no_shortcut_is_made_beside_the_table(path):
    assert not {"QShortcut", "QKeySequence", "QAction"} & set(names_in(path))


def test_what_holds_at_the_same_time_has_keys_of_its_own():
    shared = [
        (one.id, other.id)
        for one, other in combinations(KEYS.values(), 2)
        if hold_together(one, other) and set(one.sequences) & set(other.sequences)
    ]
    # the arrow up from the first row leads to the column heads, the list takes the others; photos are pasted as texts
    assert shared == [("heads", "rows"), ("paste photos", "paste")]


def test_no_key_means_two_things_on_any_two_pages():
    """Answers that fields and lists take are numbered anew on each page; every other key means one thing everywhere."""
    commands = [key for key in TABLE if key.where not in DIALOGS and not key.typed]
    texts = [key for key in TABLE if key.where == ANYWHERE]
    shared = {
        frozenset((one.id, other.id))
        for one, other in combinations([*commands, *texts], 2)
        if set(one.sequences) & set(other.sequences)
    }
    assert shared <= {frozenset(pair) for alike in ALIKE for pair in combinations(alike, 2)}


def test_what_means_one_thing_has_one_key():
    for alike in ALIKE:
        assert len({KEYS[one].sequences for one in alike}) == 1, alike


@pytest.mark.parametrize(
    ("one", "sequence"),
    [
        ("close", "Ctrl+W"),
        ("quit", "Ctrl+Q"),
        ("open workbook", "Ctrl+O"),
        ("new lot", "Ctrl+N"),
        ("find unit", "Ctrl+F"),
        ("print", "Ctrl+P"),
        ("withdraw", "Ctrl+Z"),
        ("workshop", "Ctrl+,"),
    ],
)
def test_what_every_program_has_is_on_the_key_of_every_program(one, sequence):
    assert KEYS[one].sequences == (sequence,)


def test_nothing_is_on_a_key_that_macos_keeps_for_itself():
    """Qt's Ctrl is Command there: hide, minimise, hide the others, search of the system, change of window."""
    kept = {"Ctrl+H", "Ctrl+M", "Ctrl+Alt+H", "Ctrl+Space", "Ctrl+Tab", "Ctrl+`"}
    assert [key.id for key in TABLE if kept & set(key.sequences)] == []


def test_the_safety_key_has_a_second_one_without_the_row_of_f_keys():
    assert KEYS["hazard"].sequences[0] == "F12"
    assert [one for one in KEYS["hazard"].sequences if not re.fullmatch(r"F[0-9]+", one)] == ["Ctrl+Backspace"]


def test_every_key_is_one_that_qt_knows():
    for key in KEYS.values():
        for sequence in key.sequences:
            assert QKeySequence(sequence).toString() == sequence, key.id


def test_no_id_stands_twice_in_the_table():
    assert [one for one, times in Counter(key.id for key in TABLE).items() if times > 1] == []


def test_every_key_of_window_and_screens_stands_on_the_page_of_all_keys():
    told = {KEYS[one].shown for ones, _words in ALL_KEYS for one in ones}
    wanted = {key.shown for key in MADE.values() if key.sequences and key.where not in PAGES | DIALOGS}
    assert wanted - told == {"F1"}  # the key that shows the page


@pytest.fixture
def whole(every_step):
    """A window with every screen and every page made."""
    every_step.window.bench.pages.make_all()
    every_step.strike("F2", "F11", "Ctrl+S", "F4")
    return every_step


def live_view(technician):
    """The unit at hand as it would be shown once mains was on it."""
    view = technician.window.bench.view
    return replace(view, state=replace(view.state, energised=True))


def take_back_dialog(technician):
    seen = TakingBack(unit="TB-001", number=1, words="good at Case of TB-001")
    dialog = TakeBackDialog(technician.window, seen, list)
    dialog.offer_again(list)
    return dialog


def test_every_key_is_made_into_one_action(whole):
    dialogs = (
        KeysDialog(whole.window),
        SaveDialog(whole.window, "Tags", Path("tags.pdf"), lambda _dialog, _path: None),
        LeavingDialog(whole.window, live_view(whole), list, list),
        take_back_dialog(whole),
        PauseDialog(whole.window, "one fault again and again"),
        PrintDialog(whole.window.context, whole.window, [Paper.TAGS], ["TB-001"], list),
        NewLotDialog(whole.window.context, whole.window),
        LotListDialog(whole.window.context, whole.window),
        LotUnitsDialog(whole.window.context, whole.window, whole.window.lots.lot()),
        MeterDialog(whole.window.context, whole.window),
        UnitPhotosDialog(whole.window.context, whole.window, ["TB-001"]),
    )
    made = [action for action in whole.window.findChildren(QAction) if action.objectName().startswith("action-")]
    # photos are chosen on a page and in a dialog
    chosen_twice = [key.id for key in MADE.values() if key.where == "photo"]
    names = [f"action-{one}" for one in (*MADE, *chosen_twice)]
    assert sorted(action.objectName() for action in made) == sorted(names)
    for action in made:
        key = KEYS[action.objectName().removeprefix("action-")]
        assert [sequence.toString() for sequence in action.shortcuts()] == list(key.sequences)
        assert action.text() == key.words
        assert action.isEnabled()
        assert action in action.parent().actions()
    for dialog in dialogs:
        dialog.deleteLater()


def test_every_key_in_sight_at_the_foot_works_on_its_page(whole):
    """A hint is a key of this page, of the bench, of the window, or one that fields and lists take."""
    numbered = re.compile(r"[1-9](…[0-9])?")  # the rows of a page, each by its number
    bench = whole.window.bench
    for name in PAGES:
        page = bench.pages.page(name)
        page.view = bench.view
        shared = {"reading", "search"} if name == "search" else set()
        here = {key.shown for key in KEYS.values() if key.where in {name, BENCH, WINDOW, ANYWHERE} | shared}
        assert {hint.key for hint in page.hints() if not numbered.fullmatch(hint.key)} <= here, name


def test_a_key_that_a_field_takes_is_made_into_no_action(whole):
    with pytest.raises(AssertionError):
        add_action(whole.window, "digits", list)
