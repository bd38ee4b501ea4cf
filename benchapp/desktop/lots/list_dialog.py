"""A lot from a list: a CSV, XLSX or ODS file is read, every line's complaint shown, and taken in when it is right.

Reading takes nothing in. Lines that are wrong stay out only where the person says so.
"""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QDialogButtonBox, QFileDialog, QLineEdit, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, button, label, wrapping_form
from benchapp.desktop.words import tr
from benchapp.words import shown

if TYPE_CHECKING:
    from benchapp.actions.exchange.lot_files import DryRun
    from benchapp.actions.workbench.change_set import ChangeSet


class LotListDialog(AskingDialog):
    """Asks for a list of units; stays open until its units are on disk."""

    taken_in = Signal(str)
    """the name of the new lot"""
    print_asked = Signal(list)
    """the marks of units whose stickers are to be printed"""

    def __init__(self, context: AppContext, parent: QWidget, into: str = "") -> None:
        title = tr("More units for {lot}, from a list").format(lot=into) if into else tr("A lot from a list")
        super().__init__(parent, "lot-list", title, QDialogButtonBox.StandardButton.Ok)
        self._context, self._into = context, into
        self._found: DryRun | None = None
        self._printing = False
        self.path, self.name, self.initials = QLineEdit(), QLineEdit(into), QLineEdit(context.person.initials)
        self.name.setReadOnly(bool(into))
        self.browse = button("lot-list-browse", tr("Look for a list …"))
        self.summary, self.lines = label("lot-list-summary", "say"), label("lot-list-lines", "quiet")
        self.right_only = QCheckBox(tr("Take in the lines that are right, leave the others out"))
        self.right_only.setObjectName("lot-list-right-only")
        self.right_only.setAccessibleName(self.right_only.text())
        self.right_only.hide()
        self.take_in = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.take_in.setObjectName("lot-list-take-in")
        self.take_in.setText(tr("Look at the list"))
        self.and_print = self.key_button("lot-list-and-print", "list and print", self._go_and_print)
        self.and_print.setEnabled(False)
        self.buttons.addButton(self.and_print, QDialogButtonBox.ButtonRole.ActionRole)
        form = wrapping_form()
        add_rows(form, (self.path, "lot-list-path", tr("File: CSV, XLSX or ODS")))
        form.addRow("", self.browse)
        add_rows(
            form,
            (self.name, "lot-list-name", tr("Name of the lot")),
            (self.initials, "lot-list-initials", tr("Your initials")),
        )
        self.columns = self._columns()
        self.lay_out(form, self.columns, self.summary, self.right_only, self.lines, wide=42)
        self.browse.clicked.connect(self._browse)
        self.path.textChanged.connect(lambda _text: self._forget())
        self.right_only.toggled.connect(lambda _on: self._offer())

    def _columns(self) -> QWidget:
        from benchapp.lots.listed_units import DESIGN, KNOWN, MARK, NOT_KNOWN_YET, ROUTE

        words = tr(
            "The first line names the columns. {mark} and {design} must be there; a design that nobody knows is "
            "“{unknown}”. There may be: {others}."
        )
        others = ", ".join((ROUTE, *KNOWN))
        said = words.format(mark=MARK, design=DESIGN, unknown=NOT_KNOWN_YET, others=others)
        return label("lot-list-columns", "quiet", said)

    def _browse(self) -> None:
        kinds = tr("Lists of units (*.csv *.xlsx *.ods)")
        path, _kind = QFileDialog.getOpenFileName(self, tr("Look for a list"), "", kinds)
        if path:
            self.path.setText(path)
            self.go()

    def _forget(self) -> None:
        """Another file: what was found in the one before holds no longer."""
        self._found = None
        self.summary.clear()
        self.lines.clear()
        self.right_only.setChecked(False)
        self.right_only.hide()
        self.columns.show()
        self.complain("")
        self.take_in.setText(tr("Look at the list"))
        self._offer()

    def _go_and_print(self) -> None:
        self._printing = True
        self._take_in()

    def go(self) -> None:
        if self._found is None:
            self._look()
        else:
            self._take_in()

    def _look(self) -> None:
        from benchapp.actions.exchange.lot_files import try_lot_file

        path = Path(self.path.text().strip()).expanduser()
        if not self.path.text().strip():
            self.complain(tr("Choose the file with the list first."))
            self.path.setFocus()
            return
        if not self.name.text().strip():
            self.name.setText(path.stem)
        self.wait()
        bench = self._context.bench
        self._context.tasks.read(lambda: try_lot_file(bench, path), then=self._show, refused=self.complain)

    def _show(self, found: "DryRun") -> None:
        self._found = None if found.head else found
        self.complain("\n".join(map(shown, found.head)))
        if found.head:
            return
        self.columns.hide()  # what was found stands in its place, in sight
        right = tr("{count} unit(s) (is|are) right.", "", len(found.units)).format(count=len(found.units))
        wrong = tr("{count} line(s) (is|are) not.", "", len(found.wrong)).format(count=len(found.wrong))
        self.summary.setText(f"{right} {wrong} {tr('Nothing is taken in yet.')}")
        line = tr("Line {line}: {why}")
        self.lines.setText(
            "\n".join(line.format(line=one.line, why=" ".join(map(shown, one.why))) for one in found.wrong)
        )
        self.right_only.setVisible(bool(found.wrong and found.units))
        self.take_in.setText(tr("Take in the lot"))
        self._offer()
        self.fit()

    def _offer(self) -> None:
        found = self._found
        ready = found is not None and bool(found.units) and (not found.wrong or self.right_only.isChecked())
        self.take_in.setEnabled(ready or found is None)
        self.and_print.setEnabled(ready)

    def _take_in(self) -> None:
        from benchapp.actions.entries.intake import take_in_units

        assert self._found is not None
        self._context.person.set_initials(self.initials.text())
        for field, words in (
            (self.name, tr("Give the lot a name.")),
            (self.initials, tr("Type your initials: they stand under what you record.")),
        ):
            if not field.text().strip():
                self._printing = False
                field.setFocus()
                self.complain(words)
                return
        self.complain("")
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            take_in_units,
            name=self.name.text().strip(),
            units=self._found.units,
            more=bool(self._into),
            by=self._context.person.initials,
            then=self._done,
            refused=self._refused,
        )

    def _refused(self, sentence: str) -> None:
        self._printing = False
        self.complain(sentence)

    def complain(self, sentence: str) -> None:
        self._offer()
        super().complain(sentence)

    def _done(self, changes: "ChangeSet") -> None:
        self.taken_in.emit(self.name.text().strip())
        self.accept()
        if self._printing:
            self.print_asked.emit(sorted(changes.units))
