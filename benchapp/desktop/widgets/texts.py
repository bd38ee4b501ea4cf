"""Labels by what they say (the unit, the instruction, a head, a complaint), buttons that Enter presses, choosers."""

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QFormLayout,
    QFrame,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QWidget,
)

_LETTERS = 8


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


def restyle(widget: QLabel, kind: str) -> None:
    """Give a label another `kind`, so that the style sheet shows it otherwise."""
    if widget.property("kind") != kind:
        widget.setProperty("kind", kind)
        widget.style().unpolish(widget)
        widget.style().polish(widget)
        QCoreApplication.sendEvent(widget, QEvent(QEvent.Type.StyleChange))  # its padding is another


def panel(name: str, parent: QWidget | None = None) -> QFrame:
    """A sheet that holds what is read together."""
    frame = QFrame(parent)
    frame.setObjectName(name)
    frame.setProperty("kind", "panel")
    return frame


def button(name: str, words: str, kind: str = "") -> QPushButton:
    """A button with an object name that Enter and the space bar press."""
    made = QPushButton(words)
    made.setObjectName(name)
    made.setAutoDefault(True)
    if kind:
        made.setProperty("kind", kind)
    return made


def field(name: str, words: str = "", kind: str = "", *, example: str = "") -> QLineEdit:
    """A field to type in, with the name that a screen reader says; `example` stands in it while it is empty."""
    made = QLineEdit()
    made.setObjectName(name)
    made.setAccessibleName(words)
    made.setPlaceholderText(example)
    if kind:
        made.setProperty("kind", kind)
    return made


def add_rows(form: QFormLayout, *rows: tuple[QWidget, str, str]) -> None:
    """Rows of widget, object name and the words before it, by which a screen reader calls it; a button has its own."""
    for widget, name, words in rows:
        widget.setObjectName(name)
        widget.setAccessibleName(words or (widget.text() if isinstance(widget, QAbstractButton) else ""))
        form.addRow(words, widget) if words else form.addRow(widget)


def hold_narrow(box: QComboBox) -> None:
    """Let the box take the width it is given: by itself it is as wide as its longest text, and the window with it."""
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(_LETTERS)
