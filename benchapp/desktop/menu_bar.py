"""The menu bar: every menu is filled from the table of keys when it is opened, with what can be done now.

It stands in the bar at the top and takes no height of its own. Where the window is narrow it folds into one menu.
"""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QObject, QSize, Signal
from PySide6.QtWidgets import QLineEdit, QMenu, QMenuBar, QPlainTextEdit, QSizePolicy, QWidget

from benchapp.desktop.keys import ALIKE, KEYS, WINDOW, action_at_hand, native_key
from benchapp.desktop.menu_table import EDITS, LINE, MENUS, RECENT, THEME_ROWS, THEMES, WITHOUT_WORKBOOK
from benchapp.desktop.recent_workbooks import RecentWorkbooks
from benchapp.desktop.words import tr


class MenuBar(QMenuBar):
    """The menus of one window, whose actions do the work."""

    recent_asked = Signal(object)
    """the path of one of the last workbooks"""

    def __init__(self, window: QWidget, recent: RecentWorkbooks) -> None:
        super().__init__(window)
        self.setObjectName("menu-bar")
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self._window, self._recent = window, recent
        self.is_open: Callable[[], bool] = lambda: False
        """whether a workbook is open"""
        self.is_marked: Callable[[str], bool] = lambda _row: False
        """whether what a row leads to is shown already"""
        self._folded = False
        self._one = self._menu(tr("&Menu"), "menu-of-menus")
        self._menus = [self._filled(title, rows) for title, rows in MENUS]
        for menu in self._menus:
            self._one.addMenu(menu)
        self._lay_out()

    @property
    def folded(self) -> bool:
        """Whether all menus stand in one."""
        return self._folded

    def fold(self, *, folded: bool) -> None:
        """Put all menus into one, or each in the bar."""
        if folded != self._folded:
            self._folded = folded
            self._lay_out()

    def width_of(self, *, folded: bool) -> int:
        """The width of all menus side by side, or of the one."""
        metrics = self.fontMetrics()
        titles = [self._one] if folded else self._menus
        return sum(metrics.horizontalAdvance(menu.title().replace("&", "")) + metrics.height() for menu in titles)

    def _lay_out(self) -> None:
        self.clear()
        for menu in [self._one] if self._folded else self._menus:
            self.addMenu(menu)
        self.updateGeometry()

    # filling

    def _menu(self, title: str, name: str) -> QMenu:
        menu = QMenu(title, self)
        menu.setObjectName(name)
        return menu

    def _filled(self, title: str, rows: Sequence[str]) -> QMenu:
        menu = self._menu(tr(title), f"menu-{title.replace('&', '').lower()}")
        menu.aboutToShow.connect(partial(self._fill, menu, rows))
        return menu

    def _fill(self, menu: QMenu, rows: Sequence[str]) -> None:
        """What the menu holds now; what cannot be done now stands in it too, pale."""
        menu.clear()
        for child in menu.findChildren(QMenu):
            child.deleteLater()
        for row in rows:
            if row == LINE:
                menu.addSeparator()
            elif row == RECENT:
                self._add_recent(menu)
            elif row == THEMES:
                inner = menu.addMenu(tr("Colours"))
                inner.setObjectName("menu-themes")
                for theme in THEME_ROWS:
                    self._add_row(inner, theme)
            else:
                self._add_row(menu, row)

    def _add_row(self, menu: QMenu, row: str) -> None:
        known, work = self._work_of(row)
        words, key = tr(KEYS[known].words), native_key(known)
        item = menu.addAction(words[:1].upper() + words[1:] + (f"\t{key}" if key else ""))
        item.setObjectName(f"menu-item-{row}")
        if row in ("lots", "bench", "sale", "backups", *THEME_ROWS):
            item.setCheckable(True)
            item.setChecked(self.is_marked(row))
        item.setEnabled(work is not None)
        if work is not None:
            do: Callable[[], object] = work
            item.triggered.connect(lambda _checked=False: do())

    def _add_recent(self, menu: QMenu) -> None:
        inner = menu.addMenu(tr("Opened last"))
        inner.setObjectName("menu-recent")
        paths = self._recent.paths()
        for number, path in enumerate(paths, start=1):
            words = f"&{number}  {path.name}   ({path.parent})"
            item = inner.addAction(words)
            item.triggered.connect(lambda _checked=False, path=path: self.recent_asked.emit(path))
        inner.setEnabled(bool(paths))

    # doing

    def _work_of(self, row: str) -> tuple[str, Callable[[], object] | None]:
        """The row that holds where the window stands now, and what it does; None where it can do nothing."""
        rows = next((alike for alike in ALIKE if row in alike), (row,))
        if KEYS[row].where == WINDOW and row not in WITHOUT_WORKBOOK and not self.is_open():
            return row, None
        return action_at_hand(self._window, rows) or (row, self._edit(EDITS[row]) if row in EDITS else None)

    def _edit(self, name: str) -> Callable[[], object] | None:
        field: QObject | None = self._window.focusWidget()
        if not isinstance(field, QLineEdit | QPlainTextEdit):
            return None
        work: Callable[[], object] = getattr(field, name)
        return work

    def sizeHint(self) -> QSize:
        """As wide as its menus: Qt's own hint takes the width of the window."""
        return QSize(self.width_of(folded=self._folded), super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """As wide as the one menu: a window may become so narrow."""
        return QSize(self.width_of(folded=True), super().sizeHint().height())
