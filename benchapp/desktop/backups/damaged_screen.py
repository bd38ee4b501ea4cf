"""The window on a damaged workbook: what is left of it, its newest sound backup, and the ways on from there."""

from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPlainTextEdit, QVBoxLayout

from benchapp.desktop.background_tasks import BackgroundTasks
from benchapp.desktop.keys import add_action, with_key
from benchapp.desktop.screen import Screen
from benchapp.desktop.widgets.save_dialog import SaveDialog
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.backups.damage import Damage
    from benchapp.actions.backups.restoring import Restored


class DamagedScreen(Screen):
    """Says what is known of the damage; one looks at what can be read, or restores the backup to a new file."""

    look_asked = Signal(object)
    """the path of a workbook made of what can be read"""
    restored = Signal(object)
    """the path of a workbook made of the backup: to be opened"""
    left = Signal()
    """another workbook is wanted"""

    def __init__(self, tasks: BackgroundTasks, damage: "Damage", folder: TemporaryDirectory[str]) -> None:
        super().__init__()
        self.setObjectName("damaged")
        self._tasks, self.damage, self._folder = tasks, damage, folder
        title = tr("{file} is damaged").format(file=damage.path.name)
        self.title = label("damaged-title", "title", title)
        self.words = QPlainTextEdit("\n".join(damage.sentences))  # to be copied from, and scrolled by keys
        self.words.setObjectName("damaged-words")
        self.words.setAccessibleName(tr("What is known of the damage"))
        self.words.setReadOnly(True)
        self.words.setTabChangesFocus(True)
        self.look = button("damaged-look", with_key("enter", tr("Look at what can be read")), "main")
        self.look.setVisible(damage.readable is not None)
        self.restore = button("damaged-restore", with_key("restore", tr("Restore the backup to a new file")))
        self.restore.setVisible(damage.backup is not None)
        self.other = button("damaged-other", with_key("leave backups", tr("Another workbook")))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(24, 24, 24, 24)
        for widget in (self.title, self.words, self.look, self.restore, self.other):
            layout.addWidget(widget, 1 if widget is self.words else 0)
        self.look.clicked.connect(lambda _checked=False: self.look_asked.emit(damage.readable))
        self.restore.clicked.connect(lambda _checked=False: self._ask_where())
        self.other.clicked.connect(lambda _checked=False: self.left.emit())
        add_action(self, "restore", self._ask_where)
        add_action(self, "leave backups", self.left.emit)

    def take_focus(self) -> None:
        """Put the keyboard on the first way on."""
        ways = (self.look, self.restore, self.other)
        next(way for way in ways if way.isVisibleTo(self)).setFocus()

    def clean_up(self) -> None:
        """Take away what was read, once nobody looks at it any more."""
        self._folder.cleanup()

    def _ask_where(self) -> None:
        backup = self.damage.backup
        if backup is None:
            return
        path = self.damage.path
        dialog = SaveDialog(
            self,
            tr("Restore to a new workbook"),
            path.with_name(f"{path.stem} restored.workbook"),
            partial(self._restore, backup.path),
            kinds=tr("Workbooks (*.workbook)"),
        )
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()
        dialog.path.setFocus()

    def _restore(self, backup: Path, dialog: SaveDialog, to: Path) -> None:
        from benchapp.actions.backups.restoring import restore
        from benchapp.actions.workbench.bench import utc_now

        self._tasks.aside(
            lambda cancelled: restore(backup, to, at=utc_now(), cancelled=cancelled),
            then=partial(self._done, dialog),
            refused=dialog.complain,
        )

    def _done(self, dialog: SaveDialog, done: "Restored") -> None:
        dialog.accept()
        self.restored.emit(done.path)
