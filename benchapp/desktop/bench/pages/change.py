"""The page between two units: put the one away, take the other, and show by its mark that it is the right one."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.in_hand import is_end_of, last_signs
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import with_key
from benchapp.desktop.pictures.shelf_mark import ShelfMarkPicture
from benchapp.desktop.pictures.view import PictureView
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.texts import field, key_button, label
from benchapp.desktop.words import tr


class ChangePage(BenchPage):
    """The mark of the unit that comes, large; its tag is scanned, or the end of its mark typed or clicked."""

    field: QLineEdit
    name = "change"
    of_a_step = False

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.picture = PictureView(context.look, "change-picture")
        self.field = field("change-field", tr("The end of its mark"), "reading")
        self.take = key_button("change-take", with_key("enter", tr("it is in hand")), "main")
        self.keys = QWidget()
        self.keys.setObjectName("change-digits")
        head = label("change-field-head", "head", tr("Last digits on its sticker"), wrap=False)
        head.setBuddy(self.field)
        row = QHBoxLayout()
        row.addWidget(head)
        row.addWidget(self.field, 1)
        row.addWidget(self.take)
        self.body.addWidget(self.picture, 1)
        self.body.addLayout(row)
        self.body.addWidget(self.keys)
        digits = QGridLayout(self.keys)
        digits.setContentsMargins(0, 0, 0, 0)
        for number, digit in enumerate("1234567890"):
            pressed = key_button(f"change-{digit}", digit)
            pressed.clicked.connect(partial(self._add, digit))
            digits.addWidget(pressed, 0, number)
        self.field.returnPressed.connect(self._try)
        self.take.clicked.connect(lambda _checked=False: self._try())

    def fill(self, view: UnitView) -> None:
        before = self.context.in_hand
        words = tr("Leave {away} where it is, it may be live. Take {take}.") if before.left_live else ""
        said = (words or tr("Put {away} away, take {take}.")).format(away=before.mark, take=view.mark)
        self.say.setText(said)
        self.reason.setText(tr("Scan the tag of the unit in your hand, or type the last digits that stand on it."))
        self.reason.show()
        self.picture.show_picture(
            ShelfMarkPicture(words=said, away=before.mark, take=view.mark, title=f"{view.title}, {view.lot}")
        )
        self.field.clear()

    def draft(self) -> Mapping[str, Any]:
        return {}

    def _add(self, digit: str, _checked: bool = False) -> None:
        self.field.setText(self.field.text() + digit)
        self.field.setFocus()

    def _try(self) -> None:
        """Take the unit in hand where its mark ends so."""
        typed, mark = self.field.text(), self.unit.mark
        if is_end_of(typed, mark, self.context.in_hand.mark):
            self.going.emit("in hand")
            return
        self.field.clear()
        if not typed.strip():
            words = tr("Type what stands at the end of the mark on the unit in your hand, {count} signs.")
            self.complained.emit(words.format(count=len(last_signs(mark))))
        else:
            words = tr("“{typed}” is not the end of {unit}. Look at the sticker of the unit in your hand.")
            self.complained.emit(words.format(typed=typed.strip(), unit=mark))

    def hints(self) -> Sequence[Hint]:
        return (
            hint("enter", tr("it is in hand"), placed=True),
            hint("back", tr("stay with {unit}").format(unit=self.context.in_hand.mark)),
        )
