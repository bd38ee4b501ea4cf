"""Labels by what they say (the unit, the instruction, a head, a complaint), buttons that Enter presses, choosers."""

from html import escape

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtGui import Qt as MarkupQt
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from benchapp.visible import visible
from benchapp.words import shown

_LETTERS = 8


class PlainLabel(QLabel):
    """A label that shows any text as it stands: in the reader's language, never as markup."""

    def __init__(self, words: str = "", parent: QWidget | None = None) -> None:
        self._heights: dict[tuple[str, int], int] = {}
        super().__init__(visible(shown(words), keep=_KEPT), parent)
        self.setTextFormat(Qt.TextFormat.PlainText)

    def setText(self, words: str) -> None:
        """Show these words."""
        super().setText(visible(shown(words), keep=_KEPT))

    def heightForWidth(self, width: int) -> int:
        """The height of the words at that width: Qt asks many times while a page is laid out, and breaks lines anew."""
        found = self._heights.get((self.text(), width))
        if found is None:
            if len(self._heights) >= _HEIGHTS:
                self._heights.clear()
            found = self._heights[self.text(), width] = super().heightForWidth(width)
        return found

    def changeEvent(self, event: QEvent) -> None:
        """With another font or style the words need other heights."""
        self._heights.clear()
        super().changeEvent(event)


_HEIGHTS = 64
"""heights of texts that a label keeps"""
_KEPT = "\n\t"
"""What may stand in our own words on screen."""


def tip(words: str) -> str:
    """A tooltip that Qt shows as it stands: it takes a text that looks like markup for markup."""
    seen = visible(words, keep=_KEPT)
    return f"<qt>{escape(seen)}</qt>" if MarkupQt.mightBeRichText(seen) else seen


def label(name: str, kind: str = "", words: str = "", *, wrap: bool = True, parent: QWidget | None = None) -> QLabel:
    """A label with an object name and a `kind` that the style sheet knows; always plain text, never markup."""
    made = PlainLabel(words, parent)
    made.setObjectName(name)
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


class OnceButton(QPushButton):
    """A double click presses it once: the second press may come when another page stands there."""

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        event.accept()


def button(name: str, words: str, kind: str = "") -> QPushButton:
    """A button with an object name that Enter and the space bar press."""
    made = OnceButton(words)
    made.setObjectName(name)
    made.setAutoDefault(True)
    if kind:
        made.setProperty("kind", kind)
    return made


def key_button(name: str, words: str, kind: str = "") -> QPushButton:
    """A button that does by mouse what a key does: the keyboard stays where it is."""
    made = button(name, words, kind)
    made.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    made.setAutoDefault(False)
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


def beside(one: QWidget, pressed: QPushButton) -> QHBoxLayout:
    """A field with the button beside it that takes what is typed, as Enter does."""
    row = QHBoxLayout()
    row.addWidget(one, 1)
    row.addWidget(pressed)
    return row


def wrapping_form() -> QFormLayout:
    """A form in which the words stand above what is filled in where a row is too long for the window."""
    form = QFormLayout()
    form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
    return form


def add_rows(form: QFormLayout, *rows: tuple[QWidget, str, str]) -> None:
    """Rows of widget, object name and the words before it, by which a screen reader calls it; a button has its own."""
    for widget, name, words in rows:
        widget.setObjectName(name)
        widget.setAccessibleName(words or (widget.text() if isinstance(widget, QAbstractButton) else ""))
        form.addRow(words, widget) if words else form.addRow(widget)
        plain_row(form, widget)


def plain_row(form: QFormLayout, widget: QWidget) -> None:
    """Show the words before a widget, which the form made a label of, as they stand."""
    if isinstance(before := form.labelForField(widget), QLabel):
        before.setTextFormat(Qt.TextFormat.PlainText)


def hold_narrow(box: QComboBox) -> None:
    """Let the box take the width it is given: by itself it is as wide as its longest text, and the window with it."""
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(_LETTERS)
