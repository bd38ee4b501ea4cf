"""What a lot tells: progress, kit list, yield, outliers.

Every name below is imported on first use.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.lots.board import Board as Board
    from benchapp.lots.board import BoardRow as BoardRow
    from benchapp.lots.board import Cell as Cell
    from benchapp.lots.board import Sign as Sign
    from benchapp.lots.board import UnitRow as UnitRow
    from benchapp.lots.board import lot_board as lot_board

_HOMES = {
    "board": ("Board", "BoardRow", "Cell", "Sign", "UnitRow", "lot_board"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME_OF)


def __getattr__(name: str) -> Any:  # noqa: ANN401
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"benchapp.lots.{_HOME_OF[name]}"), name)
