"""Where to write a file: a path that can be typed, or looked for with the system's own dialog.

A complaint stays in it.
"""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr


class SaveDialog(QDialog):
    """Asks for a path and hands it to `save`; stays open with a sentence until the file is written."""

    def __init__(
        self, parent: QWidget, title: str, suggested: Path, save: Callable[["SaveDialog", Path], None]
    ) -> None:
        super().__init__(parent)
        self.setObjectName("save-dialog")
        self.setWindowTitle(title)
        self.path = QLineEdit(str(suggested))
        self.path.setObjectName("save-path")
        self.path.setAccessibleName(tr("File"))
        self.complaint = label("save-complaint", "complaint")
        self.complaint.hide()
        browse = QPushButton(tr("Look for a place …"))
        browse.setObjectName("save-browse")
        browse.setAutoDefault(False)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel)
        row = QHBoxLayout()
        row.addWidget(self.path, 1)
        row.addWidget(browse)
        layout = QVBoxLayout(self)
        layout.addWidget(label("save-title", "title", title))
        layout.addLayout(row)
        layout.addWidget(self.complaint)
        layout.addWidget(buttons)
        self._save = save
        self.resize(self.fontMetrics().height() * 40, self.sizeHint().height())
        browse.clicked.connect(self._browse)
        buttons.accepted.connect(self._go)
        buttons.rejected.connect(self.reject)

    def complain(self, sentence: str) -> None:
        """The file could not be written: say why and stay."""
        self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))

    def _go(self) -> None:
        if not self.path.text().strip():
            self.complain(tr("Type where the file is to be written."))
            return
        self.complain("")
        self._save(self, Path(self.path.text().strip()).expanduser())

    def _browse(self) -> None:
        path, _kind = QFileDialog.getSaveFileName(self, self.windowTitle(), self.path.text(), tr("PDF files (*.pdf)"))
        if path:
            self.path.setText(path)
