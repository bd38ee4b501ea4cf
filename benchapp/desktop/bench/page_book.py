"""The pages of the Bench by name, each made when it is first needed."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QStackedWidget

from benchapp.desktop.bench.page import BenchPage, scrolling

if TYPE_CHECKING:
    from benchapp.desktop.desk import Desk


class PageBook(QStackedWidget):
    """A stack of pages; `made` is told of each new one."""

    def __init__(self, desk: "Desk", made: Callable[[BenchPage], None]) -> None:
        super().__init__()
        self.setObjectName("bench-pages")
        self._desk = desk
        self._made = made
        self._pages: dict[str, BenchPage] = {}
        self._areas: dict[str, int] = {}

    def page(self, name: str) -> BenchPage:
        """The page of that name."""
        if name not in self._pages:
            page = _page_class(name)(self._desk)
            self._pages[name] = page
            self._areas[name] = self.addWidget(scrolling(page))
            self._made(page)
        return self._pages[name]

    def turn_to(self, name: str) -> BenchPage:
        """Show the page of that name, from its top."""
        page = self.page(name)
        self.setCurrentIndex(self._areas[name])
        return page

    def made_pages(self) -> tuple[BenchPage, ...]:
        """The pages that have been needed so far."""
        return tuple(self._pages.values())


def _page_class(name: str) -> type[BenchPage]:
    from benchapp.desktop.bench.pages import asking, checks, conditions, faults, mishaps, opening, outcome, reading

    classes: tuple[type[BenchPage], ...] = (
        checks.InspectPage,
        checks.WorkPage,
        checks.SetUpPage,
        reading.ReadingPage,
        asking.AskPage,
        asking.WaitPage,
        asking.ComputePage,
        asking.PhotoPage,
        conditions.CautionPage,
        conditions.MeterPage,
        conditions.ShutPage,
        faults.FaultPage,
        faults.RepairPage,
        mishaps.HazardPage,
        mishaps.EventPage,
        opening.OpeningPage,
        outcome.OutcomePage,
    )
    return next(page for page in classes if page.name == name)
