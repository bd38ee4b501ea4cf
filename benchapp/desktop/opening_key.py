"""The key of the bench opening: it works wherever one is, before a unit was taken too."""

from typing import TYPE_CHECKING

from benchapp.desktop.keys import key_text
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.desktop.window import Window


def show_opening(window: "Window") -> None:
    """The bench opening beside the unit at hand; where none is, beside the one that the board stands at."""
    if window.context is None or not window.place.is_there():
        return
    going = window.bench.navigation
    mark = going.mark or window.lots.mark()
    if not mark:
        words = tr("The bench is opened beside a unit: take in a lot first ({lots}, then {new}).")
        window.change_signals.said.emit(words.format(lots=key_text("lots"), new=key_text("new lot")))
        return
    stands_open = window.bench.page is not None and window.bench.page.name == "opening"
    if not going.mark:
        going.take_unit(mark, aside="opening")
    elif not stands_open or window.stack.currentWidget() is window.bench:
        going.follow("opening")
    window.go_to("bench")
