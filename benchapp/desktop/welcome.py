"""The window without a workbook: open one, or begin one. What went wrong with the last one asked for is said here."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout

from benchapp.desktop.screen import Screen
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

_QUESTION = "Which workbook? It is one file and holds every record of the workshop."


class WelcomePage(Screen):
    """Asks for the path of a workbook; opens what is there, begins what is not."""

    asked = Signal(object, bool)
    """the path, and whether a new workbook is to be made"""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("welcome")
        self.words = label("welcome-words", "say", tr(_QUESTION))
        self.path = QLineEdit()
        self.path.setObjectName("welcome-path")
        self.path.setAccessibleName(tr("Workbook file"))
        self.path.setPlaceholderText(tr("for example /home/me/tarnbeck.workbook"))
        self.open = button("welcome-open", tr("Enter  Open this workbook"), "main")
        self.new = button("welcome-new", tr("Begin a new workbook there"))
        self.complaint = label("welcome-complaint", "complaint")
        self.complaint.hide()
        layout = QVBoxLayout(self)
        layout.setAlignment(Qt.AlignmentFlag.AlignTop)
        layout.setContentsMargins(24, 24, 24, 24)
        for widget in (self.words, self.path, self.complaint, self.open, self.new):
            layout.addWidget(widget)
        self.open.clicked.connect(lambda: self._ask(new=False))
        self.new.clicked.connect(lambda: self._ask(new=True))
        self.path.returnPressed.connect(lambda: self._ask(new=False))

    def open_soon(self, words: str) -> None:
        """Say that a workbook is being opened; there is nothing to ask."""
        self.words.setText(words)
        for widget in (self.path, self.open, self.new):
            widget.hide()

    def tell(self, sentence: str, path: Path | None = None) -> None:
        """Say why no workbook is open, and ask again."""
        self.words.setText(tr(_QUESTION))
        for widget in (self.path, self.open, self.new):
            widget.show()
        self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))
        if path is not None:
            self.path.setText(str(path))

    def take_focus(self) -> None:
        """Put the keyboard where the path is typed."""
        self.path.setFocus()

    def _ask(self, *, new: bool) -> None:
        if self.path.text().strip():
            self.asked.emit(Path(self.path.text().strip()).expanduser(), new)
        else:
            self.tell(tr("Type the path of the workbook file."))
