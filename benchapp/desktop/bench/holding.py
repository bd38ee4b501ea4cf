"""An answer that was given before its time: it is kept, counted down in sight, and recorded when the time is over."""

from collections.abc import Callable

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QProgressBar, QVBoxLayout, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.page import ActionRequest
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr

MOST_HELD = 60.0
"""seconds for which an answer is kept: for longer nobody stands by (own choice)"""
_LOOK_EVERY = 200
"""milliseconds between two looks at the clock"""


class Holding(QWidget):
    """Keeps one answer at most; another one, or another page, takes its place."""

    over = Signal(object)
    """the time has passed for this `ActionRequest`"""
    overtaken = Signal()
    """what the answer was taken from reads otherwise now: it waits no more"""

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self.setObjectName("holding")
        self._context = context
        self.words = label("holding-words", "head")
        self.bar = QProgressBar()
        self.bar.setObjectName("holding-bar")
        self.bar.setAccessibleName(tr("Time until it is recorded"))
        self.bar.setTextVisible(False)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.words)
        layout.addWidget(self.bar)
        self._request: ActionRequest | None = None
        self._stands: Callable[[], bool] = bool
        self._until, self._whole = "", 0.0
        self._timer = QTimer(self)
        self._timer.setInterval(_LOOK_EVERY)
        self._timer.timeout.connect(self._look)
        self.hide()

    @property
    def holds(self) -> bool:
        """Whether an answer waits for its time."""
        return self._request is not None

    def hold(self, request: ActionRequest, seconds: float, stands: Callable[[], bool]) -> bool:
        """Keep the answer for so many seconds, while the page `stands` as it was; false where that is too long."""
        from benchapp.sequences.planning.entry_times import after

        if seconds > MOST_HELD:
            return False
        self._request, self._whole, self._stands = request, seconds, stands
        self._until = after(self._context.bench.clock(), seconds)
        self._timer.start()
        self._paint(seconds)
        self.show()
        return True

    def drop(self) -> None:
        """Nothing waits any more, and nothing is recorded."""
        self._request = None
        self._timer.stop()
        self.hide()

    def _look(self) -> None:
        from benchapp.sequences.planning.entry_times import seconds_between

        if not self._stands():
            self.drop()
            self.overtaken.emit()
            return
        left = seconds_between(self._context.bench.clock(), self._until)
        if left > 0:
            self._paint(left)
            return
        request = self._request
        self.drop()
        if request is not None:
            self.over.emit(request)

    def _paint(self, left: float) -> None:
        from math import ceil

        self.words.setText(
            tr("Your answer is kept and recorded in {seconds} s. Stay with it.").format(seconds=ceil(left))
        )
        self.bar.setRange(0, max(1, round(self._whole * 10)))
        self.bar.setValue(round((self._whole - min(left, self._whole)) * 10))
