"""What is shown when the program itself is at fault: one dialog with the details to copy.

Nothing is caught quietly.
"""

import platform
import traceback

from PySide6.QtCore import qVersion
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

import benchapp
from benchapp.desktop.widgets.room import give_room
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr


class BugDialog(QDialog):
    """Says what is safe, and holds the details of one exception."""

    def __init__(self, problem: BaseException, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("bug-dialog")
        self.setWindowTitle(tr("A mistake in the program"))
        words = tr(
            "The program made a mistake. What was recorded before is safe on disk. Copy the details for whoever "
            "looks after the program; then go on, or close the window and open it again."
        )
        self.details = QPlainTextEdit(details(problem))
        self.details.setObjectName("bug-details")
        self.details.setAccessibleName(tr("Details"))
        self.details.setReadOnly(True)
        copy = QPushButton(tr("Copy the details"))
        copy.setObjectName("bug-copy")
        copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self.details.toPlainText()))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.addButton(copy, QDialogButtonBox.ButtonRole.ActionRole)
        buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(label("bug-words", "", words))
        layout.addWidget(self.details, 1)
        layout.addWidget(buttons)
        give_room(self, wide=40, high=20)


def details(problem: BaseException) -> str:
    """The exception with its traceback and the versions it happened under."""
    trace = "".join(traceback.format_exception(problem))
    versions = (
        f"benchapp {benchapp.__version__}, Python {platform.python_version()}, Qt {qVersion()}, {platform.platform()}"
    )
    return f"{versions}\n\n{trace}"
