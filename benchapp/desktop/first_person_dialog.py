"""Who begins a new workbook, and where: name and initials of its first person, its supervisor; the region."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QComboBox, QDialogButtonBox, QLineEdit, QWidget

from benchapp.actions.entries.people import enter_first_person
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, hold_narrow, label, wrapping_form
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.app_context import AppContext
    from benchapp.sequences.planning.catalogue import Catalogue


class FirstPersonDialog(AskingDialog):
    """Asked once, when a workbook is begun. Closed without an answer, the list of people stays empty."""

    def __init__(self, context: "AppContext", parent: QWidget) -> None:
        super().__init__(parent, "first-person", tr("Who begins this workbook?"), QDialogButtonBox.StandardButton.Ok)
        self._context = context
        self.name, self.initials = QLineEdit(), QLineEdit(context.person.initials)
        self.region = QComboBox()
        hold_narrow(self.region)
        form = wrapping_form()
        add_rows(
            form,
            (self.name, "first-person-name", tr("Your name")),
            (self.initials, "first-person-initials", tr("Your initials")),
            (self.region, "first-person-region", tr("Where: its limits, plugs and mains")),
        )
        words = tr(
            "You are the supervisor of this workbook: you say who may work on units under mains and who signs them "
            "off. The list stands in the workshop's settings, and can be changed at any time."
        )
        self.lay_out(label("first-person-words", "say", words), form, wide=32)

    def begin(self) -> None:
        """Read the regions off the window's thread."""
        bench = self._context.bench
        self._context.tasks.read(lambda: bench.catalogue, then=self._offer, refused=self.complain)

    def _offer(self, catalogue: "Catalogue") -> None:
        for profile in catalogue.regions_offered():
            self.region.addItem(f"{profile.title} ({profile.limits})", profile.limits)
        self.region.setCurrentIndex(max(self.region.findData(self._context.bench.workshop.region), 0))

    def go(self) -> None:
        """Enter in a field goes to the one that is empty still."""
        initials = self.initials.text().strip()
        empty = next((one for one in (self.name, self.initials) if not one.text().strip()), None)
        if empty is not None and not empty.hasFocus():
            empty.setFocus()
            return
        self.complain("")
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            enter_first_person,
            self.name.text(),
            by=initials,
            region=str(self.region.currentData() or ""),
            then=partial(self._entered, initials),
            refused=self.complain,
        )

    def _entered(self, initials: str, changes: "ChangeSet") -> None:
        self._context.person.set_initials(initials)
        self._context.change_signals.said.emit(changes.words)
        self.accept()
