"""The list of people: who works here, what each may do, and until when. One is added, changed, or ended."""

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QDialogButtonBox, QHBoxLayout, QLineEdit, QListWidget, QVBoxLayout, QWidget

from benchapp.actions.entries.people import add_person, keep_person, rights_words
from benchapp.desktop.person import initials_first
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, button, label, wrapping_form
from benchapp.desktop.words import tr
from benchapp.sequences.planning.people import ListedPerson, Right, has_ended

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.app_context import AppContext

RIGHTS = {
    Right.live_work: "live work: units under mains",
    Right.sign_off: "sign-off: units for sale",
    Right.supervisor: "supervisor: all of it, and these settings",
}


class PeopleDialog(AskingDialog):
    """The rows above, the person at hand below; Enter keeps what stands in the fields."""

    def __init__(self, context: "AppContext", parent: QWidget) -> None:
        super().__init__(parent, "people", tr("People"), QDialogButtonBox.StandardButton.Save)
        self._context = context
        self.rows = QListWidget()
        self.rows.setObjectName("people-rows")
        self.rows.setAccessibleName(tr("People on the list"))
        self.name, self.initials, self.until, self.reason = (QLineEdit() for _ in range(4))
        self.until.setPlaceholderText(tr("2026-12-31, or empty"))
        form = wrapping_form()
        add_rows(form, (self.name, "people-name", tr("Name")), (self.initials, "people-initials", tr("Initials")))
        self.ended = button("people-end", tr("Ends &today"))
        self.ended.clicked.connect(self._end)
        self.until.setObjectName("people-until")
        self.until.setAccessibleName(tr("Until the end of"))
        end = QHBoxLayout()
        end.addWidget(self.until)
        end.addWidget(self.ended)
        form.addRow(tr("Until the end of"), end)
        self.rights = dict(self._ticks())
        ticks = QVBoxLayout()
        for box in self.rights.values():
            ticks.addWidget(box)
        form.addRow(tr("May do"), ticks)
        add_rows(form, (self.reason, "people-reason", tr("Why it changes")))
        self.said = label("people-said", "quiet", tr("Dead work is open to everybody. Nobody is struck from the list."))
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setText(tr("Close"))
        self.lay_out(self.rows, form, self.said, wide=36)
        self.rows.currentRowChanged.connect(self._show_row)
        self._fill(0)

    def _ticks(self) -> Iterator[tuple[Right, QCheckBox]]:
        for right, words in RIGHTS.items():
            box = QCheckBox(tr(words))
            box.setObjectName(f"people-{right.replace(' ', '-')}")
            box.setAccessibleName(box.text())
            yield right, box

    def _fill(self, at: int) -> None:
        """Read the list anew, a new person last, and take the row at that place."""
        now = datetime.now(UTC).isoformat()
        self._people = self._context.bench.workshop.people
        self.rows.blockSignals(True)
        self.rows.clear()
        for row in self._people:
            ended = f" · {tr('ended')}" if has_ended(row, now) else ""
            self.rows.addItem(f"{row.initials}  {row.name} · {rights_words(row)}{ended}")
        self.rows.addItem(tr("+  a new person"))
        self.rows.blockSignals(False)
        self.rows.setCurrentRow(at)
        self._show_row(at)
        self.rows.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_row(self, at: int) -> None:
        row = self._people[at] if 0 <= at < len(self._people) else ListedPerson(name="", initials="")
        self.name.setText(row.name)
        self.initials.setText(row.initials)
        self.initials.setReadOnly(bool(row.initials))  # what was recorded under them stays theirs
        self.until.setText(row.until)
        for right, box in self.rights.items():
            box.setChecked(right in row.rights)
        self.ended.setEnabled(bool(row.initials))

    def _end(self) -> None:
        """What the person may do ends today."""
        self.until.setText(datetime.now(UTC).date().isoformat())
        self.reason.setFocus(Qt.FocusReason.OtherFocusReason)

    def go(self) -> None:
        if not self._context.person.initials:
            self.complain(initials_first())
            return
        rights = tuple(right for right, box in self.rights.items() if box.isChecked())
        row = ListedPerson(
            name=self.name.text().strip(),
            initials=self.initials.text().strip(),
            rights=rights,
            until=self.until.text().strip(),
        )
        self.complain("")
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            keep_person if self.initials.isReadOnly() else add_person,
            row,
            by=self._context.person.initials,
            reason=self.reason.text(),
            then=self._kept,
            refused=self.complain,
        )

    def _kept(self, changes: "ChangeSet") -> None:
        self.complain("")
        self.reason.clear()
        self._fill(self.rows.currentRow())
        self.said.setText(changes.words)
        self._context.change_signals.said.emit(changes.words)
