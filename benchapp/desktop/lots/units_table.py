"""The units that are about to come in, a row each: what holds for all of a group stands in every row, and each changes.

A cell that is empty is as for the whole lot. Design and route stand; who erred there takes the row out.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QTableWidget, QTableWidgetItem

from benchapp.desktop.words import tr
from benchapp.lots.listed_units import DESIGN, KNOWN, MARK, ROUTE

COLUMNS = (MARK, DESIGN, *KNOWN)
_KIND = Qt.ItemDataRole.UserRole
LEAST_ROWS = 3
"""rows in sight"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """A unit as it was typed: its mark, its design and route by their ids, what is known, the hazards seen."""

    mark: str
    equipment: str
    route: str
    title: str = ""
    known: Mapping[str, str] = field(default_factory=dict)
    hazards: tuple[str, ...] = ()

    def row(self, of_all: Mapping[str, str]) -> list[str]:
        """As a line of a list has it, in the order of `HEAD`; what the unit lacks is as for all."""
        known = {**of_all, **{what: text for what, text in self.known.items() if text.strip()}}
        return [self.mark, self.equipment, self.route, *(known.get(what, "") for what in KNOWN)]


HEAD = (MARK, DESIGN, ROUTE, *KNOWN)


class UnitsTable(QTableWidget):
    """Rows that are typed into; Delete takes the rows that are marked out."""

    def __init__(self) -> None:
        super().__init__(0, len(COLUMNS))
        self.setObjectName("new-lot-units")
        self.setAccessibleName(tr("Units that come in"))
        self.setHorizontalHeaderLabels([tr(name[:1].upper() + name[1:]) for name in COLUMNS])
        self.verticalHeader().hide()
        self.setTabKeyNavigation(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setMinimumHeight(self.fontMetrics().height() * 2 * (LEAST_ROWS + 1))
        self.hide()

    def add(self, arrivals: Sequence[Arrival]) -> None:
        """Put them below the others."""
        for one in arrivals:
            row = self.rowCount()
            self.insertRow(row)
            for column, what in enumerate(COLUMNS):
                text = {MARK: one.mark, DESIGN: one.title}.get(what, one.known.get(what, ""))
                item = QTableWidgetItem(text)
                if what == DESIGN:
                    item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsEditable)
                    item.setData(_KIND, (one.equipment, one.route, one.hazards))
                self.setItem(row, column, item)
        self.resizeColumnsToContents()
        self.setVisible(self.rowCount() > 0)

    def arrivals(self) -> tuple[Arrival, ...]:
        """The rows as they stand now."""
        return tuple(self._arrival(row) for row in range(self.rowCount()))

    def marks(self) -> frozenset[str]:
        """The shelf marks in it."""
        return frozenset(self._text(row, 0) for row in range(self.rowCount()))

    def take_out(self) -> None:
        """Take the marked rows out, or the one at hand."""
        rows = {index.row() for index in self.selectedIndexes()} or {self.currentRow()}
        for row in sorted(rows, reverse=True):
            if row >= 0:
                self.removeRow(row)
        self.setVisible(self.rowCount() > 0)

    def _arrival(self, row: int) -> Arrival:
        design = self.item(row, COLUMNS.index(DESIGN))
        assert design is not None
        equipment, route, hazards = design.data(_KIND)
        known = {what: self._text(row, COLUMNS.index(what)) for what in KNOWN}
        return Arrival(
            mark=self._text(row, 0),
            equipment=equipment,
            route=route,
            title=design.text(),
            known=known,
            hazards=tuple(hazards),
        )

    def _text(self, row: int, column: int) -> str:
        item = self.item(row, column)
        return item.text().strip() if item is not None else ""
