"""The list of backups as Qt's tables want it: an adapter over a tuple of backups."""

from PySide6.QtCore import Qt

from benchapp.actions.backups.listing import words_of
from benchapp.desktop.dates import shown_minute
from benchapp.desktop.theme.signs import Shape, Sign, Tone
from benchapp.desktop.widgets.cells import SIGN_ROLE, Index
from benchapp.desktop.widgets.rows_model import RowsModel
from benchapp.desktop.words import tr
from benchapp.words import shown
from benchapp.workbook.backup.values import Backup

COLUMNS = ("Made", "Stands", "Holds", "Last entry")
SIGNS = {
    "sound": Sign(shape=Shape.tick, word="sound", tone=Tone.good),
    "not sound": Sign(shape=Shape.cross, word="not sound", tone=Tone.bad),
    "not checked": Sign(shape=Shape.query, word="not checked", tone=Tone.quiet),
}


class BackupsModel(RowsModel[Backup]):
    """One row per backup, newest first; times are this computer's."""

    def __init__(self) -> None:
        super().__init__([tr(name) for name in COLUMNS])

    def known_by(self, backup: Backup) -> str:
        return str(backup.path)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        backup = self.rows[index.row()]
        sign = SIGNS[backup.state]
        if role == SIGN_ROLE:
            return sign if index.column() == 1 else None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            last = shown_minute(backup.receipt.last_at) if backup.receipt else ""
            return (shown_minute(backup.at), tr(sign.word), shown(words_of(backup)), last)[index.column()]
        return None
