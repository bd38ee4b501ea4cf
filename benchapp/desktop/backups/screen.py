"""The page of backups: where they go, what each holds, a look into one, and the way back to a new file."""

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.backups.backups_model import COLUMNS, BackupsModel
from benchapp.desktop.backups.state_line import BackupLine
from benchapp.desktop.keys import add_action, with_key
from benchapp.desktop.screen import Screen
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.hints import KeyHints, hint
from benchapp.desktop.widgets.save_dialog import SaveDialog
from benchapp.desktop.widgets.texts import button, field, label
from benchapp.desktop.widgets.unit_table import UnitTable
from benchapp.desktop.words import tr
from benchapp.workbook.backup.values import Backup

if TYPE_CHECKING:
    from benchapp.actions.backups.restoring import Restored
    from benchapp.desktop.backups.day_files import BringInDialog


class BackupsScreen(Screen):
    """The backups of the workbook, newest first."""

    left = Signal()
    look_asked = Signal(object)
    """the path of the backup that somebody wants to look into"""

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self.setObjectName("backups")
        self._context, self._keeper = context, context.backups
        self._asked = 0
        title = tr("Backups of {file}").format(file=context.bench.path.name)
        self.title = label("backups-title", "title", title)
        self.line = BackupLine(self._keeper, "page", way=False)
        self.folder = field("backups-folder", tr("Folder for backups"), example=tr("a second disk or a stick"))
        self.browse = button("backups-browse", tr("Look for it …"))
        self.use = button("backups-use", tr("Use it"))
        self.make = button("backups-make", with_key("back up now", tr("Back up")), "main")
        self.look = button("backups-look", with_key("enter", tr("Look in")))
        self.restore = button("backups-restore", with_key("restore", tr("Restore")))
        self.bring_in = button("backups-day-file-in", with_key("day file in", tr("Day file in")))
        self.day_file = button("backups-day-file-out", with_key("day file out", tr("Day file out")))
        self.complaint = label("backups-complaint", "complaint")
        self.complaint.hide()
        self.backups = BackupsModel()
        self.table = BackupTable(context.look, self.backups)
        self.detail = label("backups-detail", "quiet")
        self.hints = KeyHints(context.look, "backups-hints")
        self.hints.show_hints(
            [
                hint("enter", tr("look into the backup")),
                *map(hint, ("restore", "back up now", "backup folder", "leave backups")),
            ]
        )
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(120)
        self._lay_out()
        self._connect()
        self._give_way()

    def _give_way(self) -> None:
        """Where text is large, what is said elsewhere gives way: the file's name, keys that the buttons bear."""
        for part in (self.title, self.hints):
            part.setVisible(not self._context.look.cramped)

    def _lay_out(self) -> None:
        where, what = QHBoxLayout(), QHBoxLayout()
        head = label("backups-folder-head", "head", with_key("backup folder", tr("Folder")), wrap=False)
        head.setBuddy(self.folder)
        for widget in (head, self.folder, self.use, self.browse):
            where.addWidget(widget, 1 if widget is self.folder else 0)
        for widget in (self.make, self.look, self.restore):
            what.addWidget(widget)
        what.addStretch(1)
        between = QHBoxLayout()
        for widget in (self.bring_in, self.day_file):
            between.addWidget(widget)
        between.addStretch(1)
        layout = QVBoxLayout(self)
        layout.addWidget(self.title)
        layout.addWidget(self.line)
        layout.addLayout(where)
        layout.addWidget(self.complaint)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.detail)
        layout.addLayout(what)
        layout.addLayout(between)
        layout.addWidget(self.hints)

    def _connect(self) -> None:
        self.folder.returnPressed.connect(self._use_folder)
        self.use.clicked.connect(self._use_folder)
        self.browse.clicked.connect(self._browse)
        self.make.clicked.connect(lambda _checked=False: self._keeper.back_up())
        self.look.clicked.connect(self._look_into)
        self.restore.clicked.connect(self._restore)
        self.table.unit_taken.connect(lambda _path: self._look_into())
        self.table.moved.connect(self._later.start)
        self._later.timeout.connect(self._show_detail)
        self._context.look.changed.connect(self._give_way)
        self._keeper.changed.connect(self._follow_keeper)
        self._keeper.done.connect(lambda _done: self.read())
        self._keeper.failed.connect(self._complain)
        add_action(self, "restore", self._restore)
        add_action(self, "backup folder", self._to_folder)
        self.bring_in.clicked.connect(self._bring_in)
        self.day_file.clicked.connect(self._write_day_file)
        add_action(self, "day file in", self._bring_in)
        add_action(self, "day file out", self._write_day_file)
        add_action(self, "leave backups", self.left.emit)

    # reading

    def take_focus(self) -> None:
        """Put the keyboard on the list, or where a folder is named; read what there is."""
        (self.table if self.backups.rows else self.folder).setFocus()
        self.read()

    def refresh(self) -> None:
        """Read again what is in the folder."""
        self.read()

    def read(self) -> None:
        """Find out how the workbook is backed up, and list what is in the folder."""
        from benchapp.actions.backups.listing import backups_of

        self._keeper.look()
        self._asked += 1
        work = partial(backups_of, self._context.bench.path)
        asked = self._asked
        self._context.tasks.aside(
            lambda _cancelled: work(),
            then=lambda found: self._show(asked, found),
            refused=lambda _sentence: self._show(asked, ()),
        )

    def _show(self, asked: int, found: tuple[Backup, ...]) -> None:
        """Show the list as the receipts say; then each as its bytes say."""
        if asked != self._asked:
            return
        self.backups.set_rows(found)
        self.table.fit()
        if found and not self.table.currentIndex().isValid():
            self.table.setCurrentIndex(self.backups.index(0, 0))
        if found and self.folder.hasFocus() and not self.folder.isModified():
            self.table.setFocus()
        self._say_what_can_be_done()
        self._show_detail()
        self._examine(asked, 0)

    def _examine(self, asked: int, number: int) -> None:
        """Read the bytes of one backup after the other, as long as nobody has asked for another list."""
        backup = self.backups.row_at(number)
        if asked != self._asked or backup is None or not self.isVisible():
            return

        def show(read_again: Backup) -> None:
            if asked == self._asked:
                rows = list(self.backups.rows)
                rows[number] = read_again
                self.backups.set_rows(rows)
                if number == self.table.currentIndex().row():
                    self._show_detail()
                self._examine(asked, number + 1)

        from benchapp.actions.backups.listing import examine

        self._context.tasks.aside(lambda cancelled: examine(backup, cancelled=cancelled), then=show)

    def _at_hand(self) -> Backup | None:
        return self.backups.row_at(self.table.currentIndex().row())

    def _show_detail(self) -> None:
        """What is wrong with the backup at hand, or what the workbook has beyond it."""
        backup = self._at_hand()
        if backup is None:
            named = self._keeper.state is not None and self._keeper.state.there
            none_yet = tr("There is no backup of this workbook in the folder yet.") if named else ""
            self.detail.setText(none_yet or tr("Name a folder: the first backup is made and verified at once."))
            return
        name = backup.path.name
        if backup.words or not self.detail.text().startswith(name):
            self.detail.setText(f"{name}. {backup.words}" if backup.words else name)
        if backup.sound and self.isVisible():
            from benchapp.actions.backups.restoring import further_than

            def show(words: str) -> None:
                if self._at_hand() is not None and self._at_hand() == backup:
                    self.detail.setText(f"{name}. {words}")

            path = self._context.bench.path
            self._context.tasks.aside(lambda _cancelled: further_than(backup.path, path), then=show)

    def _follow_keeper(self) -> None:
        if self._keeper.busy:
            self._complain("")
        state = self._keeper.state
        if state is not None and not self.folder.isModified():
            self.folder.setText(state.folder)
        self._say_what_can_be_done()

    def _say_what_can_be_done(self) -> None:
        there = bool(self.backups.rows)
        self.look.setEnabled(there)
        self.restore.setEnabled(there)
        self.make.setEnabled(not self._keeper.busy and not self._context.bench.looks_only)

    # doing

    def _to_folder(self) -> None:
        self.folder.setFocus()
        self.folder.selectAll()

    def _use_folder(self) -> None:
        if not self.folder.text().strip():
            self._complain(tr("Type the path of the folder that backups go to."))
            return
        from benchapp.actions.backups.settings import name_folder

        folder = Path(self.folder.text().strip())
        self._complain("")
        self._context.tasks.aside(
            lambda _cancelled: name_folder(folder, workbook=self._context.bench.path),
            then=self._named,
            refused=self._complain,
        )

    def _named(self, words: str) -> None:
        self.folder.setModified(False)
        self._context.change_signals.said.emit(words)
        self._keeper.back_up(anew=False)
        self.table.setFocus()

    def _browse(self) -> None:
        folder = QFileDialog.getExistingDirectory(self, tr("Folder for backups"), self.folder.text())
        if folder:
            self.folder.setText(folder)
            self.folder.setModified(True)
            self._use_folder()

    def _look_into(self) -> None:
        backup = self._at_hand()
        if backup is not None:
            self.look_asked.emit(backup.path)

    def _restore(self) -> "SaveDialog | None":
        backup = self._at_hand()
        if backup is None:
            return None
        suggested = self._context.bench.path.with_name(f"{self._context.bench.path.stem} restored.workbook")
        dialog = SaveDialog(
            self,
            tr("Restore to a new workbook"),
            suggested,
            partial(self._restore_to, backup.path),
            kinds=tr("Workbooks (*.workbook)"),
        )
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()
        dialog.path.setFocus()
        return dialog

    def _restore_to(self, backup: Path, dialog: SaveDialog, to: Path) -> None:
        from benchapp.actions.backups.restoring import restore

        at = self._context.bench.clock()
        self._context.tasks.aside(
            lambda cancelled: restore(backup, to, at=at, cancelled=cancelled),
            then=partial(self._restored, dialog),
            refused=dialog.complain,
        )

    def _restored(self, dialog: SaveDialog, done: "Restored") -> None:
        dialog.accept()
        self._context.change_signals.said.emit(done.words)

    def _bring_in(self) -> "BringInDialog":
        from benchapp.desktop.backups.day_files import bring_day_file_in

        return bring_day_file_in(self._context, self)

    def _write_day_file(self) -> SaveDialog:
        from benchapp.desktop.backups.day_files import write_day_file

        return write_day_file(self._context, self)

    def _complain(self, sentence: str) -> None:
        self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))


class BackupTable(UnitTable):
    """The backups; Enter or a double click looks into the one at hand."""

    def __init__(self, look: Look, backups: BackupsModel) -> None:
        super().__init__(look, "backups-table", tr("Backups"), backups)
        self.horizontalHeader().setStretchLastSection(True)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)

    def fit(self) -> None:
        """Widths and heights for the text as large as it is now."""
        super().fit()
        line = QFontMetrics(self.look.font()).height()
        for column, name in enumerate(COLUMNS):
            metrics = QFontMetrics(self.look.font(bold=column == 0))
            wanted = max(self.widest(column), metrics.horizontalAdvance(tr(name)))
            self.setColumnWidth(column, wanted + line * (2 if column == 1 else 1))
