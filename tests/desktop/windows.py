"""A real window on a real workbook file, for the tests of screens and for the journeys."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent

from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import shelf_marks, take_in_lot
from benchapp.actions.workbench.bench import Bench
from benchapp.desktop.bench.closing import UnrecordedDialog
from benchapp.desktop.bench.leaving import LeavingDialog
from benchapp.desktop.person import Person
from benchapp.desktop.theme.look import Look
from benchapp.desktop.window import Window
from benchapp.sequences.planning.chain_contents import MeterProof
from demo.technician import Technician
from tests.people import OPENED, staffed

WORKSHOP = Path(__file__).with_name("workshop")
"""a route with a step of every kind"""
LEADS = {"tb-m1": 0.12, "tb-m2": 0.3, "tb-it1": 0.02, "tb-pm1": None}


class Clock:
    """A morning in May, five seconds later at each look: what is calibrated and what is overdue is always the same.

    No test has to wait for the time that a step takes.
    """

    def __init__(self) -> None:
        self._now = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)
        self.step = timedelta(seconds=5)

    def __call__(self) -> str:
        self._now += self.step
        return self._now.isoformat(timespec="milliseconds").replace("+00:00", "Z")

    def pass_days(self, days: float) -> None:
        """Let days go by."""
        self._now += timedelta(days=days)


def make_workbook(path: Path, *, clock: Clock | None = None, folders: tuple[Path, ...] = ()) -> Path:
    """An empty workbook file."""
    Bench.create(path, clock=clock or Clock(), folders=folders, workshop=staffed()).close()
    return path


def take_in(bench: Bench, *, count: int = 3, equipment: str = "tb-mu1", route: str = "mains-unit") -> None:
    """A lot of units of one design, TB-001 onwards, by AB."""
    marks = shelf_marks("TB-001", count)
    take_in_lot(bench, name="Shelf nine", equipment=equipment, route=route, marks=marks, by="AB")


def prove_meters(bench: Bench) -> None:
    """The bench opened for today: every meter proved, leads measured."""
    proofs = [MeterProof(meter=meter, proved=True, lead_resistance=leads) for meter, leads in LEADS.items()]
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)


def close_window(window: Window) -> None:
    """Close it for good, a unit that may be live or not, photos recorded or not: the test is over."""
    window.close()
    asked = window.findChild(LeavingDialog)
    if asked is not None:
        asked.reject()
        window.bench.watch.see(None)
        window.close()
    if window.isVisible() and window.findChild(UnrecordedDialog) is not None:
        window.bench.pages.forget_unrecorded()
        window.close()


@contextmanager
def window_on(
    look: Look, bench: Bench, *, initials: str = "AB", size: tuple[int, int] = (1200, 800)
) -> Iterator[Technician]:
    """A window on an opened workbook with a technician before it; both are closed at the end."""
    window = Window(look, Person(initials))
    bugs: list[BaseException] = []
    window.tasks.bug.disconnect()
    window.tasks.bug.connect(bugs.append)
    window.resize(*size)
    window.show()
    window.open_bench(bench)
    window.activateWindow()
    technician = Technician(window)
    technician.settle()
    try:
        yield technician
        technician.settle()
    finally:
        close_window(window)
        window.deleteLater()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    for bug in bugs:
        raise bug
