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
    from benchapp.lots.first_pass import FirstPass as FirstPass
    from benchapp.lots.first_pass import first_pass_yield as first_pass_yield
    from benchapp.lots.first_pass import wilson_interval as wilson_interval
    from benchapp.lots.kit import KitLine as KitLine
    from benchapp.lots.kit import kit_list as kit_list
    from benchapp.lots.pareto import FaultCount as FaultCount
    from benchapp.lots.pareto import FaultOfUnit as FaultOfUnit
    from benchapp.lots.pareto import count_faults as count_faults
    from benchapp.lots.pareto import shared_fault as shared_fault
    from benchapp.lots.resemblance import Likeness as Likeness
    from benchapp.lots.resemblance import likeness as likeness
    from benchapp.lots.resemblance import likeness_to_mains as likeness_to_mains
    from benchapp.lots.siblings import Sibling as Sibling
    from benchapp.lots.siblings import compare_siblings as compare_siblings
    from benchapp.lots.siblings import ratios_to_mains as ratios_to_mains

_HOMES = {
    "board": ("Board", "BoardRow", "Cell", "Sign", "UnitRow", "lot_board"),
    "first_pass": ("FirstPass", "first_pass_yield", "wilson_interval"),
    "kit": ("KitLine", "kit_list"),
    "pareto": ("FaultCount", "FaultOfUnit", "count_faults", "shared_fault"),
    "resemblance": ("Likeness", "likeness", "likeness_to_mains"),
    "siblings": ("Sibling", "compare_siblings", "ratios_to_mains"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME_OF)


def __getattr__(name: str) -> Any:  # noqa: ANN401
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"benchapp.lots.{_HOME_OF[name]}"), name)
