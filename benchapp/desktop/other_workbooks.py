"""The ways from one window to another workbook: looked for, begun anew, chosen from the last ones, dragged in."""

from pathlib import Path

from PySide6.QtCore import QEvent, QObject, Signal
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QDialogButtonBox, QFileDialog, QWidget

from benchapp.desktop.recent_workbooks import RecentWorkbooks
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.words import tr

SUFFIX = "workbook"
_DRAGGED = (QEvent.Type.DragEnter, QEvent.Type.DragMove, QEvent.Type.Drop)


class OtherWorkbooks(QObject):
    """Asks which workbook, and hands the answer on; whether it opens is for others to find out."""

    asked = Signal(object, bool)
    """the path, and whether a new workbook is to be made there"""

    def __init__(self, window: QWidget, recent: RecentWorkbooks) -> None:
        super().__init__(window)
        self._window = window
        self.recent = recent
        self.folder = Path.home()
        """where the file dialogs begin"""
        window.setAcceptDrops(True)
        window.installEventFilter(self)

    def ask_open(self) -> QFileDialog:
        """Ask for a workbook that is there."""
        dialog = self._dialog(tr("Open a workbook"))
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda path: self.asked.emit(Path(path), False))
        dialog.open()
        return dialog

    def ask_new(self) -> QFileDialog:
        """Ask where a new workbook is to be; what stands there is never replaced."""
        dialog = self._dialog(tr("Begin a new workbook"))
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(SUFFIX)
        dialog.setOption(QFileDialog.Option.DontConfirmOverwrite)
        dialog.fileSelected.connect(lambda path: self.asked.emit(Path(path), True))
        dialog.open()
        return dialog

    def refuse(self, sentence: str) -> None:
        """Say why the workbook that was asked for is not opened; the one at hand stays."""
        box = AskingDialog(self._window, "not-opened", tr("Not opened"), QDialogButtonBox.StandardButton.Ok)
        box.buttons.setStandardButtons(QDialogButtonBox.StandardButton.Ok)
        box.buttons.accepted.connect(box.accept)
        box.lay_out(wide=30)
        box.complain(sentence)
        box.finished.connect(box.deleteLater)
        box.open()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A workbook's file dragged onto the window is opened when it is let go."""
        if isinstance(event, QDropEvent) and event.type() in _DRAGGED:
            path = _dragged(event)
            if path is not None:
                event.acceptProposedAction()
                if event.type() == QEvent.Type.Drop:
                    self.asked.emit(path, False)
                return True
        return super().eventFilter(watched, event)

    def _dialog(self, title: str) -> QFileDialog:
        kinds = tr("Workbooks (*.workbook)")
        dialog = QFileDialog(self._window, title, str(self.folder), f"{kinds};;{tr('All files (*)')}")
        dialog.setObjectName("workbook-file-dialog")
        dialog.finished.connect(dialog.deleteLater)
        return dialog


def _dragged(event: QDropEvent) -> Path | None:
    """The one workbook file that is dragged; None where it is anything else, or more than one."""
    urls = event.mimeData().urls()
    if len(urls) != 1 or not urls[0].isLocalFile():
        return None
    path = Path(urls[0].toLocalFile())
    return path if path.suffix == f".{SUFFIX}" else None
