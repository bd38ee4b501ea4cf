"""One print from the first document to the last: handed over, followed until the printer has taken it, recorded."""

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer, Signal

from benchapp.actions.papers.print_jobs import record_printed
from benchapp.desktop.words import tr
from benchapp.printers.values import Parcel, Progress, Stage

if TYPE_CHECKING:
    from benchapp.actions.papers.print_jobs import PrintJob
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.app_context import AppContext

ASK_EVERY = 500
"""milliseconds between two looks at a job"""


class PrintRun(QObject):
    """Prints jobs one after the other; what the printer has taken is recorded at once, and nothing else is."""

    said = Signal(object)
    """how it stands, or why it waits"""
    ended = Signal(object)
    """all is out where empty, else why not"""

    def __init__(
        self, context: "AppContext", parcels: "Sequence[tuple[PrintJob, Parcel]]", parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._context = context
        self._system = context.printing.system
        self._left = list(parcels)
        self._out = 0
        self._ticket: Any = None
        self._stopped = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(ASK_EVERY)
        self._timer.timeout.connect(self._look)

    @property
    def out(self) -> int:
        """How many of the jobs the printer has taken."""
        return self._out

    def begin(self) -> None:
        """Hand over the next job; say the end where there is none."""
        self._ticket = None
        if not self._left:
            self.ended.emit("")
            return
        _, parcel = self._left[0]
        self.said.emit(tr("Handing {title} to {printer} …").format(title=parcel.title, printer=parcel.printer.title))
        self._context.tasks.outside(partial(self._system.send, parcel), then=self._follow, refused=self._give_up)

    def stop(self) -> None:
        """Take back what the printer has not taken yet."""
        if self._stopped:
            return
        self._stopped = True
        self._timer.stop()
        if self._ticket is not None:
            self._take_back()

    def _follow(self, ticket: object) -> None:
        self._ticket = ticket
        if self._stopped:
            self._take_back()
        else:
            self._look()

    def _look(self) -> None:
        _, parcel = self._left[0]
        ask = partial(self._system.progress, parcel, self._ticket)
        self._context.tasks.outside(ask, then=self._take, refused=self._give_up)

    def _take(self, progress: Progress) -> None:
        job, parcel = self._left[0]
        if progress.stage is Stage.DONE:
            printer, by = parcel.printer.title, self._context.person.initials
            self._context.tasks.do(
                self._context.bench,
                record_printed,
                job,
                printer=printer,
                by=by,
                then=self._recorded,
                refused=self._not_recorded,
            )
        elif self._stopped:
            return
        elif progress.stage is Stage.FAILED:
            self._give_up(progress.words)
        else:
            self.said.emit(progress.words or tr("{printer} is printing …").format(printer=parcel.printer.title))
            self._timer.start()

    def _recorded(self, changes: "ChangeSet") -> None:
        self._left.pop(0)
        self._out += 1
        self._context.change_signals.said.emit(changes.words)
        if not self._stopped:
            self.begin()

    def _not_recorded(self, sentence: str) -> None:
        words = tr("It was printed, but that could not be recorded: {why}")
        self._give_up(words.format(why=sentence))

    def _take_back(self) -> None:
        """Take it back, and look once more: what was out before that is recorded all the same."""
        _, parcel = self._left[0]
        back = partial(self._system.take_back, parcel, self._ticket)
        self._context.tasks.outside(
            back, then=lambda _nothing: self._look(), refused=self._context.change_signals.said.emit
        )

    def _give_up(self, sentence: str) -> None:
        if self._stopped:  # nobody waits for the end any more
            self._context.change_signals.said.emit(sentence)
        else:
            self.ended.emit(sentence)
