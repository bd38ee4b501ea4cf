"""The sequence language: models, cross-references, the engine, interlocks, retest scope.

Every name below is imported on first use: importing this package loads neither yaml, pydantic, numpy nor pint.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.sequences.attempts import attempt as attempt
    from benchapp.sequences.cases import CaseResult as CaseResult
    from benchapp.sequences.cases import run_cases as run_cases
    from benchapp.sequences.catalogue import Catalogue as Catalogue
    from benchapp.sequences.catalogue import catalogue_from_texts as catalogue_from_texts
    from benchapp.sequences.catalogue import load_catalogue as load_catalogue
    from benchapp.sequences.catalogue import load_with_own as load_with_own
    from benchapp.sequences.entries import AskGiven as AskGiven
    from benchapp.sequences.entries import ComputeGiven as ComputeGiven
    from benchapp.sequences.entries import Disposition as Disposition
    from benchapp.sequences.entries import Entry as Entry
    from benchapp.sequences.entries import EntryKind as EntryKind
    from benchapp.sequences.entries import Event as Event
    from benchapp.sequences.entries import Given as Given
    from benchapp.sequences.entries import Hazard as Hazard
    from benchapp.sequences.entries import InspectGiven as InspectGiven
    from benchapp.sequences.entries import Opening as Opening
    from benchapp.sequences.entries import PhotoGiven as PhotoGiven
    from benchapp.sequences.entries import ReadingGiven as ReadingGiven
    from benchapp.sequences.entries import WaitGiven as WaitGiven
    from benchapp.sequences.entries import WorkGiven as WorkGiven
    from benchapp.sequences.folding import fold as fold
    from benchapp.sequences.gate import refuse as refuse
    from benchapp.sequences.plan import make_plan as make_plan
    from benchapp.sequences.planned import Plan as Plan
    from benchapp.sequences.planned import PlannedStep as PlannedStep
    from benchapp.sequences.planned import Role as Role
    from benchapp.sequences.planned import Stage as Stage
    from benchapp.sequences.planned import StepKind as StepKind
    from benchapp.sequences.planned import Supply as Supply
    from benchapp.sequences.planned import Workshop as Workshop
    from benchapp.sequences.retest import retest_scope as retest_scope
    from benchapp.sequences.state import Attempt as Attempt
    from benchapp.sequences.state import Condition as Condition
    from benchapp.sequences.state import Due as Due
    from benchapp.sequences.state import DueKind as DueKind
    from benchapp.sequences.state import FaultState as FaultState
    from benchapp.sequences.state import FaultStatus as FaultStatus
    from benchapp.sequences.state import StageState as StageState
    from benchapp.sequences.state import StageStatus as StageStatus
    from benchapp.sequences.state import StepState as StepState
    from benchapp.sequences.state import StepStatus as StepStatus
    from benchapp.sequences.state import UnitState as UnitState

_HOMES = {
    "attempts": ("attempt",),
    "cases": ("CaseResult", "run_cases"),
    "catalogue": ("Catalogue", "catalogue_from_texts", "load_catalogue", "load_with_own"),
    "entries": (
        "AskGiven",
        "ComputeGiven",
        "Disposition",
        "Entry",
        "EntryKind",
        "Event",
        "Given",
        "Hazard",
        "InspectGiven",
        "Opening",
        "PhotoGiven",
        "ReadingGiven",
        "WaitGiven",
        "WorkGiven",
    ),
    "folding": ("fold",),
    "gate": ("refuse",),
    "plan": ("make_plan",),
    "planned": ("Plan", "PlannedStep", "Role", "Stage", "StepKind", "Supply", "Workshop"),
    "retest": ("retest_scope",),
    "state": (
        "Attempt",
        "Condition",
        "Due",
        "DueKind",
        "FaultState",
        "FaultStatus",
        "StageState",
        "StageStatus",
        "StepState",
        "StepStatus",
        "UnitState",
    ),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME_OF)


def __getattr__(name: str) -> Any:  # noqa: ANN401
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"benchapp.sequences.{_HOME_OF[name]}"), name)
