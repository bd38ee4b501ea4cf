"""Pages that scroll where text is large or the window small, and what is brought into sight in them."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QListView, QScrollArea, QScrollBar, QWidget

_EDGE = 4
"""pixels that stay free around what is brought into sight"""


def scrolling(page: QWidget) -> QScrollArea:
    """The page in an area that scrolls."""
    area = QScrollArea()
    area.setObjectName(f"{page.objectName()}-area")
    area.setWidgetResizable(True)
    area.setFrameShape(QScrollArea.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(page)
    return area


def bring_into_sight(widget: QWidget) -> None:
    """Scroll the page so that this part of it is seen, all of it where that is possible."""
    around = area_around(widget)
    if around is None:
        return
    area, page = around
    tall = widget.height() + 2 * _EDGE
    if tall > area.viewport().height():
        area.ensureWidgetVisible(widget)
        return
    middle = widget.mapTo(page, widget.rect().center())  # of a field Qt itself would show the cursor alone
    area.ensureVisible(middle.x(), middle.y(), 0, tall // 2)


def bring_row_into_sight(rows: QListView) -> None:
    """Scroll the page so that the row at hand is seen, in a list that may itself be taller than the screen."""
    around = area_around(rows)
    if around is not None:
        area, page = around
        row = rows.visualRect(rows.currentIndex())
        middle = rows.viewport().mapTo(page, row.center())
        area.ensureVisible(middle.x(), middle.y(), 0, row.height())


def read_on(words: QWidget) -> bool:
    """Scroll a page of text on where it ends below what is seen; false where its end is in sight."""
    around = area_around(words)
    if around is None:
        return False
    area, _page = around
    end = words.mapTo(area.viewport(), words.rect().bottomLeft()).y()
    if end <= area.viewport().height():
        return False
    area.verticalScrollBar().triggerAction(QScrollBar.SliderAction.SliderPageStepAdd)
    return True


def area_around(widget: QWidget) -> tuple[QScrollArea, QWidget] | None:
    """The area that a widget scrolls in and the page that fills it; None where nothing scrolls."""
    above = widget.parentWidget()
    while above is not None and not isinstance(above, QScrollArea):
        above = above.parentWidget()
    page = above.widget() if above is not None else None
    return (above, page) if above is not None and page is not None else None


def height_in_sight(widget: QWidget, least: int) -> int:
    """How many pixels of a widget are seen before anybody scrolls, at least `least`; all where nothing scrolls."""
    around = area_around(widget)
    if around is None:
        return widget.height()
    area, page = around
    seen = area.viewport().height() - widget.mapTo(page, QPoint(0, 0)).y()
    return min(widget.height(), max(seen, least))
