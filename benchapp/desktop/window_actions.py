"""The keys of the window, each made into the one action that the menus use too."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from benchapp.desktop.keys import add_action
from benchapp.desktop.top_bar import SCREENS
from benchapp.desktop.window_dialogs import show_about, show_find, show_help, show_keys, show_wires
from benchapp.desktop.workshop_dialogs import show_people, show_workshop

if TYPE_CHECKING:
    from benchapp.desktop.window import Window

THEMES = {"theme of the system": "system", "light theme": "light", "dark theme": "dark"}


def add_window_actions(window: "Window") -> None:
    """Make every key of the window work, wherever the keyboard is in it."""
    look, others = window.look, window.others
    for name in (*SCREENS, "backups"):
        add_action(window, name, partial(window.go_to, name))
    for row, theme in THEMES.items():
        add_action(window, row, partial(look.set_theme, theme))
    works: dict[str, Callable[[], object]] = {
        "initials": window.bar.to_initials,
        "withdraw": lambda: window.taking_back.ask(),
        "opening": window.show_opening,
        "all keys": lambda: show_keys(window, look),
        "help": lambda: show_help(window),
        "about program": lambda: show_about(look, window),
        "workshop": lambda: show_workshop(window.context, window),
        "people": lambda: show_people(window.context, window),
        "wires": lambda: show_wires(window, window.context),
        "find unit": lambda: show_find(window, window.context, window.take_unit),
        "back up now": window.back_up,
        "copy": window.place.ask_copy,
        "check record": window.show_record,
        "open workbook": others.ask_open,
        "new workbook": others.ask_new,
        "close": window.close_workbook,
        "quit": QApplication.closeAllWindows,
        "text larger": look.larger,
        "text smaller": look.smaller,
        "text as usual": partial(look.set_percent, 100),
    }
    for row, work in works.items():
        add_action(window, row, work)


def is_shown(window: "Window", row: str) -> bool:
    """Whether what the row leads to is shown now: a screen, a set of colours."""
    if row in THEMES:
        return window.look.theme == THEMES[row]
    shown = window.stack.currentWidget()
    return shown is not None and shown.objectName() == row
