"""The key of the bench opening: it works wherever one is, before a unit was taken too."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from benchapp.desktop.keys import key_text
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.desktop.bench.screen import BenchScreen
    from benchapp.desktop.lots.screen import LotsScreen


def show_opening(
    bench: "BenchScreen", lots: "LotsScreen", say: Callable[[str], object], go_to: Callable[[str], object]
) -> None:
    """The bench opening beside the unit at hand; where none is, beside the one that the board stands at."""
    going = bench.navigation
    mark = going.mark or lots.mark()
    if not mark:
        words = tr("The bench is opened beside a unit: take in a lot first ({lots}, then {new}).")
        say(words.format(lots=key_text("lots"), new=key_text("new lot")))
        return
    stands_open = bench.page is not None and bench.page.name == "opening"
    if not going.mark:
        going.take_unit(mark, aside="opening")
    elif not stands_open or bench.isVisible():
        going.follow("opening")
    go_to("bench")
