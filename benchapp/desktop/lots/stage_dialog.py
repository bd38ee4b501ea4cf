"""Which stage is taken across the lot: each with how many units wait there, and which are left out."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QDialogButtonBox, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.sweep import Sweep, ended_words, left_out_words, ready_words
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.choices import ChoiceList, Row
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.lots.sweeping import StageWork

_WIDE = 34
_DIGITS = 9
"""stages that have a key of their own"""
_MOST_LINES = 22
"""height of the list; more stages scroll"""


class StageDialog(AskingDialog):
    """A digit, Enter or a click takes a stage."""

    chosen = Signal(str, str)
    """id and title of the stage"""

    def __init__(self, context: AppContext, parent: QWidget, lot: str) -> None:
        from benchapp.actions.workbench.sweeping import stage_works
        from benchapp.lots.sweeping import stage_work

        super().__init__(parent, "stage", tr("One stage for all units"), QDialogButtonBox.StandardButton.Ok)
        self._lot = lot
        self._works: tuple[StageWork, ...] = ()
        self.stages = ChoiceList(context.look, "stages", tr("Stages"))
        words = tr("Each unit of {lot} that is ready there comes to the bench, one after the other.").format(lot=lot)
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setText(tr("Begin"))
        self._show(stage_work(context.bench.board(lot), {}))
        self.lay_out(label("stage-words", "quiet", words), self.stages, wide=_WIDE)
        self.stages.chosen.connect(self._take)
        self.stages.picked.connect(self._take)
        self.stages.struck.connect(lambda _row, text: self._strike(text))
        self.stages.setFocus()
        context.tasks.read(partial(stage_works, context.bench, lot), then=self._know, refused=self.complain)

    def _know(self, works: "tuple[StageWork, ...]") -> None:
        """What comes before what is known: the first stage that a unit is ready for is at hand."""
        self._show(works)
        self.stages.go_to(next((number for number, work in enumerate(works) if work.ready), 0))

    def _show(self, works: "tuple[StageWork, ...]") -> None:
        self._works = works
        rows = [
            Row(
                key=str(number) if number <= _DIGITS else "",
                words=tr("{stage}: {ready}").format(stage=work.title, ready=ready_words(work)),
                detail=left_out_words(work),
            )
            for number, work in enumerate(works, start=1)
        ]
        self.stages.set_rows(rows)
        self.stages.setMinimumHeight(min(self.stages.maximumHeight(), self.fontMetrics().height() * _MOST_LINES))

    def go(self) -> None:
        self._take(self.stages.row_at_hand())

    def _strike(self, text: str) -> None:
        if text.isdecimal() and 0 < int(text) <= len(self._works):
            self._take(int(text) - 1)

    def _take(self, number: int) -> None:
        if not 0 <= number < len(self._works):
            return
        work = self._works[number]
        if not work.ready:
            self.complain(ended_words(Sweep(lot=self._lot, stage=work.stage, title=work.title), work))
            return
        self.accept()
        self.chosen.emit(work.stage, work.title)
