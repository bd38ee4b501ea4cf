"""Meter records and limits, uncertainty, bands, the decision.

The names below are this package's public face. They are fetched when first asked for, so that importing the package
costs nothing: the models of files bring pydantic with them, the cross-checks numpy.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.judgement.acceptance import Known as Known
    from benchapp.judgement.band import Band as Band
    from benchapp.judgement.band import BandProblem as BandProblem
    from benchapp.judgement.band import Because as Because
    from benchapp.judgement.cords import LimitFacts as LimitFacts
    from benchapp.judgement.decision import Decision as Decision
    from benchapp.judgement.decision import decide as decide
    from benchapp.judgement.fuses import FuseChoice as FuseChoice
    from benchapp.judgement.statements import RULES_VERSION as RULES_VERSION
    from benchapp.judgement.statements import Judgement as Judgement
    from benchapp.judgement.statements import Rule as Rule
    from benchapp.judgement.statements import completes_step as completes_step
    from benchapp.judgement.statements import opens_live_step as opens_live_step
    from benchapp.judgement.uncertainty import Contribution as Contribution
    from benchapp.judgement.uncertainty import Distribution as Distribution
    from benchapp.judgement.uncertainty import Uncertainty as Uncertainty

_MODULES = {
    "acceptance": ("Known",),
    "band": ("Band", "BandProblem", "Because"),
    "cords": ("LimitFacts",),
    "decision": ("Decision", "decide"),
    "fuses": ("FuseChoice",),
    "statements": ("RULES_VERSION", "Judgement", "Rule", "completes_step", "opens_live_step"),
    "uncertainty": ("Contribution", "Distribution", "Uncertainty"),
}
_HOME = {name: module for module, names in _MODULES.items() for name in names}
__all__ = list(_HOME)


def __getattr__(name: str) -> object:
    """Fetch a public name from its module the first time it is asked for."""
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value: object = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    globals()[name] = value
    return value
