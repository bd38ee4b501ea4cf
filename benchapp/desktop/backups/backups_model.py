"""The list of backups as Qt's tables want it: an adapter over a tuple of backups."""

from datetime import datetime

from PySide6.QtCore import Qt

from benchapp.actions.backups.listing import words_of
from benchapp.desktop.theme.signs import Shape, Sign, Tone
from benchapp.desktop.widgets.cells import SIGN_ROLE, Index
from benchapp.desktop.widgets.rows_model import RowsModel
from benchapp.desktop.words import tr
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
            last = local_minute(backup.receipt.last_at) if backup.receipt else ""
            return (f"{backup.at.astimezone():%Y-%m-%d %H:%M}", tr(sign.word), words_of(backup), last)[index.column()]
        return None


def local_minute(at: str) -> str:
    """A time in UTC as this computer's clock shows it, to the minute; empty where there is none."""
    return f"{datetime.fromisoformat(at).astimezone():%Y-%m-%d %H:%M}" if at else ""
