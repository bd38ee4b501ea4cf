"""A half-typed reading that comes back on another day, or with another meter in the hand: it is marked as old."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QLineEdit

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.dates import day_here, shown_minute
from benchapp.desktop.widgets.texts import PlainLabel
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord


class OldDraft(PlainLabel):
    """Says of what stands in a field when and with what it was typed, and hides when something else stands there."""

    def __init__(self, context: AppContext, field: QLineEdit) -> None:
        super().__init__()
        self.setObjectName("old-draft")
        self.setProperty("kind", "complaint")
        self.setWordWrap(True)
        self._context, self._field, self._stands = context, field, ""
        self._stamp: Mapping[str, Any] = {}
        field.textChanged.connect(self._look)
        self.hide()

    def stamp(self, meter: "MeterRecord | None") -> Mapping[str, Any]:
        """When and with what it is typed, to be kept with what stands in the field; nothing where nothing does."""
        if not self._field.text().strip():
            return {}
        if self.is_old:
            return self._stamp
        return {"at": self._context.bench.clock(), "with": meter.meter if meter else "", "meter": _title(meter)}

    def see(self, draft: Mapping[str, Any], meter: "MeterRecord | None") -> None:
        """That draft, an empty one where none was, was put back into the field: mark and select it where it is old."""
        at, of = str(draft.get("at", "")), str(draft.get("with", ""))
        self._stands, self._stamp = "", {}
        same_meter = of == (meter.meter if meter else "")
        if not at or (same_meter and day_here(at) == day_here(self._context.bench.clock())):
            self.hide()
            return
        self._stands = self._field.text()
        self._stamp = {key: draft.get(key, "") for key in ("at", "with", "meter")}
        words = tr("Old: half typed {when} with {meter}. Read it again: what you type takes its place.")
        self.setText(words.format(when=shown_minute(at), meter=draft.get("meter") or tr("another meter")))
        self.show()
        self._field.selectAll()

    @property
    def is_old(self) -> bool:
        """Whether what stands in the field is an old draft."""
        return bool(self._stands) and self._field.text() == self._stands

    def _look(self, text: str) -> None:
        if text != self._stands:
            self._stands = ""
            self.hide()


def _title(meter: "MeterRecord | None") -> str:
    return str(meter.title) if meter else ""
