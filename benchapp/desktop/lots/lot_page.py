"""A lot in one look: where its units stand, how far they are, what was found wrong, what is to be fetched."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QScrollBar, QVBoxLayout, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.choices import ChoiceList
from benchapp.desktop.widgets.scrolling import scrolling
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.lots.lot_look import LotLook

_NARROW = 52
"""width below which the halves stand in a column, in heights of a line"""
_STEPS = {
    Qt.Key.Key_Down: QScrollBar.SliderAction.SliderSingleStepAdd,
    Qt.Key.Key_Up: QScrollBar.SliderAction.SliderSingleStepSub,
    Qt.Key.Key_PageDown: QScrollBar.SliderAction.SliderPageStepAdd,
    Qt.Key.Key_PageUp: QScrollBar.SliderAction.SliderPageStepSub,
    Qt.Key.Key_Home: QScrollBar.SliderAction.SliderToMinimum,
    Qt.Key.Key_End: QScrollBar.SliderAction.SliderToMaximum,
}


class ToldRows(ChoiceList):
    """Rows that are only read, all of them in sight: what is around them scrolls."""

    def __init__(self, look: Look, name: str, title: str) -> None:
        super().__init__(look, name, title, passive=True)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), self._content_height())

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), self._content_height())

    def wheelEvent(self, event: QEvent) -> None:
        event.ignore()


class LotPage(QWidget):
    """Read again while it is shown; what takes a fold of every unit comes a moment after the rest."""

    def __init__(self, context: AppContext) -> None:
        from benchapp.actions.workbench.lot_looks import LotLooks

        super().__init__()
        self.setObjectName("lot-page")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("The lot in one look"))
        self._context, self._looks, self._lot = context, LotLooks(context.bench), ""
        self._reading = 0
        self.stand = ToldRows(context.look, "lot-stand", tr("Where its units stand and how far they are"))
        self.found = ToldRows(context.look, "lot-found", tr("What was found wrong and what to fetch"))
        self.waits = label("lot-waits", "quiet", tr("Reading what each unit tells …"))
        sheet = QWidget()
        sheet.setObjectName("lot-sheet")
        both = QVBoxLayout(sheet)
        both.setContentsMargins(0, 0, 0, 0)
        halves = (_from_the_top(half) for half in (self.stand, self.found))
        both.addWidget(Split(context.look, *halves, shares=(1, 1), narrow=_NARROW))
        both.addStretch(1)
        self.area = scrolling(sheet)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.waits)
        layout.addWidget(self.area, 1)

    def show_lot(self, lot: str) -> None:
        """Show that lot: what the board says at once, the rest when every unit was read."""
        self._lot = lot
        self._reading += 1
        number = self._reading
        self._fill(self._looks.at_once(lot), whole=False)
        self._context.tasks.aside(
            lambda stop: self._looks.look(lot, lambda: stop() or number != self._reading),
            then=lambda look: self._know(number, look),
        )

    def _know(self, number: int, look: "LotLook | None") -> None:
        if look is not None and number == self._reading:
            self._fill(look, whole=True)

    def _fill(self, look: "LotLook", *, whole: bool) -> None:
        from benchapp.desktop.lots import look_words as words

        self.waits.setVisible(not whole)
        self.stand.set_rows([*words.stand_rows(look), *words.stage_rows(look)])
        if whole:
            self.found.set_rows([*words.fault_rows(look), *words.yield_rows(look), *words.kit_rows(look)])
        self.found.setVisible(whole)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = _STEPS.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
        else:
            self.area.verticalScrollBar().triggerAction(step)


def _from_the_top(rows: QWidget) -> QWidget:
    """The rows at the top of a half that may be higher."""
    half = QWidget()
    layout = QVBoxLayout(half)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.addWidget(rows)
    layout.addStretch(1)
    return half
