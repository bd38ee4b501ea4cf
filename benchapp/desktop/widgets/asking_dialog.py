"""A dialog that asks for something: its title, what is asked, a complaint that stays in it, and its buttons."""

from collections.abc import Callable

from PySide6.QtCore import QSize, QTimer
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLayout, QPushButton, QVBoxLayout, QWidget

from benchapp.desktop.keys import KEYS, add_action, with_key
from benchapp.desktop.widgets.room import resize_on_screen, room_of
from benchapp.desktop.widgets.scrolling import bring_into_sight, scrolling
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr


class AskingDialog(QDialog):
    """Base of the dialogs that are filled in; `name` begins the object names of all that is in it."""

    def __init__(self, parent: QWidget, name: str, title: str, accept: QDialogButtonBox.StandardButton) -> None:
        super().__init__(parent)
        self.setObjectName(f"{name}-dialog")
        self.setWindowTitle(title)
        self.complaint = label(f"{name}-complaint", "complaint")
        self.complaint.hide()
        self.buttons = QDialogButtonBox(accept | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.accepted.connect(self.go)
        self.buttons.rejected.connect(self.reject)
        self._title = label(f"{name}-title", "title", title)
        self._asked = QWidget()
        self._asked.setObjectName(f"{name}-asked")
        self._area = scrolling(self._asked)
        self._wide = 0

    def lay_out(self, *parts: QWidget | QLayout, wide: int) -> None:
        """Put the parts below the title, so many heights of a line wide; they scroll where the screen has no room.

        The complaint and the buttons stand below them, always in sight.
        """
        self._wide = wide
        asked = QVBoxLayout(self._asked)
        asked.setContentsMargins(0, 0, 0, 0)
        for part in parts:
            asked.addWidget(part) if isinstance(part, QWidget) else asked.addLayout(part)
        layout = QVBoxLayout(self)
        layout.addWidget(self._title)
        layout.addWidget(self._area, 1)
        layout.addWidget(self.complaint)
        layout.addWidget(self.buttons)
        self.fit()

    def fit(self) -> None:
        """Make the dialog as high as what stands in it now, as far as the screen has room."""
        layout, asked = self.layout(), self._asked.layout()
        assert layout is not None
        assert asked is not None
        width = min(self.fontMetrics().height() * self._wide, room_of(self).width())
        margins = layout.contentsMargins()
        around = _height(layout, width) - self._area.sizeHint().height()
        high = _height(asked, width - margins.left() - margins.right())
        high = max(high, self._asked.minimumSizeHint().height())  # below that an area scrolls, whatever the width
        resize_on_screen(self, QSize(width, around + high))

    def key_button(self, name: str, one: str, work: Callable[[], object]) -> QPushButton:
        """A button of the dialog that does by mouse what the key of that id does, which stands before its words."""
        made = button(name, with_key(one, tr(KEYS[one].words)))
        made.setAutoDefault(False)

        def do() -> None:
            if made.isEnabled() and made.isVisible():
                work()

        made.clicked.connect(lambda _checked=False: work())
        add_action(self, one, do)
        return made

    def go(self) -> None:
        """Do what was asked for, or complain."""

    def wait(self) -> None:
        """Until it is done or complained of, neither a second Enter nor Esc counts."""
        self.buttons.setEnabled(False)

    def reject(self) -> None:
        """Close without an answer, but not while one is being recorded."""
        if self.buttons.isEnabled():
            super().reject()

    def complain(self, sentence: str) -> None:
        """Say why it cannot be done, and stay; an empty sentence takes the complaint away.

        The field that it is about has the keyboard by then, and is brought into sight.
        """
        self.buttons.setEnabled(True)
        self.complaint.setText(sentence)
        if self.complaint.isVisibleTo(self) != bool(sentence):
            self.complaint.setVisible(bool(sentence))
            self.fit()
        if sentence:
            QTimer.singleShot(0, self, self._show_focus)  # once the complaint has taken its room

    def _show_focus(self) -> None:
        field = self.focusWidget()
        if field is not None and self._asked.isAncestorOf(field):
            bring_into_sight(field)


def _height(layout: QLayout, width: int) -> int:
    """What a layout asks for at that width."""
    return layout.totalHeightForWidth(width) if layout.hasHeightForWidth() else layout.totalSizeHint().height()
