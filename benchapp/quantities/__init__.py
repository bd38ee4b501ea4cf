"""The numbers of the bench: units, what a technician types, preferred values, formulas with units.

Names are fetched from their modules at first use: importing this package loads neither pint, pydantic nor numpy.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.quantities.colours import ColourReading, read_colours
    from benchapp.quantities.dimensions import Dimension, Kind
    from benchapp.quantities.display import show, show_uncertainty
    from benchapp.quantities.doubt import doubt_about
    from benchapp.quantities.entry import read_quantity, read_reading
    from benchapp.quantities.formula import Formula, parse_formula
    from benchapp.quantities.markings import Marking, read_marking, write_marking
    from benchapp.quantities.parts import PartReading, Preference, preference_of, read_part
    from benchapp.quantities.preferred import Series, is_preferred, preferred_value, series_of, series_values
    from benchapp.quantities.problems import EntryProblem, FormulaProblem
    from benchapp.quantities.quantity import Bound, Quantity, Reading, describe_reading
    from benchapp.quantities.units import Unit, unit_named

__all__ = [
    "Bound",
    "ColourReading",
    "Dimension",
    "EntryProblem",
    "Formula",
    "FormulaProblem",
    "Kind",
    "Marking",
    "PartReading",
    "Preference",
    "Quantity",
    "Reading",
    "Series",
    "Unit",
    "describe_reading",
    "doubt_about",
    "is_preferred",
    "parse_formula",
    "preference_of",
    "preferred_value",
    "read_colours",
    "read_marking",
    "read_part",
    "read_quantity",
    "read_reading",
    "series_of",
    "series_values",
    "show",
    "show_uncertainty",
    "unit_named",
    "write_marking",
]

_MODULES = {
    "colours": ("ColourReading", "read_colours"),
    "dimensions": ("Dimension", "Kind"),
    "display": ("show", "show_uncertainty"),
    "doubt": ("doubt_about",),
    "entry": ("read_quantity", "read_reading"),
    "formula": ("Formula", "parse_formula"),
    "markings": ("Marking", "read_marking", "write_marking"),
    "parts": ("PartReading", "Preference", "preference_of", "read_part"),
    "preferred": ("Series", "is_preferred", "preferred_value", "series_of", "series_values"),
    "problems": ("EntryProblem", "FormulaProblem"),
    "quantity": ("Bound", "Quantity", "Reading", "describe_reading"),
    "units": ("Unit", "unit_named"),
}
_HOME = {name: module for module, names in _MODULES.items() for name in names}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the module holds
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
