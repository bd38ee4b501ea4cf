"""Starts what its first word names and says when it has painted something and when it can be used.

`bare` is a QMainWindow and nothing else, the floor; `benchapp` is the true command on the workbook of the second word.
"""

import resource
import sys
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QMainWindow, QTableView, QWidget

HEAVY = (
    "pint",
    "alembic",
    "sqlalchemy",
    "reportlab",
    "numpy",
    "scipy",
    "pyqtgraph",
    "yaml",
    "pydantic",
    "benchapp.desktop.about",
)


class Watch(QObject):
    """Says `painted` at the first paint of a widget, and `usable` when the board's rows have been painted."""

    def __init__(self, application: QApplication, *, board: bool) -> None:
        super().__init__()
        self._painted = self._usable = False
        self._board = board
        self._application = application
        application.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's own name
        if event.type() == QEvent.Type.Paint and isinstance(watched, QWidget):
            QTimer.singleShot(0, lambda: self._told(watched))
        return False

    def _told(self, widget: QWidget) -> None:
        if not self._painted:
            self._painted = True
            print("painted", flush=True)
        table = widget.parent()
        if self._board and not (isinstance(table, QTableView) and table.model().rowCount() > 0):
            return
        if self._usable:
            return
        self._usable = True
        print("memory", resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024, flush=True)
        print("usable", *(name for name in HEAVY if name in sys.modules), flush=True)
        self._application.removeEventFilter(self)
        self._application.quit()


def bare(application: QApplication) -> None:
    """The floor: an empty window."""
    window = QMainWindow()
    window.resize(1200, 800)
    window.show()
    application.exec()


if __name__ == "__main__":
    application = QApplication(["started"])
    watch = Watch(application, board=sys.argv[1] != "bare")
    if sys.argv[1] == "bare":
        bare(application)
    else:
        from benchapp.__main__ import main

        main([str(Path(sys.argv[2]))])
