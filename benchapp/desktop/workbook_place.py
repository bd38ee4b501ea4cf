"""Where the opened workbook lies: what is to be told of it, a copy of it, and what to do when the file is gone."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from benchapp.desktop.background_tasks import BackgroundTasks
from benchapp.desktop.change_signals import ChangeSignals
from benchapp.desktop.keys import key_text
from benchapp.desktop.widgets.save_dialog import SaveDialog
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.actions.workbench.change_set import ChangeSet


class WorkbookPlace(QObject):
    """The notice above the screens of one window, and the dialogs that make a copy of its workbook."""

    go_on_in = Signal(object)
    """the path of a copy: the workbook's own file is gone"""

    def __init__(self, window: QWidget, tasks: BackgroundTasks, change_signals: ChangeSignals) -> None:
        super().__init__(window)
        self._window, self._tasks, self._change_signals = window, tasks, change_signals
        self._bench: Bench | None = None
        self._dialog: SaveDialog | None = None
        self._lost = ""
        self.notice = label("place-notice", "complaint")
        self.notice.setAccessibleName(tr("Where the workbook lies"))
        self.notice.hide()
        tasks.problem.connect(lambda _problem: self.is_there())

    def begin(self, bench: "Bench") -> None:
        """A workbook was opened: tell what is to be told of its place."""
        self._bench = bench
        self._tell()

    def is_there(self) -> bool:
        """Whether the file is still the one that was opened; where it is not, say so and offer to save what is open."""
        lost = self._bench.lost() if self._bench is not None else ""
        if lost != self._lost:
            self._lost = lost
            self._tell()
            if lost:
                self.ask_copy()
        return not lost

    def refuses_to_close(self) -> bool:
        """Whether a window that is to be closed should stay: its file is gone, and nobody has been asked yet."""
        asked = bool(self._lost)
        return not self.is_there() and not asked

    def ask_copy(self) -> None:
        """Ask where a copy goes."""
        if self._bench is None or self._dialog is not None:
            return
        lost = self._bench.lost()
        title, why = tr("Copy of the workbook"), ""
        if lost:
            title = tr("The workbook's file is gone")
            why = (
                lost + " " + tr("Name a new file: all that was recorded is saved in it, and the window goes on there.")
            )
        dialog = SaveDialog(
            self._window, title, self._suggested(), self._copy, kinds=tr("Workbooks (*.workbook)"), why=why
        )
        self._dialog = dialog
        dialog.finished.connect(self._forget_dialog)
        dialog.open()
        dialog.path.setFocus()

    def _copy(self, dialog: SaveDialog, to: Path) -> None:
        from benchapp.actions.workbench.copying import copy_bench

        bench = self._bench
        assert bench is not None
        self._tasks.aside(
            lambda cancelled: copy_bench(bench, to, cancelled=cancelled),
            then=lambda changes: self._copied(dialog, changes),
            refused=dialog.complain,
        )

    def _copied(self, dialog: SaveDialog, changes: "ChangeSet") -> None:
        dialog.accept()
        self._change_signals.said.emit(changes.words)
        if not self.is_there():
            self.go_on_in.emit(changes.files[0])

    def _forget_dialog(self, _result: int) -> None:
        if self._dialog is not None:
            self._dialog.deleteLater()
        self._dialog = None

    def _tell(self) -> None:
        assert self._bench is not None
        words = [self._lost] if self._lost else list(self._bench.remarks)
        if self._lost or self._bench.looks_only:
            words.append(tr("{key} makes a copy to work in.").format(key=key_text("copy")))
        self.notice.setText(" ".join(words))
        self.notice.setVisible(bool(words))

    def _suggested(self) -> Path:
        assert self._bench is not None
        path = self._bench.path
        folder = path.parent if path.parent.is_dir() and not self._bench.looks_only else Path.home()
        return folder / f"{path.stem} {tr('copy')}{path.suffix}"
