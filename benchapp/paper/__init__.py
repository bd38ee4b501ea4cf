"""Printed matter (reportlab): tags, record sheets, pin card. Plain values in, PDF bytes out.

Names are loaded when first asked for, so importing the package costs nothing until something is printed.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from benchapp.paper.content import (
    Budget,
    BudgetRow,
    Fact,
    FaultLine,
    Finding,
    PinCard,
    PinReading,
    Reason,
    RecordRow,
    RecordSection,
    RecordSheet,
    RepairLine,
    Signature,
    TagContent,
    TagReading,
    Tone,
    unit_code,
)

if TYPE_CHECKING:
    from benchapp.paper.labels import LabelSheet, read_label_sheet
    from benchapp.paper.pin_cards import pin_card
    from benchapp.paper.problems import PaperProblem
    from benchapp.paper.record import record_sheet
    from benchapp.paper.screen import page_count, page_image
    from benchapp.paper.tags import single_tag, tag_sheet

_HOMES = {
    "LabelSheet": "labels",
    "read_label_sheet": "labels",
    "PaperProblem": "problems",
    "pin_card": "pin_cards",
    "record_sheet": "record",
    "page_count": "screen",
    "page_image": "screen",
    "single_tag": "tags",
    "tag_sheet": "tags",
}

__all__ = [
    "Budget",
    "BudgetRow",
    "Fact",
    "FaultLine",
    "Finding",
    "LabelSheet",
    "PaperProblem",
    "PinCard",
    "PinReading",
    "Reason",
    "RecordRow",
    "RecordSection",
    "RecordSheet",
    "RepairLine",
    "Signature",
    "TagContent",
    "TagReading",
    "Tone",
    "page_count",
    "page_image",
    "pin_card",
    "read_label_sheet",
    "record_sheet",
    "single_tag",
    "tag_sheet",
    "unit_code",
]


def __getattr__(name: str) -> Any:  # noqa: ANN401 (a module's attribute may be anything)
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
