"""What the window shows of the workshop itself, in dialogs: its settings, people and meters, who begins it."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QDialog, QWidget

from benchapp.sequences.planning.people import unlisted

if TYPE_CHECKING:
    from benchapp.desktop.app_context import AppContext


def say_unlisted(context: "AppContext | None", initials: str) -> None:
    """Say at once of initials that are not on the list, or no longer, what they are good for."""
    if context is None:
        return
    words = unlisted(context.bench.workshop.people, initials, context.bench.clock())
    if words:
        context.change_signals.said.emit(words)


def show_workshop(context: "AppContext | None", before: QWidget) -> None:
    """The workshop's settings; nothing without a workbook."""
    from benchapp.desktop.workshop_dialog import WorkshopDialog

    if context is None:
        return
    dialog = WorkshopDialog(context, before)
    dialog.people_asked.connect(lambda: show_people(context, before))
    _show(dialog)
    dialog.begin()


def show_people(context: "AppContext | None", before: QWidget) -> None:
    """Who works here, and what each may do; who begins, where nobody is listed; nothing without a workbook."""
    from benchapp.desktop.people_dialog import PeopleDialog

    if context is None:
        return
    if context.bench.workshop.people:
        _show(PeopleDialog(context, before))
    else:
        ask_first_person(context, before)


def show_meters(context: "AppContext | None", before: QWidget) -> None:
    """The meters of the workshop, and a form for one more; nothing without a workbook."""
    from benchapp.desktop.meter_dialog import MeterDialog

    if context is None:
        return
    dialog = MeterDialog(context, before)
    _show(dialog)
    dialog.begin()


def ask_first_person(context: "AppContext", before: QWidget) -> None:
    """Who begins this workbook: asked of a new one, and until somebody has answered."""
    from benchapp.desktop.first_person_dialog import FirstPersonDialog

    dialog = FirstPersonDialog(context, before)
    _show(dialog)
    dialog.begin()


def _show(dialog: QDialog) -> None:
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
