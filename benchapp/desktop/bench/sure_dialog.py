"""Asked before a unit goes out of use for good, and before that is put right: why."""

from collections.abc import Callable

from PySide6.QtWidgets import QDialogButtonBox, QWidget

from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import field, label, plain_row, wrapping_form
from benchapp.desktop.words import tr

LAST = 2
"""characters of the mark that are typed: units of a lot differ in these"""
_WIDE = 34


class SureDialog(AskingDialog):
    """Hands the reason to `then` once the end of this unit's mark stands before it; by itself it fills in nothing."""

    def __init__(self, parent: QWidget, mark: str, title: str, words: str, then: Callable[[str], object]) -> None:
        super().__init__(parent, "sure", title, QDialogButtonBox.StandardButton.Ok)
        self._end, self._then = mark[-LAST:], then
        asked = tr("The last {count} signs of its mark, {mark}").format(count=len(self._end), mark=mark)
        self.end, self.why = field("sure-end", asked), field("sure-why", tr("Why"))
        self.end.setMaxLength(LAST)
        form = wrapping_form()
        for one in (self.end, self.why):
            form.addRow(one.accessibleName(), one)
            plain_row(form, one)
        self.lay_out(label("sure-words", "", words), form, wide=_WIDE)
        self.end.setFocus()

    def go(self) -> None:
        if self.end.text().strip().casefold() != self._end.casefold():
            self.complain(tr("That is not the end of its mark: look at the tag on the unit in front of you."))
            self.end.setFocus()
            self.end.selectAll()
        elif not self.why.text().strip():
            self.complain(tr("Say why: it stays on its record."))
            self.why.setFocus()
        else:
            self.accept()
            self._then(self.why.text().strip())
