"""The keys of the window, each made into the one action that the menus use too."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication, QStackedWidget, QWidget

from benchapp.desktop.keys import add_action
from benchapp.desktop.window_dialogs import show_about, show_find, show_help, show_keys, show_wires
from benchapp.desktop.workshop_dialogs import show_meters, show_people, show_workshop

if TYPE_CHECKING:
    from benchapp.desktop.app_context import AppContext
    from benchapp.desktop.theme.look import Look

THEMES = {"theme of the system": "system", "light theme": "light", "dark theme": "dark"}


def add_window_actions(
    window: QWidget,
    look: "Look",
    context: Callable[[], "AppContext | None"],
    own: Mapping[str, Callable[[], object]],
    take_unit: Callable[[str], object],
) -> None:
    """Make every key of the window work, wherever the keyboard is in it; `own` is what the window does itself."""
    works: dict[str, Callable[[], object]] = {
        **own,
        **{row: partial(look.set_theme, theme) for row, theme in THEMES.items()},
        "strong contrast": lambda: look.set_contrast("usual" if look.contrast else "strong"),
        "all keys": lambda: show_keys(window, look),
        "help": lambda: show_help(window),
        "about program": lambda: show_about(look, window),
        "workshop": lambda: show_workshop(context(), window),
        "people": lambda: show_people(context(), window),
        "meters": lambda: show_meters(context(), window),
        "wires": lambda: show_wires(window, context()),
        "find unit": lambda: show_find(window, context(), take_unit),
        "quit": QApplication.closeAllWindows,
        "text larger": look.larger,
        "text smaller": look.smaller,
        "text as usual": partial(look.set_percent, 100),
    }
    for row, work in works.items():
        add_action(window, row, work)


def is_shown(look: "Look", stack: QStackedWidget, row: str) -> bool:
    """Whether what the row leads to is shown now: a screen, a set of colours."""
    if row in THEMES:
        return look.theme == THEMES[row]
    if row == "strong contrast":
        return look.contrast
    shown = stack.currentWidget()
    return shown is not None and shown.objectName() == row
