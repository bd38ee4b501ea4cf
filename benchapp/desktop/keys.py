"""All keys on one page, called up with F1."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from benchapp.desktop.widgets.room import give_room
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

KEYS = (
    ("F2, F4, F11", "Lots, Bench, Sale table"),
    ("F7", "your initials"),
    ("Ctrl and +, −, 0", "text larger, smaller, as usual"),
    ("Enter", "record, go on; on the board: take the unit, or the stage from its column head"),
    ("Ctrl+Z", "take back the last answer; it stays in the record"),
    ("F3", "take a failed step again, or a reading that the search doubts"),
    ("F5", "next unit"),
    ("F6", "what becomes of the unit: for sale, hold, spares, scrap"),
    ("F8", "bench opening: prove the meters"),
    ("F9", "it fell, got damp, was cleaned wet"),
    ("F10", "once a reading has failed: find the fault, by more probes, dead and live"),
    ("Ctrl+M", "another meter"),
    ("Ctrl+G", "on a reading: the range of the meter, where it was set by hand"),
    ("Ctrl+B", "on a reading: what its uncertainty is made of"),
    ("Ctrl+U", "what this unit has and its design has not: cord, plug, class"),
    ("Ctrl+H", "the record of the unit, and why each reading was judged as it was"),
    ("F12", "on live pages: smoke, smell, hum or heat. Off at the wall"),
    ("Esc", "back; from the bench to the lots. What was typed is kept"),
    ("Ctrl+N", "on the lots: new lot"),
    ("Ctrl+W", "the workshop: region, age of dead tests, insulation tester"),
    ("Ctrl+K", "on the bench: pin card as PDF, to lay under a breakout lead"),
    ("Ctrl+P, Ctrl+E, Ctrl+R", "print tags, tags as PDF, record sheet as PDF"),
)


class KeysDialog(QDialog):
    """The list of keys, and the way to what the program says of itself."""

    about_asked = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("keys-dialog")
        self.setWindowTitle(tr("All keys"))
        sheet = QWidget()
        grid = QGridLayout(sheet)
        grid.setColumnStretch(1, 1)
        for row, (key, words) in enumerate(KEYS):
            grid.addWidget(label(f"key-{row}", "key", key, wrap=False), row, 0)
            grid.addWidget(label(f"key-words-{row}", "", tr(words)), row, 1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setWidget(sheet)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        about = button("keys-about", tr("A  About and licences"))
        about.clicked.connect(self.about_asked)
        buttons.addButton(about, QDialogButtonBox.ButtonRole.HelpRole)
        QShortcut(QKeySequence("A"), self, self.about_asked.emit)
        layout = QVBoxLayout(self)
        layout.addWidget(label("keys-title", "place", tr("All keys")))
        layout.addWidget(area, 1)
        layout.addWidget(buttons)
        give_room(self, wide=38, high=28)
