"""A unit that may be live stays in sight: whoever leaves it is asked, and whoever does nothing for long is reminded."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QSize, QTimer
from PySide6.QtWidgets import QApplication, QBoxLayout, QDialog, QPushButton, QVBoxLayout, QWidget

from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import add_action, key_text, with_key
from benchapp.desktop.widgets.room import resize_on_screen, room_of
from benchapp.desktop.widgets.texts import button, field, label, plain_row, wrapping_form
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench

REMIND_AFTER = 180.0
"""seconds on one page of a unit that may be live after which its person is looked for (common practice, no source)"""
_WIDE = 36
_BESIDE = 0.9
"""of the screen's width: the buttons stand beside each other up to this, else below each other"""


Leave = Callable[[str, str, Callable[[], None], Callable[[str], None]], object]
"""why it is left, who stays beside it, what follows once that is on record, and where to say why it is not"""


class LeavingDialog(QDialog):
    """Stay, make it safe, or leave it as it is with a reason and somebody beside it; Enter and Esc stay.

    `leave` is handed the reason, the name, what to do when both are on record, and where to say why they are not.
    """

    def __init__(self, parent: QWidget, view: UnitView, leave: Leave, make_safe: Callable[[], object]) -> None:
        super().__init__(parent)
        self.setObjectName("leaving-dialog")
        self.setWindowTitle(tr("{unit} may be live").format(unit=view.mark))
        self._leave = leave
        head = label("leaving-title", "off", tr("LIVE: {unit} may be live.").format(unit=view.mark))
        words = label("leaving-words", "say", _words(view))
        self.why = field("leaving-why", tr("Why it is left as it is"))
        self.with_it = field("leaving-with-it", tr("Who stays beside it, by name"))
        form = wrapping_form()
        for one in (self.why, self.with_it):
            form.addRow(one.accessibleName(), one)
            plain_row(form, one)
        self.complaint = label("leaving-complaint", "complaint")
        self.complaint.hide()
        stay = button("leaving-stay", tr("Stay with it"), "main")
        stay.setDefault(True)
        stay.clicked.connect(self.reject)
        row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
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
        layout.addLayout(form)
        layout.addWidget(self.complaint)
        layout.addLayout(row)
        if row.minimumSize().width() > room_of(self).width() * _BESIDE:
            row.setDirection(QBoxLayout.Direction.TopToBottom)
        width = min(self.fontMetrics().height() * _WIDE, room_of(self).width())
        resize_on_screen(self, QSize(width, layout.totalHeightForWidth(width)))
        stay.setFocus()

    def _go(self) -> None:
        why, with_it = self.why.text().strip(), self.with_it.text().strip()
        if not (why and with_it):
            self._complain(
                tr("Say why it is left, and who stays beside it: it is never left alone while it may be live.")
            )
            (self.with_it if why else self.why).setFocus()
            return
        self._leave(why, with_it, self.accept, self._complain)

    def _complain(self, sentence: str) -> None:
        self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))


def _words(view: UnitView) -> str:
    if view.state.energised:
        said = tr(
            "Its record says that mains or a test voltage was on it, and the way back was not gone since. "
            "Stay beside it, or make it safe first: plug out, discharged, proved low."
        )
    else:
        said = tr(
            "This page puts mains on it, and nobody has recorded yet whether it is plugged in. "
            "Where it is: off at the wall, plug out and in sight, before you leave it."
        )
    hangs = tr(
        "Whoever touches it meanwhile may be killed, and a fault in it may burn with nobody there. Left all the same, "
        "it stands as LIVE on the board until the way back is gone."
    )
    return f"{said} {hangs}"


def left_live_words(bench: "Bench") -> str:
    """Which units were left as live, where none is at hand; empty where none was."""
    left = [unit.mark for unit in bench.units() if unit.live == "mains"]
    if not left:
        return ""
    words = tr(
        "LIVE: {units} may be under power. Go to (it|them) first ({key}), and make (it|them) safe.", "", len(left)
    )
    return words.format(units=", ".join(left), key=key_text("lots"))


class Watch(QObject):
    """Asks and reminds for the unit on the bench."""

    def __init__(self, parent: QWidget, say: Callable[[str], object]) -> None:
        super().__init__(parent)
        self._parent, self._say = parent, say
        self.view: UnitView | None = None
        self.make_safe: Callable[[], object] = lambda: None
        self.record_left: Leave = lambda _why, _with_it, then, _complain: then()
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

        def go(why: str, with_it: str, close: Callable[[], None], complain: Callable[[str], None]) -> None:
            def gone() -> None:
                close()
                then()

            self.record_left(why, with_it, gone, complain)

        dialog = LeavingDialog(self._parent.window(), view, go, self.make_safe)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def leave_for_good(self, then: Callable[[], object]) -> None:
        """The same for the last time: it is watched no more."""

        def go() -> None:
            self.see(None)
            QTimer.singleShot(0, self, then)  # all others hear of the entry first

        self.leave(go)

    def _remind(self) -> None:
        if self.view is None:
            return
        words = tr("Is somebody with {unit}? It may be live. Go on, or stop here and make it safe.")
        self._say(words.format(unit=self.view.mark))
        QApplication.beep()
        QApplication.alert(self._parent.window())
