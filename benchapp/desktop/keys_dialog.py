"""All keys on one page, and the way to what the program says of itself."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from benchapp.desktop.keys import ALL_KEYS, add_action, key_text, with_key
from benchapp.desktop.widgets.room import give_room
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr


class KeysDialog(QDialog):
    """The table of keys to read."""

    about_asked = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("keys-dialog")
        self.setWindowTitle(tr("All keys"))
        sheet = QWidget()
        grid = QGridLayout(sheet)
        grid.setColumnStretch(1, 1)
        for row, (keys, words) in enumerate(ALL_KEYS):
            grid.addWidget(label(f"key-{row}", "key", ", ".join(map(key_text, keys)), wrap=False), row, 0)
            grid.addWidget(label(f"key-words-{row}", "", tr(words)), row, 1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setWidget(sheet)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        about = button("keys-about", with_key("about", tr("About and licences")))
        about.clicked.connect(self.about_asked)
        buttons.addButton(about, QDialogButtonBox.ButtonRole.HelpRole)
        add_action(self, "about", self.about_asked.emit)
        layout = QVBoxLayout(self)
        layout.addWidget(label("keys-title", "title", tr("All keys")))
        layout.addWidget(area, 1)
        layout.addWidget(buttons)
        give_room(self, wide=52, high=28)
