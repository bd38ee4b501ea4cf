"""Why the uncertainty of a reading is what it is: one line always, and the whole budget at a key."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.sequences.planning.answer_content import ReadingContent
    from benchapp.sequences.planning.state import Evaluation


class BudgetView(QWidget):
    """The uncertainty of what stands in the field, in a line; opened, a table with a row for each source."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("reading-budget")
        self.summary = label("reading-uncertainty", "quiet")
        self.table = QWidget()
        self.table.setObjectName("reading-budget-table")
        self._grid = QGridLayout(self.table)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._cells: list[list[QLabel]] = []
        self._evaluate: Evaluation | None = None
        self._open = False
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.summary)
        layout.addWidget(self.table)
        self.total = label("reading-budget-total", "quiet")
        layout.addWidget(self.total)
        self.table.hide()
        self.total.hide()

    def show_evaluation(self, tried: "Evaluation") -> None:
        """Show the uncertainty of this answer; nothing while there is no reading."""
        self._evaluate = tried
        words = summary_words(tried)
        self.summary.setText(words)
        self.setVisible(bool(words))
        self._paint()

    def toggle(self) -> None:
        """Open or close the table."""
        self._open = not self._open
        self._paint()

    def rows(self) -> list[list[str]]:
        """What the table shows, head first."""
        return [[cell.text() for cell in row if not cell.isHidden()] for row in self._cells if not row[0].isHidden()]

    def _paint(self) -> None:
        rows = budget_rows(self._evaluate) if self._open and self._evaluate is not None else []
        self.table.setVisible(bool(rows))
        self.total.setVisible(bool(rows))
        self.total.setText(total_words(self._evaluate) if rows and self._evaluate is not None else "")
        for number, row in enumerate(rows):
            if number == len(self._cells):
                self._add_row(len(row))
            for cell, words in zip(self._cells[number], row, strict=True):
                cell.setText(words)
                cell.show()
        for cells in self._cells[len(rows) :]:
            for cell in cells:
                cell.hide()

    def _add_row(self, columns: int) -> None:
        number = len(self._cells)
        cells = [label(f"budget-{number}-{column}", "quiet", wrap=column == 0) for column in range(columns)]
        for column, cell in enumerate(cells):
            side = Qt.AlignmentFlag.AlignLeft if column in (0, 2) else Qt.AlignmentFlag.AlignRight
            self._grid.addWidget(cell, number, column, side if column else Qt.AlignmentFlag(0))
        self._grid.setColumnStretch(0, 1)
        self._cells.append(cells)


def summary_words(tried: "Evaluation") -> str:
    """Expanded uncertainty and its largest source, in a line; empty without a reading."""
    known, content = tried.uncertainty, _reading_of(tried)
    if known is None or content is None or not known.budget:
        return ""
    from benchapp.quantities.display import show_uncertainty

    largest = max(known.budget, key=lambda row: abs(row.share))
    return tr("Uncertainty ± {expanded} (k = {coverage}): {share} % from {source}").format(
        expanded=show_uncertainty(known.expanded, content.kind, unit=content.unit),
        coverage=f"{known.coverage:.2f}",
        share=f"{100 * largest.share:.0f}",
        source=largest.source,
    )


def budget_rows(tried: "Evaluation") -> list[list[str]]:
    """The whole budget: its heads, then a row for each source."""
    content = _reading_of(tried)
    if tried.uncertainty is None or content is None:
        return []
    from benchapp.judgement.uncertainty.budget_words import HEADINGS, budget_table

    table = budget_table(tried.uncertainty, content.kind, content.unit)
    lines = [[str(getattr(line, name)) for name in HEADINGS] for line in table]
    return [[tr(name) for name in HEADINGS], *lines]


def total_words(tried: "Evaluation") -> str:
    """What the sources come to."""
    from benchapp.judgement.uncertainty.budget_words import combined_words

    content = _reading_of(tried)
    if tried.uncertainty is None or content is None:
        return ""
    return combined_words(tried.uncertainty, content.kind, content.unit)


def _reading_of(tried: "Evaluation") -> "ReadingContent | None":
    """The content of a value that was read; None where nothing was."""
    from benchapp.sequences.planning.answer_content import ReadingContent

    return tried.content if tried.reading is not None and isinstance(tried.content, ReadingContent) else None
