"""Finds a unit by its shelf mark or the code of its tag, wherever one is."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QDialogButtonBox, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.scanning.codes import unit_of_code
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, field, wrapping_form
from benchapp.desktop.words import tr


class FindDialog(AskingDialog):
    """Asks for a mark; the last digits are enough where they name one unit."""

    found = Signal(str)
    """the mark of the unit"""

    def __init__(self, context: AppContext, parent: QWidget) -> None:
        super().__init__(parent, "find", tr("Find a unit"), QDialogButtonBox.StandardButton.Ok)
        self._context = context
        self.mark = field("find-mark")
        form = wrapping_form()
        add_rows(form, (self.mark, "find-mark", tr("Mark, its last digits, or the code of its tag")))
        self.lay_out(form, wide=30)
        self.mark.setFocus()

    def go(self) -> None:
        typed = self.mark.text().strip()
        marks = self._named(typed)
        if len(marks) == 1:
            self.accept()
            self.found.emit(marks[0])
        elif marks:
            listed = ", ".join(marks[:6]) + (" …" if len(marks) > 6 else "")
            self.complain(tr("These all end so: {marks}. Type more of the mark.").format(marks=listed))
        else:
            self.complain(tr("No unit of this workbook has a mark that ends in “{typed}”.").format(typed=typed))

    def take_burst(self, text: str) -> bool:
        """Find the unit whose tag was scanned here."""
        self.mark.setText(" ".join(text.split()))
        self.go()
        return True

    def _named(self, typed: str) -> list[str]:
        """The unit whose mark or code this is, else all whose marks end so."""
        bench = self._context.bench
        whole = unit_of_code(bench, typed)
        if whole:
            return [whole]
        end = typed.casefold()
        return [one.mark for one in bench.units() if end and one.shelf_mark.casefold().endswith(end)]
