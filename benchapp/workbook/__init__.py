"""What is kept: SQLAlchemy tables, the journal, revisions, migrations, backup.

Names are fetched when first asked for; alembic is loaded only when a file is made or migrated.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from benchapp.workbook.values import (
    BenchOpening,
    Difference,
    KeptEntry,
    Lot,
    MeterProof,
    Run,
    StageRow,
    TagPrinted,
    Unit,
)

if TYPE_CHECKING:
    from benchapp.workbook.intake import Pins
    from benchapp.workbook.journal import Draft, Standing
    from benchapp.workbook.problems import NotInWorkbook, Overtaken, TakenName, WorkbookProblem
    from benchapp.workbook.workbook import Workbook

_HOME_OF = {
    "Draft": "journal",
    "NotInWorkbook": "problems",
    "Overtaken": "problems",
    "Pins": "intake",
    "Standing": "journal",
    "TakenName": "problems",
    "Workbook": "workbook",
    "WorkbookProblem": "problems",
}

__all__ = [
    "BenchOpening",
    "Difference",
    "Draft",
    "KeptEntry",
    "Lot",
    "MeterProof",
    "NotInWorkbook",
    "Overtaken",
    "Pins",
    "Run",
    "StageRow",
    "Standing",
    "TagPrinted",
    "TakenName",
    "Unit",
    "Workbook",
    "WorkbookProblem",
]


def __getattr__(name: str) -> Any:  # noqa: ANN401
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME_OF[name]}"), name)
