"""A unit that may be live stays in sight: whoever leaves it is asked, and whoever does nothing for long is reminded."""

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication, QDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import add_action, with_key
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

REMIND_AFTER = 180.0
"""seconds on one page of a unit that may be live after which its person is looked for (common practice, no source)"""
_WIDE = 36


class LeavingDialog(QDialog):
    """Stay, make it safe, or leave it as it is; Enter and Esc stay."""

    def __init__(
        self, parent: QWidget, view: UnitView, leave: Callable[[], object], make_safe: Callable[[], object]
    ) -> None:
        super().__init__(parent)
        self.setObjectName("leaving-dialog")
        self.setWindowTitle(tr("{unit} may be live").format(unit=view.mark))
        self._leave = leave
        head = label("leaving-title", "off", tr("LIVE: {unit} may be live.").format(unit=view.mark))
        words = label("leaving-words", "say", _words(view))
        stay = button("leaving-stay", tr("Stay with it"), "main")
        stay.setDefault(True)
        stay.clicked.connect(self.reject)
        row = QHBoxLayout()
        row.addWidget(stay)
        if view.state.energised:
            safe = button("leaving-make-safe", with_key("make safe now", tr("Make it safe")))
            safe.setAutoDefault(False)
            safe.clicked.connect(self.reject)
            safe.clicked.connect(make_safe)
            add_action(self, "make safe now", safe.click)
            row.addWidget(safe)
        go = QPushButton(with_key("leave live", tr("Leave it, all the same")))
        go.setObjectName("leaving-go")
        go.setAutoDefault(False)
        go.clicked.connect(self._go)
        add_action(self, "leave live", go.click)
        row.addWidget(go)
        layout = QVBoxLayout(self)
        layout.addWidget(head)
        layout.addWidget(words)
        layout.addLayout(row)
        self.resize(self.fontMetrics().height() * _WIDE, self.sizeHint().height())
        stay.setFocus()

    def _go(self) -> None:
        self.accept()
        self._leave()


def _words(view: UnitView) -> str:
    if view.state.energised:
        return tr(
            "Its record says that mains or a test voltage was on it, and the way back was not gone since. "
            "Stay beside it, or make it safe first: plug out, discharged, proved low."
        )
    return tr(
        "This page puts mains on it, and nobody has recorded yet whether it is plugged in. "
        "Where it is: off at the wall, plug out and in sight, before you leave it."
    )


class Watch(QObject):
    """Asks and reminds for the unit on the bench."""

    def __init__(self, parent: QWidget, say: Callable[[str], object]) -> None:
        super().__init__(parent)
        self._parent, self._say = parent, say
        self.view: UnitView | None = None
        self.make_safe: Callable[[], object] = lambda: None
        self._reminder = QTimer(self)
        self._reminder.setInterval(round(REMIND_AFTER * 1000))
        self._reminder.timeout.connect(self._remind)

    def see(self, view: UnitView | None) -> None:
        """What is on the bench now; from here on it is watched."""
        self.view = view
        if view is not None and view.may_be_live:
            self._reminder.start()
        else:
            self._reminder.stop()

    def leave(self, then: Callable[[], object]) -> None:
        """Do what takes the unit out of sight, after asking where it may be live."""
        view = self.view
        if view is None or not view.may_be_live:
            then()
            return
        dialog = LeavingDialog(self._parent.window(), view, then, self.make_safe)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def leave_for_good(self, then: Callable[[], object]) -> None:
        """The same for the last time: it is watched no more."""

        def go() -> None:
            self.see(None)
            then()

        self.leave(go)

    def _remind(self) -> None:
        if self.view is None:
            return
        words = tr("Is somebody with {unit}? It may be live. Go on, or stop here and make it safe.")
        self._say(words.format(unit=self.view.mark))
        QApplication.beep()
        QApplication.alert(self._parent.window())
