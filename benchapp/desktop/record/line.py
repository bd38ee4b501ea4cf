"""One line, there only while something is wrong with the record, and behind it the way to what was found."""

from PySide6.QtWidgets import QHBoxLayout, QWidget

from benchapp.desktop.keys import KEYS, with_key
from benchapp.desktop.record.keeper import RecordKeeper
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.short_label import ShortLabel
from benchapp.desktop.widgets.texts import button
from benchapp.desktop.words import tr


class RecordLine(QWidget):
    """What the keeper worries about."""

    def __init__(self, look: Look, keeper: RecordKeeper, name: str) -> None:
        super().__init__()
        self._keeper = keeper
        self.words = ShortLabel(look, f"{name}-record", "complaint")  # large text leaves the table its room
        self.way = button(f"{name}-record-way", with_key("check record", tr(KEYS["check record"].words)))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.words, 1)
        row.addWidget(self.way)
        keeper.changed.connect(self._show)
        self._show()

    def _show(self) -> None:
        worry = self._keeper.worry
        self.words.show_lines(worry)
        self.setVisible(bool(worry))
