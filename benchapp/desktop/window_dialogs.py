"""The dialogs that the keys of the window open: help, all keys, what the program is, a unit to find, the record."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from benchapp.desktop.app_context import AppContext
    from benchapp.desktop.record.dialog import RecordDialog
    from benchapp.desktop.theme.look import Look


def show_keys(window: QWidget, look: "Look") -> None:
    """All keys on one page."""
    from benchapp.desktop.keys_dialog import KeysDialog

    dialog = KeysDialog(window)
    dialog.finished.connect(dialog.deleteLater)
    dialog.about_asked.connect(lambda: show_about(look, dialog))
    dialog.open()


def show_about(look: "Look", before: QWidget) -> None:
    """What the program is and under which licences, before the dialog that it was asked from."""
    from benchapp.desktop.about import AboutDialog

    dialog = AboutDialog(look, before)
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()


def show_help(window: QWidget) -> None:
    """How a day goes, from a new workbook to the first tag."""
    from benchapp.desktop.help_dialog import HelpDialog

    dialog = HelpDialog(window)
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()


def show_find(window: QWidget, context: "AppContext | None", take: Callable[[str], object]) -> None:
    """Ask for a unit by its mark, and take it."""
    from benchapp.desktop.find_dialog import FindDialog

    if context is None:
        return
    dialog = FindDialog(context, window)
    dialog.found.connect(take)
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()


def show_wires(window: QWidget, context: "AppContext | None") -> None:
    """Where meters answer, and what they read when tried; afterwards the page at hand reads its own meter again."""
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.wires.dialog import WiresDialog

    if context is None:
        return
    dialog = WiresDialog(context, window)
    dialog.finished.connect(lambda _result: context.change_signals.changed.emit(ChangeSet()))
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()


def show_record(window: QWidget, context: "AppContext | None") -> "RecordDialog | None":
    """Whether the record holds, what does not, and a check of all of it."""
    from benchapp.desktop.record.dialog import RecordDialog

    if context is None:
        return None
    dialog = RecordDialog(context.record, window)
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    return dialog
