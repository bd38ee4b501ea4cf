"""Labels by what they say: the unit, the instruction, a head, quiet words, a complaint."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QSizePolicy, QWidget


def label(name: str, kind: str = "", words: str = "", *, wrap: bool = True, parent: QWidget | None = None) -> QLabel:
    """A label with an object name and a `kind` that the style sheet knows; always plain text, never markup."""
    made = QLabel(words, parent)
    made.setObjectName(name)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setWordWrap(wrap)
    if kind:
        made.setProperty("kind", kind)
    if wrap:
        made.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
    return made


def panel(name: str, parent: QWidget | None = None) -> QFrame:
    """A sheet that holds what is read together."""
    frame = QFrame(parent)
    frame.setObjectName(name)
    frame.setProperty("kind", "panel")
    return frame
