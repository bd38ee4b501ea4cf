"""One line that says how the workbook is backed up, in the colours of a complaint where somebody should act."""

from PySide6.QtWidgets import QHBoxLayout, QWidget

from benchapp.desktop.backups.keeper import BackupKeeper
from benchapp.desktop.keys import KEYS, with_key
from benchapp.desktop.widgets.texts import button, label, restyle
from benchapp.desktop.words import tr


class BackupLine(QWidget):
    """The sentence of the keeper's state, and behind it the button that leads to the page of backups."""

    def __init__(self, keeper: BackupKeeper, name: str, *, way: bool = True) -> None:
        super().__init__()
        self._keeper = keeper
        self.words = label(f"{name}-backup", "quiet")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.words, 1)
        if way:
            lead = button(f"{name}-backups", with_key("backups", tr(KEYS["backups"].words)))
            lead.clicked.connect(lambda _checked=False: keeper.page_asked.emit())
            row.addWidget(lead)
        keeper.changed.connect(self._show)
        self._show()

    def _show(self) -> None:
        state, problem = self._keeper.state, self._keeper.problem
        worry = bool(problem) or (state is not None and state.worry)
        restyle(self.words, "complaint" if worry and not self._keeper.busy else "quiet")
        if self._keeper.busy:
            self.words.setText(tr("Backing up …"))
        else:
            self.words.setText(f"{state.words if state else ''} {problem}".strip())
