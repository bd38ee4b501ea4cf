"""The pages of the Bench by name, each made when it is first needed."""

from collections.abc import Callable
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QScrollArea, QStackedWidget

from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.widgets.scrolling import scrolling

if TYPE_CHECKING:
    from benchapp.desktop.app_context import AppContext


class PageBook(QStackedWidget):
    """A stack of pages; `made` is told of each new one."""

    def __init__(self, context: "AppContext", made: Callable[[BenchPage], None]) -> None:
        super().__init__()
        self.setObjectName("bench-pages")
        self._context = context
        self._made = made
        self._pages: dict[str, BenchPage] = {}
        self._areas: dict[str, int] = {}
        self._ahead = QTimer(self)
        self._ahead.setInterval(0)
        self._ahead.timeout.connect(self._make_one_ahead)

    def make_ahead(self) -> None:
        """Make the pages that are still missing while nobody waits, one at a time."""
        self._ahead.start()

    def make_all(self) -> None:
        """Make the pages that are still missing at once."""
        for page in page_classes():
            self.page(page.name)

    def _make_one_ahead(self) -> None:
        missing = next((page.name for page in page_classes() if page.name not in self._pages), None)
        if missing is None:
            self._ahead.stop()
        else:
            self.page(missing)

    def page(self, name: str) -> BenchPage:
        """The page of that name."""
        if name not in self._pages:
            page = next(page for page in page_classes() if page.name == name)(self._context)
            self._pages[name] = page
            self._areas[name] = self.addWidget(scrolling(page))
            self._made(page)
        return self._pages[name]

    def unrecorded(self) -> str:
        """What was chosen on any page and would be lost with the window, in sentences; empty where nothing was."""
        return " ".join(words for page in self._pages.values() if (words := page.unrecorded()))

    def forget_unrecorded(self) -> None:
        """It may be lost."""
        for page in self._pages.values():
            page.forget_unrecorded()

    def turn_to(self, name: str) -> BenchPage:
        """Show the page of that name, from its top."""
        page = self.page(name)
        self.setCurrentIndex(self._areas[name])
        area = self.currentWidget()
        assert isinstance(area, QScrollArea)
        area.verticalScrollBar().setValue(0)
        return page


@cache
def page_classes() -> tuple[type[BenchPage], ...]:
    """The class of every page: each that has a name of its own, in any module of `pages`."""
    from benchapp.desktop.bench import pages

    modules = [import_module(f"{pages.__name__}.{found.name}") for found in iter_modules(pages.__path__)]
    classes = (value for module in modules for value in vars(module).values() if isinstance(value, type))
    named = (one for one in classes if issubclass(one, BenchPage) and "name" in vars(one) and one is not BenchPage)
    return tuple(dict.fromkeys(named))
