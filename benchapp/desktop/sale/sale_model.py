"""The sale table as Qt's tables want it: an adapter over a tuple of units."""

from PySide6.QtCore import Qt

from benchapp.desktop.theme.signs import sign_for
from benchapp.desktop.widgets.cells import SIGN_ROLE, Index
from benchapp.desktop.widgets.rows_model import RowsModel
from benchapp.desktop.words import tr
from benchapp.workbook.model.values import Unit

SETTLED = ("for sale", "spares or repair", "scrap", "keep")
"""Dispositions with which nothing is due any more."""
COLUMNS = ("Unit", "Now", "What it is", "Grade", "Price", "Due", "Lot")


class SaleModel(RowsModel[Unit]):
    """One row per unit."""

    def __init__(self) -> None:
        super().__init__([tr(name) for name in COLUMNS])

    def known_by(self, unit: Unit) -> str:
        return unit.mark

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        unit = self.rows[index.row()]
        if role == SIGN_ROLE:
            return sign_for(unit.shows) if index.column() == 1 else None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            due = "" if unit.stands in SETTLED else unit.asks
            texts = (unit.mark, tr(sign_for(unit.shows).word), unit.title, unit.grade, unit.price, due, unit.lot)
            return texts[index.column()]
        return None
