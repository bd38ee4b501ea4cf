"""Asked before the window closes: a unit that may be live, then what was chosen and would be lost."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QDialogButtonBox, QWidget

from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.desktop.bench.screen import BenchScreen

_WIDE = 32


class UnrecordedDialog(AskingDialog):
    """Says what would be lost; Enter and Esc stay, and only its own button goes on."""

    def __init__(self, parent: QWidget, words: str, then: Callable[[], object]) -> None:
        super().__init__(parent, "unrecorded", tr("Not recorded yet"), QDialogButtonBox.StandardButton.Ok)
        self._then = then
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).hide()
        stay = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        stay.setText(tr("Stay, to record them"))
        self.go_on = button("unrecorded-go", tr("Close without them"))
        self.go_on.setAutoDefault(False)
        self.go_on.clicked.connect(self._go_on)
        self.lay_out(label("unrecorded-words", "say", words), self.go_on, wide=_WIDE)
        stay.setFocus()

    def go(self) -> None:
        self.reject()

    def _go_on(self) -> None:
        self.accept()
        self._then()


def asks_before_closing(bench: "BenchScreen", closing: Callable[[], object]) -> bool:
    """Whether something is asked first; `closing` follows when the answer says so."""
    watch = bench.watch
    if watch.view is not None and watch.view.may_be_live:
        watch.leave_for_good(closing)
        return True
    words = bench.pages.unrecorded()
    if not words:
        return False

    def close() -> None:
        bench.pages.forget_unrecorded()
        QTimer.singleShot(0, bench, closing)

    dialog = UnrecordedDialog(bench.window(), words, close)
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    return True
