"""Where to write a file: a path that can be typed, or looked for with the system's own dialog.

A complaint stays in it.
"""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QDialogButtonBox, QFileDialog, QHBoxLayout, QLineEdit, QPushButton, QWidget

from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.words import tr


class SaveDialog(AskingDialog):
    """Asks for a path and hands it to `save`; stays open with a sentence until the file is written."""

    def __init__(
        self, parent: QWidget, title: str, suggested: Path, save: Callable[["SaveDialog", Path], None], kinds: str = ""
    ) -> None:
        super().__init__(parent, "save", title, QDialogButtonBox.StandardButton.Save)
        self.path = QLineEdit(str(suggested))
        self.path.setObjectName("save-path")
        self.path.setAccessibleName(tr("File"))
        browse = QPushButton(tr("Look for a place …"))
        browse.setObjectName("save-browse")
        browse.setAutoDefault(False)
        row = QHBoxLayout()
        row.addWidget(self.path, 1)
        row.addWidget(browse)
        self.lay_out(row, wide=40)
        self._save = save
        self._kinds = kinds or tr("PDF files (*.pdf)")
        browse.clicked.connect(self._browse)

    def go(self) -> None:
        if not self.path.text().strip():
            self.complain(tr("Type where the file is to be written."))
            return
        self.complain("")
        self._save(self, Path(self.path.text().strip()).expanduser())

    def _browse(self) -> None:
        path, _kind = QFileDialog.getSaveFileName(self, self.windowTitle(), self.path.text(), self._kinds)
        if path:
            self.path.setText(path)
