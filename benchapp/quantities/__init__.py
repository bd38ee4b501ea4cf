"""The numbers of the bench: units, what a technician types, preferred values, formulas with units.

Names are fetched from their modules at first use: importing this package loads neither pint, pydantic nor numpy.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.quantities.dimensions import Dimension, Kind
    from benchapp.quantities.display import show, show_uncertainty
    from benchapp.quantities.entry import doubt_about, read_quantity, read_reading
    from benchapp.quantities.formula import Formula, parse_formula
    from benchapp.quantities.problems import EntryProblem, FormulaProblem
    from benchapp.quantities.quantity import Bound, Quantity, Reading, describe_reading
    from benchapp.quantities.units import Unit, unit_named

__all__ = [
    "Bound",
    "Dimension",
    "EntryProblem",
    "Formula",
    "FormulaProblem",
    "Kind",
    "Quantity",
    "Reading",
    "Unit",
    "describe_reading",
    "doubt_about",
    "parse_formula",
    "read_quantity",
    "read_reading",
    "show",
    "show_uncertainty",
    "unit_named",
]

_MODULES = {
    "dimensions": ("Dimension", "Kind"),
    "display": ("show", "show_uncertainty"),
    "entry": ("doubt_about", "read_quantity", "read_reading"),
    "formula": ("Formula", "parse_formula"),
    "problems": ("EntryProblem", "FormulaProblem"),
    "quantity": ("Bound", "Quantity", "Reading", "describe_reading"),
    "units": ("Unit", "unit_named"),
}
_HOME = {name: module for module, names in _MODULES.items() for name in names}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the module holds
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
