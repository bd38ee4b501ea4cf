"""What the workshop has settled for itself: region, mains, how long dead tests last, insulation tester."""

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QIntValidator
from PySide6.QtWidgets import QCheckBox, QComboBox, QDialogButtonBox, QLineEdit, QWidget

from benchapp.actions.entries.days import LONGEST_NAME, change_workshop, name_bench
from benchapp.actions.papers.dates import FORMS
from benchapp.desktop.keys import with_key
from benchapp.desktop.person import initials_first
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import add_rows, button, hold_narrow, label, wrapping_form
from benchapp.desktop.words import tr
from benchapp.judgement.limits.mains_fit import in_words

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.app_context import AppContext
    from benchapp.judgement.limits.profiles import LimitProfile
    from benchapp.sequences.planning.catalogue import Catalogue
    from benchapp.sequences.planning.planned import Workshop

DATES = {"": "year-month-day"} | {form: form for form in FORMS if form}
"""forms of dates by the setting, in words"""
LONGEST_CURRENCY = 5
"""characters of a sign or a code of ISO 4217, with some to spare (own choice)"""


class WorkshopDialog(AskingDialog):
    """Settings kept in the workbook; plans are made by them from then on."""

    people_asked = Signal()

    def __init__(self, context: "AppContext", parent: QWidget) -> None:
        super().__init__(parent, "workshop", tr("Workshop"), QDialogButtonBox.StandardButton.Save)
        self._context = context
        self._workshop = context.bench.workshop
        self.region, self.mains = QComboBox(), QComboBox()
        hold_narrow(self.region)
        hold_narrow(self.mains)
        self._limits: Mapping[str, LimitProfile] = {}
        self.bench_name = QLineEdit(context.bench.workbook.bench_name())
        self.bench_name.setMaxLength(LONGEST_NAME)
        self.days = QLineEdit(str(self._workshop.dead_tests_last_days))
        self.days.setValidator(QIntValidator(1, 366, self))
        self.lamp = QLineEdit(f"{self._workshop.largest_lamp:g}")
        self.lamp.setValidator(QIntValidator(15, 500, self))
        self.dates = QComboBox()
        hold_narrow(self.dates)
        for dated, words in DATES.items():
            self.dates.addItem(tr(words), dated)
        self.dates.setCurrentIndex(max(self.dates.findData(self._workshop.dates), 0))
        self.currency = QLineEdit(self._workshop.currency)
        self.currency.setMaxLength(LONGEST_CURRENCY)
        self.tester = QCheckBox(tr("There is an insulation tester"))
        self.tester.setChecked(self._workshop.insulation_tester)
        form = wrapping_form()
        add_rows(
            form,
            (self.region, "workshop-region", tr("Region, for limits and plugs")),
            (self.mains, "workshop-mains", tr("Mains of this place")),
            (self.days, "workshop-days", tr("Dead tests last, in days")),
            (self.lamp, "workshop-lamp", tr("Largest lamp for the lamp limiter, in W")),
            (self.currency, "workshop-currency", tr("Currency of prices, such as £")),
            (self.dates, "workshop-dates", tr("Dates on papers")),
            (self.bench_name, "workshop-bench", tr("This bench is called")),
        )
        self.tester.setObjectName("workshop-tester")
        self.tester.setAccessibleName(self.tester.text())
        form.addRow("", self.tester)  # below the fields, not below their words
        self.reason = QLineEdit()
        add_rows(form, (self.reason, "workshop-reason", tr("Why, if less is asked for than before")))
        people = button("workshop-people", with_key("people", tr("People: who may do what")))
        people.clicked.connect(self.people_asked)
        form.addRow("", people)
        without = tr(
            "Without an insulation tester, a supervisor opens limited supply unit by unit, and nothing mains-fed "
            "leaves for sale."
        )
        self.lay_out(form, label("workshop-without", "quiet", without), wide=42)

    def begin(self) -> None:
        """Read the regions off the window's thread."""
        bench = self._context.bench
        self._context.tasks.read(lambda: bench.catalogue, then=self._offer, refused=self.complain)

    def _offer(self, catalogue: "Catalogue") -> None:
        self._limits = catalogue.limits
        for profile in catalogue.regions_offered():
            self.region.addItem(f"{profile.title} ({profile.limits})", profile.limits)
        self.region.currentIndexChanged.connect(self._offer_mains)
        self.region.setCurrentIndex(self.region.findData(self._workshop.region))
        self._offer_mains()

    def _offer_mains(self, _number: int = 0) -> None:
        """Which mains the chosen region may have here: its usual one first."""
        self.mains.clear()
        profile = self._limits.get(str(self.region.currentData()))
        for number, one in enumerate(profile.supplies() if profile is not None else ()):
            self.mains.addItem(f"{one.title}: {in_words(one)}", one.title if number else "")
        self.mains.setCurrentIndex(max(self.mains.findData(self._workshop.mains), 0))

    def go(self) -> None:
        if not self._context.person.initials:
            self.complain(initials_first())
            return
        changed = replace(
            self._workshop,
            mains=str(self.mains.currentData() or ""),
            region=str(self.region.currentData() or self._workshop.region),
            dead_tests_last_days=int(self.days.text() or self._workshop.dead_tests_last_days),
            largest_lamp=float(self.lamp.text() or self._workshop.largest_lamp),
            insulation_tester=self.tester.isChecked(),
            dates=str(self.dates.currentData() or ""),
            currency=self.currency.text().strip(),
        )
        self.wait()
        self._context.tasks.do(
            self._context.bench,
            name_bench,
            self.bench_name.text(),
            by=self._context.person.initials,
            then=partial(self._change, changed),
            refused=self.complain,
        )

    def _change(self, changed: "Workshop", _named: "ChangeSet") -> None:
        self._context.tasks.do(
            self._context.bench,
            change_workshop,
            changed,
            by=self._context.person.initials,
            reason=self.reason.text(),
            then=self._changed,
            refused=self.complain,
        )

    def _changed(self, changes: "ChangeSet") -> None:
        self.accept()
        self._context.change_signals.said.emit(changes.words)
