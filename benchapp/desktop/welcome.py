"""The window without a workbook: open one, begin one, or one of the last. What went wrong with one is said here."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout

from benchapp.desktop.keys import with_key
from benchapp.desktop.screen import Screen
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.desktop.other_workbooks import OtherWorkbooks

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
        self._nothing_there = False
        layout = QVBoxLayout(self)
        layout.setAlignment(Qt.AlignmentFlag.AlignTop)
        layout.setContentsMargins(24, 24, 24, 24)
        for widget in (self.words, self.path, self.complaint, self.open, self.new):
            layout.addWidget(widget)
        self.look_for = button("welcome-look-for", with_key("open workbook", tr("Look for a workbook …")))
        self.begin = button("welcome-begin", with_key("new workbook", tr("Begin a new workbook …")))
        self.last_head = label("welcome-last-head", "head", tr("Opened last"))
        self.last = QVBoxLayout()
        for widget in (self.look_for, self.begin, self.last_head):
            layout.addWidget(widget)
        layout.addLayout(self.last)
        self._parts = [self.path, self.open, self.new, self.look_for, self.begin, self.last_head]
        self.open.clicked.connect(lambda: self._ask(new=False))
        self.new.clicked.connect(lambda: self._ask(new=True))
        self.path.returnPressed.connect(lambda: self._ask(new=False))
        self.path.textEdited.connect(lambda _typed: self._mark_missing(False))

    def offer(self, others: "OtherWorkbooks") -> None:
        """Offer the file dialogs and the workbooks that were opened last."""
        self.look_for.clicked.connect(others.ask_open)
        self.begin.clicked.connect(others.ask_new)
        others.asked.connect(self.asked)
        paths = others.recent.paths()
        for number, path in enumerate(paths, start=1):
            one = button(f"welcome-last-{number}", f"{path.name}   ({path.parent})".replace("&", "&&"))
            one.clicked.connect(lambda _checked=False, path=path: self.asked.emit(path, False))
            self.last.addWidget(one)
            self._parts.append(one)
        self.last_head.setVisible(bool(paths))
        if not paths:
            self._parts.remove(self.last_head)

    def open_soon(self, words: str) -> None:
        """Say that a workbook is being opened; there is nothing to ask."""
        self.words.setText(words)
        for widget in self._parts:
            widget.hide()

    def tell(self, sentence: str, path: Path | None = None) -> None:
        """Say why no workbook is open, and ask again."""
        self.words.setText(tr(_QUESTION))
        for widget in self._parts:
            widget.show()
        self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))
        self._mark_missing(path is not None and not path.exists())
        if path is not None:
            self.path.setText(str(path))

    def _mark_missing(self, missing: bool) -> None:
        """Where nothing is at the path it cannot be opened, and Enter does not offer to."""
        self._nothing_there = missing
        self.open.setVisible(not missing)

    def take_focus(self) -> None:
        """Put the keyboard where the path is typed; where nothing is at that path, on beginning it there."""
        (self.new if self._nothing_there else self.path).setFocus()

    def _ask(self, *, new: bool) -> None:
        if self.path.text().strip():
            self.asked.emit(Path(self.path.text().strip()).expanduser(), new)
        else:
            self.tell(tr("Type the path of the workbook file."))
