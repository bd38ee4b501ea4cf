"""A sweep pauses: a fault that many of its last units share is named, and whoever is there says whether it goes on."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QDialogButtonBox, QWidget

from benchapp.desktop.bench.navigation import Navigation
from benchapp.desktop.bench.sweep import Sweep, shared_words
from benchapp.desktop.keys import add_action, with_key
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.lots.pareto import SharedFault

_WIDE = 36


class PauseDialog(AskingDialog):
    """Enter and Esc leave the sweep for the lots, where the units can be looked at again; a key of its own goes on."""

    def __init__(self, parent: QWidget, words: str) -> None:
        super().__init__(parent, "pause", tr("The sweep pauses: one fault again and again"), _STOP)
        self.stop = self.buttons.button(_STOP)
        self.stop.setText(tr("Stop, and look at the lot"))
        self.buttons.removeButton(self.buttons.button(QDialogButtonBox.StandardButton.Cancel))
        self.on = button("pause-on", with_key("sweep on", tr("Go on with the sweep")))
        self.on.setAutoDefault(False)
        self.on.clicked.connect(self.accept)
        self.buttons.addButton(self.on, QDialogButtonBox.ButtonRole.ActionRole)
        add_action(self, "sweep on", self.accept)
        self.lay_out(label("pause-words", "say", words), wide=_WIDE)
        self.stop.setFocus()

    def go(self) -> None:
        self.reject()


_STOP = QDialogButtonBox.StandardButton.Ok


def ask_at_pause(parent: QWidget, going: Navigation, sweep: Sweep, shared: "SharedFault") -> PauseDialog:
    """Say why the sweep pauses; it goes on, or is left for the lots."""
    dialog = PauseDialog(parent.window(), shared_words(shared, sweep.title))
    dialog.accepted.connect(partial(going.go_on_sweeping, sweep))
    dialog.rejected.connect(going.stop_sweeping)
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    return dialog
