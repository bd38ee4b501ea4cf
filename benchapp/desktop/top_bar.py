"""The bar at the top: menus, the screens it leads to, whose initials stand under what is recorded, all keys."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QWidget

from benchapp.desktop.keys import KEYS, key_text, with_key
from benchapp.desktop.menu_bar import MenuBar
from benchapp.desktop.person import Person
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr

SCREENS = ("lots", "bench", "sale")


class TopBar(QWidget):
    """Says which screen is shown; a button asks for another one and shows it only once the window has gone there."""

    screen_asked = Signal(str)
    keys_asked = Signal()
    left = Signal()
    """the keyboard goes back to what is shown below: Esc, or Enter behind the initials"""

    def __init__(self, look: Look, person: Person, menus: MenuBar) -> None:
        super().__init__()
        self.setObjectName("top-bar")
        self._look = look
        self._shown = ""
        self.menus = menus
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(menus)
        self.buttons: dict[str, QPushButton] = {}
        for name in SCREENS:
            button = QPushButton(with_key(name, tr(KEYS[name].words)))
            button.setObjectName(f"go-{name}")
            button.setCheckable(True)
            button.setEnabled(False)
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            button.clicked.connect(lambda _checked=False, name=name: self._ask(name))
            self.buttons[name] = button
            row.addWidget(button)
        row.addStretch(1)
        self.initials = QLineEdit(person.initials)
        self.initials.setObjectName("initials")
        self.initials.setAccessibleName(tr("Your initials"))
        self.initials.setMaxLength(12)
        self.head = label("initials-head", "quiet", wrap=False)
        self.keys = QPushButton()
        self.keys.setObjectName("go-keys")
        self.keys.setAccessibleName(tr("All keys, and about this program"))
        self.keys.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.keys.clicked.connect(lambda _checked=False: self.keys_asked.emit())
        for widget in (self.head, self.initials, self.keys):
            row.addWidget(widget)
        self._shorten_words()
        look.changed.connect(self._shorten_words)
        self.initials.textChanged.connect(person.set_initials)
        self.initials.editingFinished.connect(person.arrive)
        self.initials.returnPressed.connect(self.left)
        person.changed.connect(self._show_initials)

    def open(self, *, is_open: bool) -> None:
        """Whether there is a workbook whose screens can be gone to."""
        for button in self.buttons.values():
            button.setEnabled(is_open)

    def show_screen(self, name: str) -> None:
        """Mark the screen that is shown."""
        self._shown = name
        for other, button in self.buttons.items():
            button.setChecked(other == name)

    def name_unit(self, mark: str) -> None:
        """Say which unit is on the bench."""
        name = tr("Bench: {unit}").format(unit=mark) if mark else tr("Bench")
        self.buttons["bench"].setText(with_key("bench", name))
        self._shorten_words()

    def to_initials(self) -> None:
        """Put the keyboard where the initials are typed."""
        self.initials.setFocus()
        self.initials.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leads back from here: the keys of a page are not heard while the keyboard is in this bar."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _ask(self, name: str) -> None:
        self.show_screen(self._shown)
        self.screen_asked.emit(name)

    def _show_initials(self, initials: str) -> None:
        if initials != self.initials.text().strip():
            self.initials.setText(initials)

    def _shorten_words(self) -> None:
        """Short words where text is large or the window narrow; where that is not enough, one menu for all."""
        for short, folded in ((False, False), (True, False), (True, True)):
            if short or not self._look.cramped:
                self._say(short=short)
                if folded or self._width(folded=folded) <= self.width():
                    self.menus.fold(folded=folded)
                    self.keys.setVisible(not folded)  # the one menu holds them too
                    break

    def _width(self, *, folded: bool) -> int:
        """The room that the parts need with the menus side by side, or folded into one."""
        row = self.layout()
        assert row is not None
        others = row.minimumSize().width() - self.menus.minimumSizeHint().width()
        hidden = self.keys.sizeHint().width() + row.spacing() if self.keys.isHidden() else 0
        return others + hidden + self.menus.width_of(folded=folded)

    def minimumSizeHint(self) -> QSize:
        """What the parts need in short words, all menus in one; the key of that menu is then put away."""
        row = self.layout()
        assert row is not None
        parts = (self.menus, *self.buttons.values(), self.initials)
        short = self.head.fontMetrics().horizontalAdvance(key_text("initials"))
        wide = sum(part.minimumSizeHint().width() for part in parts) + short + (len(parts) + 1) * row.spacing()
        return QSize(wide, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._shorten_words()

    def _say(self, *, short: bool) -> None:
        self.keys.setText(key_text("all keys") if short else with_key("all keys", tr("All keys")))
        self.head.setText(key_text("initials") if short else with_key("initials", tr("Your initials")))
        self.initials.setPlaceholderText(tr("Initials") if short else "")
        self.initials.setMaximumWidth(self.fontMetrics().height() * (4 if short else 8))
