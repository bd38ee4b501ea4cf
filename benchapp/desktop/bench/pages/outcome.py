"""What becomes of the unit: disposition, grade, price, and its tag.

Shown when a unit is finished or held, or asked for by key.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QVBoxLayout, QWidget

from benchapp.actions.entries.outcome import destroy_plug, keep_plug, mark_anew, set_disposition
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.pages.rows import RowsPage
from benchapp.desktop.bench.sure_dialog import SureDialog
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import add_action, key_text, with_key
from benchapp.desktop.sale.tag_picture import TagPicture
from benchapp.desktop.theme.signs import DISPOSITIONS
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import button, field, panel, plain_row
from benchapp.desktop.words import tr

CHOICES = ("for sale", "spares or repair", "keep", "hold", "scrap", "quarantine")
DETAILS = {
    "for sale": "tested on this date, everything that applies holds",
    "spares or repair": "only once the mains plug is cut off and destroyed (key {key})",
    "keep": "stays in the collection",
    "hold": "waits for a decision or a part; do not use",
    "scrap": "not worth mending; a mains plug is cut off and destroyed first (key {key})",
    "quarantine": "back to: not tested, do not plug in",
}
PRICED = ("for sale", "spares or repair", "keep")
"""dispositions whose grade and price may be put right by themselves"""
_NARROW = 44


class OutcomePage(RowsPage):
    """Disposition by key, grade and price beside it, the tag as it will be printed."""

    name = "outcome"
    title = "What becomes of it"
    of_answers = True
    of_a_step = False
    keys_settle = True
    """one key settles what becomes of the unit: it waits longer until it is known that no scanner struck it"""

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.grade, self.price = field("outcome-grade", tr("Grade")), field("outcome-price", tr("Price"))
        self.mark = field("outcome-mark", tr("Shelf mark"))
        anew = button("outcome-mark-anew", with_key("mark anew", tr("Mark anew")))
        anew.clicked.connect(self._mark_anew)
        marking = QHBoxLayout()
        marking.addWidget(self.mark, 1)
        marking.addWidget(anew)
        form = QFormLayout()
        for one, row in ((self.grade, self.grade), (self.price, self.price), (self.mark, marking)):
            form.addRow(one.accessibleName(), row)
            plain_row(form, one)
        self.tag = TagPicture(context)
        buttons = QHBoxLayout()
        for name, words, going in (
            ("outcome-print", tr("Print tag"), "print"),
            ("outcome-export", tr("Tag as PDF"), "export"),
            ("outcome-sheet", tr("Record sheet"), "sheet"),
        ):
            pressed = button(name, with_key(going, words))
            pressed.clicked.connect(lambda _checked=False, going=going: self.going.emit(going))
            buttons.addWidget(pressed)
        choices, sheet = QWidget(), panel("outcome-sheet-panel")
        left = QVBoxLayout(choices)
        left.setContentsMargins(0, 0, 0, 0)
        left.addWidget(self.list, 100)
        left.addLayout(form)
        left.addStretch(1)
        right = QVBoxLayout(sheet)
        right.addWidget(self.tag, 1)
        right.addLayout(buttons)
        self.body.addWidget(Split(context.look, choices, sheet, shares=(1, 1), narrow=_NARROW), 1)
        add_action(self.list, "destroyed", self._destroy_plug)
        add_action(self, "mark anew", self._mark_anew)

    def fill(self, view: UnitView) -> None:
        state = view.state
        unit = self.context.bench.unit(view.mark)
        self.say.setText(
            state.due.words if str(state.due.kind) in ("held", "finished") else tr("What becomes of this unit?")
        )
        rows = []
        for number, choice in enumerate(CHOICES, 1):
            now = tr("as it is now") if choice == state.disposition else ""
            why = state.may_sell if choice == "for sale" else ""
            if choice == "spares or repair" and state.destroyed:
                why = tr("the mains plug is destroyed")
            meant = tr(DETAILS[choice]).format(key=key_text("destroyed"))
            detail = "; ".join(part for part in (now, why or meant) if part)
            rows.append(Row(words=tr(choice), detail=detail, key=str(number), sign=DISPOSITIONS[choice], bare=True))
        self.list.set_rows(rows)
        self.grade.setText(unit.grade)
        self.price.setText(unit.price)
        self.mark.setText(unit.shelf_mark)
        self.tag.show_unit(view.mark, unit.last_entry)

    def _destroy_plug(self) -> None:
        """The plug is destroyed, or was said to be by mistake: asked again by the mark, and with a reason."""
        if self.unit.state.destroyed:
            self._ask(
                tr("Its plug is on after all"),
                tr("The record says that its mains plug was destroyed. Say why that is wrong; both stay on record."),
                lambda why: self.request(keep_plug, why=why),
            )
        else:
            self._ask(
                tr("The mains plug is cut off and destroyed"),
                tr("Nobody can use this unit on mains after that. Cut it off first, then say so."),
                lambda why: self.request(destroy_plug, note=why),
            )

    def _ask(self, title: str, words: str, then: Callable[[str], object]) -> None:
        dialog = SureDialog(self, self.unit.mark, title, words, then)
        dialog.finished.connect(dialog.deleteLater)
        dialog.finished.connect(lambda _result: self.take_focus())
        dialog.open()

    def _mark_anew(self) -> None:
        """Give the unit the mark that was typed; with none typed, ask for it."""
        typed, now = self.mark.text().strip(), self.context.bench.unit(self.unit.mark).shelf_mark
        if typed in ("", now):
            self.mark.setFocus()
            self.mark.selectAll()
            self.complained.emit(tr("Type the mark that the unit bears from now on, then Enter."))
        else:
            self.request(mark_anew, typed)

    def choose(self, number: int) -> None:
        if not 0 <= number < len(CHOICES):
            return
        choice, now = CHOICES[number], self.unit.state.disposition
        words = _to_be_sure(now, choice)
        if words:
            title = tr("{unit}: {choice}").format(unit=self.unit.mark, choice=tr(choice))
            self._ask(title, words, lambda why: self._settle(choice, why))
        else:
            self._settle(choice)

    def _record_price(self) -> None:
        """Grade and price of what is settled are recorded at once; before that they go with the choice."""
        self.list.setFocus()
        if self._typed() and (now := self.unit.state.disposition) in PRICED:
            self._settle(now)

    def _settle(self, choice: str, note: str = "") -> None:
        grade, price = self.grade.text().strip(), self.price.text().strip()
        self.request(set_disposition, choice, grade=grade, price=price, note=note)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and self.mark.hasFocus():
            self._mark_anew()
        elif enter and (self.grade.hasFocus() or self.price.hasFocus()):
            self._record_price()
        else:
            super().keyPressEvent(event)

    def hints(self) -> Sequence[Hint]:
        return (
            hint("disposition"),
            hint("fields", tr("grade, price")),
            hint("destroyed"),
            hint("mark anew"),
            hint("record"),
            hint("print"),
            hint("export"),
            hint("next"),
        )

    def _typed(self) -> dict[str, str]:
        """What stands in the fields and not on the record, by field."""
        unit = self.context.bench.unit(self.unit.mark)
        known = {"grade": unit.grade, "price": unit.price, "mark": unit.shelf_mark}
        now = {name: getattr(self, name).text().strip() for name in known}
        return {name: text for name, text in now.items() if text != known[name]}

    def draft(self) -> Mapping[str, Any]:
        return self._typed()

    def restore(self, draft: Mapping[str, Any]) -> None:
        for name, text in draft.items():
            getattr(self, name).setText(text)


def _to_be_sure(now: str, choice: str) -> str:
    """What is said where a reason is asked: into scrap, and out of scrap or of a hold; empty elsewhere."""
    if choice == now:
        return ""
    if choice == "scrap":
        return tr("It is scrap from here on.")
    if now == "scrap":
        return tr("It was scrap until now; both stay on record.")
    return tr("It was on hold until now. Say why the hold is lifted; both stay on record.") if now == "hold" else ""
