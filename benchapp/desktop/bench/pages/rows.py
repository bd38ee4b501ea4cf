"""A page that is worked as a list of rows: Enter takes the row at hand, a digit or a click on its cap that row.

The first click beside a cap takes the row in hand, the second one takes it as Enter does.
"""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.picturing import picture_of
from benchapp.desktop.keys import key_text
from benchapp.desktop.pictures.own_photo import with_own_photo
from benchapp.desktop.pictures.view import PictureView
from benchapp.desktop.widgets.choices import ChoiceList
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.words import tr

NARROW = 34
"""in heights of a line: below this the picture stands under the rows"""


class RowsPage(BenchPage):
    """Base of the pages that are a list, with little beside it."""

    title = ""
    """what the list is called for a screen reader"""
    numbered = True
    """whether each row shows its number and the key of that number takes it"""
    of_answers = False
    """whether a row is an answer: none is at hand before it is chosen"""
    pictured = False
    """whether a picture of what is looked at or done stands beside the rows"""

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.list = ChoiceList(context.look, f"{self.name}-list", tr(self.title), of_answers=self.of_answers)
        self.column = self._beside_picture() if self.pictured else self.body
        self.column.addWidget(self.list, 100)
        self.list.chosen.connect(self._take)
        self.list.picked.connect(self.pick)
        self.list.struck.connect(self.strike)

    def _beside_picture(self) -> QVBoxLayout:
        """The column for the rows, with the picture on its left."""
        self.picture = PictureView(self.context.look, f"{self.name}-picture")
        words = QWidget()
        column = QVBoxLayout(words)
        column.setContentsMargins(0, 0, 0, 0)
        self.body.addWidget(
            Split(self.context.look, self.picture, words, shares=(4, 5), narrow=NARROW, first_below=True), 1
        )
        return column

    def show_picture(self, row: str = "", number: int = 0) -> None:
        """Show the picture for the row of that name or number, or for the step."""
        drawn, step = picture_of(self.unit, row, number), self.unit.step
        beside = self.context.bench.path.parent
        plain = row if row.replace("-", "").isalnum() else ""
        self.picture.show_picture(with_own_photo(drawn, beside, step.address, plain) if step is not None else drawn)

    def take_focus(self) -> None:
        self.list.setFocus()

    def _take(self, number: int) -> None:
        if number >= 0 or not self.of_answers:
            self.choose(number)
        else:
            words = tr("Nothing is chosen: strike the number of a row, or go to it with {rows}, then Enter.")
            self.complained.emit(words.format(rows=key_text("rows")))

    def choose(self, number: int) -> None:
        """Take the row of that number, from 0; there may be none."""

    def pick(self, number: int) -> None:
        """A row was clicked once more."""
        self.choose(number)

    def strike(self, _row: int, key: str) -> None:
        """Another key was struck on a row."""
        if self.numbered and key.isdecimal():
            self.choose(int(key) - 1)
