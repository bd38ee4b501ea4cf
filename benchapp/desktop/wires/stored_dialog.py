"""The dialog that brings in what a tester kept: the description of its table, the table, and what came of it."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QDialogButtonBox, QFileDialog, QFormLayout, QHBoxLayout, QLineEdit, QWidget

from benchapp.actions.entries.stored_readings import import_stored
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import button, label, wrapping_form
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.app_context import AppContext


class StoredDialog(AskingDialog):
    """Two files; Enter imports, and each line that was not taken is named."""

    def __init__(self, context: "AppContext", parent: QWidget) -> None:
        title = tr("Readings that a tester kept")
        super().__init__(parent, "stored", title, QDialogButtonBox.StandardButton.Ok)
        self._context = context
        form = wrapping_form()
        described, kept = tr("Description of its table"), tr("Table")
        self.description = self._row(form, "stored-description", described, tr("Descriptions (*.yaml *.yml)"))
        self.table = self._row(form, "stored-table", kept, tr("Tables (*.csv *.txt)"))
        self.note = label(
            "stored-note",
            "quiet",
            tr("They are judged as any other and marked as transcribed. No live step opens by them alone."),
        )
        self.said = label("stored-said")
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setText(tr("Import"))
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setText(tr("Close"))
        self.lay_out(form, self.note, self.said, wide=40)

    def _row(self, form: QFormLayout, name: str, words: str, kind: str) -> QLineEdit:
        path = QLineEdit()
        path.setObjectName(name)
        path.setAccessibleName(words)
        choose = button(f"{name}-choose", tr("Choose …"))
        choose.setAccessibleName(tr("Choose: {what}").format(what=words))
        choose.setAutoDefault(False)
        choose.clicked.connect(lambda: self._choose(path, words, kind))
        row = QHBoxLayout()
        row.addWidget(path, 1)
        row.addWidget(choose)
        form.addRow(words, row)
        return path

    def _choose(self, path: QLineEdit, words: str, kind: str) -> None:
        chosen, _kind = QFileDialog.getOpenFileName(self, words, path.text(), kind)
        if chosen:
            path.setText(chosen)

    def go(self) -> None:
        """Import, or say which file is missing."""
        named = [Path(field.text().strip()) for field in (self.description, self.table)]
        missing = next((path for path in named if not path.is_file()), None)
        if missing is not None:
            self.complain(tr("There is no file {path}. Choose it.").format(path=missing))
            return
        self.complain("")
        self.wait()
        self.said.setText(tr("Reading …"))
        self._context.tasks.do(
            self._context.bench,
            import_stored,
            *named,
            by=self._context.person.initials,
            then=self._show,
            refused=self._refused,
        )

    def _show(self, changes: "ChangeSet") -> None:
        self.buttons.setEnabled(True)
        self.said.setText(changes.words)
        self._context.change_signals.said.emit(changes.words.splitlines()[0])
        self.fit()

    def _refused(self, sentence: str) -> None:
        self.said.setText("")
        self.complain(sentence or tr("It could not be imported."))
