"""The bench opening: the check at the start of a day.

Each meter proved on a known source, its leads measured, the RCD's rating, button and reset; what to do at a fire.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtGui import QHideEvent

from benchapp.actions.entries.days import close_bench, open_bench
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.backups.state_line import BackupLine
from benchapp.desktop.bench.opening_form import OpeningForm, opening_words
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.dates import day_here
from benchapp.desktop.keys import add_action
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.texts import button
from benchapp.desktop.words import tr
from benchapp.errors import BenchError


class OpeningPage(BenchPage):
    """The form of the opening beside the unit at hand, and the closing of the bench."""

    name = "opening"
    of_a_step = False

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.form = OpeningForm(context)
        self.button = button("opening-record", tr("Open the bench for today"), "main")
        self.close_day = button("opening-close", tr("Close the bench for today: meters as ticked above"))
        self.backup = BackupLine(context.backups, "opening")
        for widget in (self.form, self.button, self.close_day, self.backup):
            self.body.addWidget(widget)
        self.body.addStretch(1)
        self.form.source.activated.connect(lambda _number: self.complained.emit(""))
        self.form.room.textEdited.connect(lambda _text: self.complained.emit(""))
        self.form.wire.complained.connect(self.complained)
        self.form.wire.turned.connect(self.hints_changed)
        self.button.clicked.connect(self._record)
        add_action(self, "open", self._record)
        self.close_day.clicked.connect(self._close)

    def hideEvent(self, event: QHideEvent) -> None:
        """Another page is shown: nothing is read for this one."""
        super().hideEvent(event)
        self.form.wire.rest()

    def fill(self, view: UnitView) -> None:
        self.say.setText(opening_words())
        opening = self.context.bench.opening()
        if self.form.fill(view.plan.meters, opening):
            self.form.follow(self.button, self.close_day)
        self.close_day.setVisible(opening is not None)
        self.backup.setVisible(opening is not None)
        if opening is not None:
            self.context.backups.look()

    def take_focus(self) -> None:
        (self.form.first() if self.form.has_meters else self.button).setFocus()

    def _record(self) -> None:
        try:
            self.request(open_bench, **self.form.opening())
        except BenchError as problem:
            self.complained.emit(problem.sentence)

    def _close(self) -> None:
        try:
            self.request(close_bench, meters=self.form.proofs())
        except BenchError as problem:
            self.complained.emit(problem.sentence)

    def hints(self) -> Sequence[Hint]:
        by_wire = [hint("take shown")] if self.form.wire.strip.watches else []
        return (hint("tick", tr("proved, yes or no")), *by_wire, hint("fields"), hint("open"), hint("back"))

    def draft(self) -> Mapping[str, Any]:
        return self.form.draft()

    def draft_stamp(self) -> Mapping[str, Any]:
        return {"at": self.context.bench.clock()} if self.draft() else {}

    def restore(self, draft: Mapping[str, Any]) -> None:
        """Only what was looked at this day opens this day."""
        if day_here(str(draft.get("at", ""))) == day_here(self.context.bench.clock()):
            self.form.restore(draft)
