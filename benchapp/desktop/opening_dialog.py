"""The bench opening before there is a unit: the same form as on the bench, in a dialog."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialogButtonBox, QWidget

from benchapp.actions.entries.days import open_bench
from benchapp.desktop.bench.opening_form import OpeningForm, opening_words
from benchapp.desktop.person import initials_first
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr
from benchapp.errors import BenchError

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.app_context import AppContext
    from benchapp.sequences.planning.catalogue import Catalogue


class OpeningDialog(AskingDialog):
    """Opens the bench for the day with the workshop's meters as they stand in its files."""

    def __init__(self, context: "AppContext", parent: QWidget) -> None:
        super().__init__(parent, "opening", tr("Open the bench for today"), QDialogButtonBox.StandardButton.Ok)
        self._context = context
        self.form = OpeningForm(context)
        self.record = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.record.setText(tr("Open the bench for today"))
        self.record.setObjectName("opening-record")
        self.form.wire.turned.connect(self.fit)
        self.form.wire.complained.connect(self.complain)
        self.finished.connect(lambda _result: self.form.wire.rest())
        self.lay_out(label("opening-say", "quiet", opening_words()), self.form, wide=38)

    def begin(self) -> None:
        """Read the workshop's meters, off the window's thread."""
        self._context.tasks.read(lambda: self._context.bench.catalogue, then=self._offer, refused=self.complain)

    def _offer(self, catalogue: "Catalogue") -> None:
        self.form.fill(catalogue.meters, self._context.bench.opening())
        self.form.follow(self.record)
        self.form.first().setFocus(Qt.FocusReason.OtherFocusReason)
        self.fit()

    def go(self) -> None:
        if not self._context.person.initials:
            self.complain(initials_first())
            return
        try:
            opening = self.form.opening()
        except BenchError as problem:
            self.complain(problem.sentence)
            return
        self.complain("")
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            open_bench,
            by=self._context.person.initials,
            then=self._opened,
            refused=self.complain,
            **opening,
        )

    def _opened(self, changes: "ChangeSet") -> None:
        self.accept()
        self._context.change_signals.said.emit(changes.words)
