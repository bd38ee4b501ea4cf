"""The key of the bench opening: it works wherever one is, before there is a lot too."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from benchapp.desktop.app_context import AppContext
    from benchapp.desktop.bench.screen import BenchScreen
    from benchapp.desktop.lots.screen import LotsScreen


def show_opening(
    context: "AppContext", window: QWidget, bench: "BenchScreen", lots: "LotsScreen", go_to: Callable[[str], object]
) -> None:
    """The bench opening beside the unit at hand, else beside the one that the board stands at, else by itself."""
    going = bench.navigation
    mark = going.mark or lots.mark()
    if not mark:
        _show_alone(context, window)
        return
    stands_open = bench.page is not None and bench.page.name == "opening"
    if not going.mark:
        going.take_unit(mark, aside="opening")
    elif not stands_open or bench.isVisible():
        going.follow("opening")
    go_to("bench")


def _show_alone(context: "AppContext", window: QWidget) -> None:
    from benchapp.desktop.opening_dialog import OpeningDialog

    dialog = OpeningDialog(context, window)
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    dialog.begin()
