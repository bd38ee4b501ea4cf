"""Loads what the first unit needs while nobody waits: libraries, pages, the plan of one unit.

The window opens without them, so that it is there at once; loaded only when a unit is taken they would cost a second.
"""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer

from benchapp.desktop.app_context import AppContext

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.desktop.window import Window

SOON = 0.4
"""seconds after the opening: the board has been painted by then (own choice)"""


def warm_up_soon(context: AppContext, window: "Window") -> QTimer:
    """Begin shortly, unless the window has closed by then."""
    timer = QTimer(window)
    window.closed.connect(timer.stop)
    timer.setSingleShot(True)
    timer.timeout.connect(partial(_begin, context))
    timer.start(round(SOON * 1000))
    return timer


def _begin(context: AppContext) -> None:
    context.tasks.aside(lambda stop: "" if stop() else warm_up(context.bench), then=_is_warm, refused=_is_warm)


def _is_warm(_mark: str) -> None:
    """Nobody waits for it; what goes wrong is said where a unit is taken."""


def warm_up(bench: "Bench") -> str:
    """Load it all; the mark of the unit whose plan was made, empty where there is none. Raises BenchError."""
    from benchapp.desktop.bench import screen as screen
    from benchapp.desktop.bench.page_book import page_classes
    from benchapp.desktop.bench.unit_view import view_of

    page_classes()
    lot = next(iter(bench.lots()), None)
    unit = next(iter(bench.units(lot.name)), None) if lot is not None else None
    return view_of(bench, unit.mark).mark if unit is not None else ""
