"""Day files in the window: bring another bench's in, and write one of this workbook."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtWidgets import QDialogButtonBox, QFileDialog, QHBoxLayout, QLineEdit, QPushButton, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.save_dialog import SaveDialog
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet

OneDialog = TypeVar("OneDialog", "SaveDialog", "BringInDialog")


def write_day_file(context: AppContext, parent: QWidget) -> SaveDialog:
    """Ask for a file and write the whole records of all units into it."""
    day = context.bench.clock()[:10]
    suggested = context.bench.path.with_name(f"{context.bench.path.stem} {day}.dayfile")

    def save(dialog: SaveDialog, path: Path) -> None:
        from benchapp.actions.exchange.exporting import export_day_file

        context.tasks.do(
            context.bench, export_day_file, out=path, then=partial(_done, context, dialog), refused=dialog.complain
        )

    dialog = SaveDialog(parent, tr("Write a day file"), suggested, save, kinds=tr("Day files (*.dayfile)"))
    return _opened(dialog)


def bring_day_file_in(context: AppContext, parent: QWidget) -> "BringInDialog":
    """Ask for day files and bring them into the workbook."""

    def bring(dialog: BringInDialog, paths: tuple[Path, ...]) -> None:
        from benchapp.actions.exchange.importing import import_day_files

        by = context.person.initials
        done = partial(_done, context, dialog)
        context.tasks.do(context.bench, import_day_files, paths, by=by, then=done, refused=dialog.complain)

    return _opened(BringInDialog(parent, bring))


class BringInDialog(AskingDialog):
    """Asks for day files; stays open with a sentence until something of them is in the workbook."""

    def __init__(self, parent: QWidget, bring: "Callable[[BringInDialog, tuple[Path, ...]], None]") -> None:
        super().__init__(parent, "bring-in", tr("Bring a day file in"), QDialogButtonBox.StandardButton.Ok)
        self._bring = bring
        self.path = QLineEdit()
        self.path.setObjectName("bring-in-path")
        self.path.setAccessibleName(tr("Day file"))
        browse = QPushButton(tr("Look for day files …"))
        browse.setObjectName("bring-in-browse")
        browse.setAutoDefault(False)
        browse.clicked.connect(self._browse)
        row = QHBoxLayout()
        row.addWidget(self.path, 1)
        row.addWidget(browse)
        self.lay_out(row, wide=40)

    def go(self) -> None:
        typed = self.path.text().strip()
        if not typed:
            self.complain(tr("Type where the day file is, or look for it."))
            return
        self.complain("")
        self.wait()
        self._bring(self, (Path(typed).expanduser(),))

    def _browse(self) -> None:
        paths, _kind = QFileDialog.getOpenFileNames(self, self.windowTitle(), "", tr("Day files (*.dayfile)"))
        if paths:
            self.path.setText(paths[0])
            self.complain("")
            self.wait()
            self._bring(self, tuple(map(Path, paths)))


def _done(context: AppContext, dialog: AskingDialog, changes: "ChangeSet") -> None:
    dialog.accept()
    context.change_signals.said.emit(changes.words)


def _opened(dialog: OneDialog) -> OneDialog:
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    dialog.path.setFocus()
    return dialog
