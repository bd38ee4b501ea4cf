"""The window: screens made when first gone to, who is at the bench, the unit at hand, and what was done last."""

from collections.abc import Callable
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QApplication, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from benchapp.desktop.background_tasks import BackgroundTasks
from benchapp.desktop.bench.closing import asks_before_closing
from benchapp.desktop.change_signals import ChangeSignals
from benchapp.desktop.keyboard import Keyboard
from benchapp.desktop.menu_bar import MenuBar
from benchapp.desktop.opening_key import show_opening
from benchapp.desktop.other_workbooks import OtherWorkbooks
from benchapp.desktop.person import Person
from benchapp.desktop.recent_workbooks import RecentWorkbooks
from benchapp.desktop.screen import Screen
from benchapp.desktop.taking_back import TakingBackLast
from benchapp.desktop.theme.look import Look
from benchapp.desktop.top_bar import SCREENS, TopBar
from benchapp.desktop.waits import WaitsLine
from benchapp.desktop.welcome import WelcomePage
from benchapp.desktop.widgets.room import resize_on_screen
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.window_actions import add_window_actions, is_shown
from benchapp.desktop.window_dialogs import show_keys, show_record
from benchapp.desktop.words import tr
from benchapp.desktop.workbook_place import WorkbookPlace
from benchapp.desktop.workshop_dialogs import say_unlisted
from benchapp.errors import BenchError

if TYPE_CHECKING:
    from benchapp.actions.workbench.bench import Bench
    from benchapp.desktop.app_context import AppContext
    from benchapp.desktop.backups.screen import BackupsScreen
    from benchapp.desktop.bench.screen import BenchScreen
    from benchapp.desktop.bug_dialog import BugDialog
    from benchapp.desktop.lots.screen import LotsScreen
    from benchapp.desktop.record.dialog import RecordDialog
    from benchapp.desktop.sale.screen import SaleScreen

OneScreen = TypeVar("OneScreen", bound="LotsScreen | BenchScreen | SaleScreen | BackupsScreen")


class Window(QMainWindow):
    """One window on one workbook."""

    closed = Signal()
    followed_by = Signal(object)
    """another window goes on where this one closes: in a copy of a workbook whose file is gone"""
    close_asked = Signal()
    """the workbook is to be closed, and another one asked for"""

    def __init__(self, look: Look, person: Person, recent: RecentWorkbooks | None = None) -> None:
        super().__init__()
        self.setObjectName("window")
        self.setWindowTitle(tr("Repair bench"))
        self.look, self.person = look, person
        self.change_signals = ChangeSignals()
        self.tasks = BackgroundTasks(self.change_signals)
        self._context: AppContext | None = None
        self._screens: dict[str, Screen] = {}
        self._bug: BugDialog | None = None
        self.taking_back = TakingBackLast(self, lambda: self._context, self._bench_in_use)
        self.keyboard = Keyboard(self, self._scanner, self.change_signals.said.emit)
        self.place = WorkbookPlace(self, self.tasks, self.change_signals)
        self.place.go_on_in.connect(self._go_on_in)
        self.welcome = WelcomePage()
        self.stack = QStackedWidget()
        self.stack.addWidget(self.welcome)
        self.said = label("said", "quiet")
        self.said.setAccessibleName(tr("What was done last"))
        self.waits = WaitsLine(self.take_unit)
        self.others = OtherWorkbooks(self, recent or RecentWorkbooks())
        self.welcome.offer(self.others)
        self.menus = MenuBar(self, self.others.recent)
        self.menus.is_open = lambda: self._context is not None
        self.menus.is_marked = partial(is_shown, look, self.stack)
        self.menus.recent_asked.connect(lambda path: self.others.asked.emit(path, False))
        self.bar = TopBar(look, person, self.menus)
        self._lay_out()
        add_window_actions(self, look, lambda: self._context, self._own_works(), self.take_unit)
        self.change_signals.said.connect(self.said.setText)
        self.tasks.bug.connect(self.show_bug)
        resize_on_screen(self, QSize(1200, 800))

    def _own_works(self) -> dict[str, Callable[[], object]]:
        """What the keys do that are about this window alone."""
        return {
            **{name: partial(self.go_to, name) for name in (*SCREENS, "backups")},
            "initials": self.bar.to_initials,
            "withdraw": lambda: self.taking_back.ask(),
            "opening": self.show_opening,
            "back up now": self._back_up,
            "copy": self.place.ask_copy,
            "check record": self.show_record,
            "open workbook": self.others.ask_open,
            "new workbook": self.others.ask_new,
            "close": self.close_workbook,
        }

    def _lay_out(self) -> None:
        self.bar.screen_asked.connect(self.go_to)
        self.bar.keys_asked.connect(partial(show_keys, self, self.look))
        self.bar.left.connect(lambda: self._shown().take_focus())
        self.person.arrived.connect(lambda initials: say_unlisted(self.context, initials))
        middle = QWidget()
        layout = QVBoxLayout(middle)
        layout.setContentsMargins(10, 8, 10, 6)
        layout.setSpacing(6)
        layout.addWidget(self.bar)
        layout.addWidget(self.place.notice)
        layout.addWidget(self.stack, 1)
        layout.addWidget(self.waits)
        layout.addWidget(self.said)
        self.setCentralWidget(middle)

    @property
    def context(self) -> "AppContext | None":
        """The opened workbook with what its screens share; None before there is one."""
        return self._context

    def open_bench(self, bench: "Bench") -> "AppContext":
        """Show the lots of an opened workbook; the window closes it when it is closed itself."""
        from benchapp.desktop.app_context import AppContext
        from benchapp.desktop.backups.keeper import BackupKeeper
        from benchapp.desktop.photo_folder import PhotoFolder
        from benchapp.desktop.record.keeper import RecordKeeper

        self._context = AppContext(
            bench=bench,
            look=self.look,
            change_signals=self.change_signals,
            tasks=self.tasks,
            person=self.person,
            backups=BackupKeeper(bench, self.tasks, self.change_signals),
            record=RecordKeeper(bench, self.tasks),
            photo_folder=PhotoFolder(self.others.recent.settings),
        )
        title = tr("For looking only: {file}") if bench.looks_only else tr("Repair bench: {file}")
        self.setWindowTitle(title.format(file=bench.path.name))
        self.place.begin(bench)
        self.bar.open(is_open=True)
        self.go_to("lots")
        self._context.backups.page_asked.connect(partial(self.go_to, "backups"))
        self._context.backups.failed.connect(self.change_signals.said)
        self._context.begin()
        self.waits.begin(self._context)
        return self._context

    def let_go(self) -> None:
        """Close a workbook whose board could not be shown."""
        if self._context is not None:
            self._context.stop()
            with suppress(BenchError):
                self._context.bench.close(anchor=False)
        self._context = None
        self.bar.open(is_open=False)

    def show_alone(self, screen: Screen) -> None:
        """Show a screen that needs no workbook."""
        self.stack.addWidget(screen)
        self.stack.setCurrentWidget(screen)
        screen.take_focus()

    def show_welcome(self, path: Path) -> None:
        """Ask for another workbook than that one."""
        self.welcome.tell("", path)
        self.stack.setCurrentWidget(self.welcome)
        self.welcome.take_focus()

    @property
    def lots(self) -> "LotsScreen":
        """The board."""
        from benchapp.desktop.lots.screen import LotsScreen

        return self._screen("lots", LotsScreen, self._follow_lots)

    @property
    def bench(self) -> "BenchScreen":
        """The bench."""
        from benchapp.desktop.bench.screen import BenchScreen

        return self._screen("bench", BenchScreen, self._follow_bench)

    @property
    def sale(self) -> "SaleScreen":
        """The sale table."""
        from benchapp.desktop.sale.screen import SaleScreen

        return self._screen("sale", SaleScreen, lambda sale: sale.unit_taken.connect(self._settle_unit))

    @property
    def backups(self) -> "BackupsScreen":
        """The backups."""
        from benchapp.desktop.backups.screen import BackupsScreen

        return self._screen("backups", BackupsScreen, self._follow_backups)

    def go_to(self, name: str) -> None:
        """Show a screen, "lots", "bench", "sale" or "backups", after asking where a live unit would be left."""
        on_bench = "bench" in self._screens and self.stack.currentWidget() is self.bench
        if on_bench and name != "bench":
            self.bench.watch.leave(partial(self._show_screen, name))
        else:
            self._show_screen(name)

    def _show_screen(self, name: str) -> None:
        """Show it, and put the keyboard in it."""
        if self._context is None or not self.place.is_there():
            return
        screen: Screen = getattr(self, name)
        self.stack.setCurrentWidget(screen)
        self.bar.show_screen(name)
        screen.take_focus()

    def _screen(self, name: str, kind: type[OneScreen], connect: Callable[[OneScreen], object]) -> OneScreen:
        """The screen of that kind, made and connected when it is first asked for."""
        if name not in self._screens:
            assert self._context is not None
            made = kind(self._context)
            connect(made)
            self._screens[name] = made
            self.stack.addWidget(made)
        known = self._screens[name]
        assert isinstance(known, kind)
        return known

    @property
    def holds_answer(self) -> bool:
        """Whether an answer was given that is recorded when its time is over."""
        return "bench" in self._screens and self.bench.holding.holds

    def _bench_in_use(self) -> "BenchScreen | None":
        """The bench, where it was ever shown."""
        return self.bench if "bench" in self._screens else None

    def _follow_lots(self, lots: "LotsScreen") -> None:
        lots.unit_taken.connect(self.take_unit)
        lots.stage_taken.connect(self.take_stage)
        lots.record_asked.connect(self.show_record)

    def _follow_bench(self, bench: "BenchScreen") -> None:
        bench.navigation.left.connect(lambda: self.go_to("lots"))
        self.keyboard.follow(bench)
        bench.navigation.arrived.connect(self.waits.see)
        bench.navigation.unit_changed.connect(self.bar.name_unit)
        bench.navigation.unit_asked.connect(self.take_unit)

    def _follow_backups(self, backups: "BackupsScreen") -> None:
        backups.left.connect(lambda: self.go_to("lots"))
        backups.look_asked.connect(self.look_into)

    def look_into(self, path: Path) -> "Window | None":
        """Another window on a backup, for looking alone; it closes with this one."""
        from benchapp.actions.workbench.bench import Bench

        try:
            bench = Bench.look_at(path)
        except BenchError as problem:
            self.change_signals.said.emit(problem.sentence)
            return None
        window = Window(self.look, Person(""))
        window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        window.open_bench(bench)
        self.closed.connect(window.close)
        window.show()
        return window

    def take_unit(self, mark: str) -> None:
        """Put a unit on the bench and go there."""
        if self.bench.mark == mark:
            self._show_screen("bench")
        else:
            self._put_on_bench(partial(self.bench.navigation.take_unit, mark))

    def _scanner(self) -> Callable[[str], object] | None:
        return self.bench.navigation.take_scanned if self._context and self.place.is_there() else None

    def take_stage(self, lot: str, stage: str, title: str) -> None:
        """Take one stage across a lot."""
        self._put_on_bench(partial(self.bench.navigation.take_stage, lot, stage, title))

    def _settle_unit(self, mark: str) -> None:
        self._put_on_bench(partial(self.bench.navigation.take_unit, mark, aside="outcome"))

    def _put_on_bench(self, take: Callable[[], object]) -> None:
        """Take what is chosen, after asking where a live unit would be put away for it."""

        def go() -> None:
            self._show_screen("bench")
            take()

        self.bench.watch.leave(go)

    def _back_up(self) -> None:
        if self._context is not None:
            self._context.backups.back_up()

    def show_opening(self) -> None:
        """The bench opening, beside the unit at hand."""
        if self._context is not None and self.place.is_there():
            show_opening(self._context, self, self.bench, self.lots, self.go_to)

    def show_record(self) -> "RecordDialog | None":
        """Whether the record holds, what does not, and a check of all of it."""
        return show_record(self, self._context)

    def _shown(self) -> Screen:
        shown = self.stack.currentWidget()
        assert isinstance(shown, Screen)
        return shown

    def changeEvent(self, event: QEvent) -> None:
        """Coming back to this window: another one may have written to the workbook meanwhile."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow() and self.place.is_there():
            self._shown().refresh()

    # the end, and mistakes
    def show_bug(self, problem: BaseException) -> None:
        """Show a mistake of the program, once at a time; what is a sentence for people is only said."""
        from benchapp.desktop.bug_dialog import BugDialog

        if isinstance(problem, BenchError):
            self.change_signals.said.emit(problem.sentence)
            self.place.is_there()
            return
        if self._bug is None:
            self._bug = BugDialog(problem, self)
            self._bug.finished.connect(self._forget_bug)
            self._bug.open()

    def _forget_bug(self, _result: int) -> None:
        if self._bug is not None:
            self._bug.deleteLater()
        self._bug = None

    def _go_on_in(self, path: Path) -> None:
        """Open a window on a copy of the workbook, and close this one, whose file is gone."""
        assert self._context is not None
        self._keep_draft()
        try:
            bench = self._context.bench.open_instead(path)
        except BenchError as problem:
            self.change_signals.said.emit(problem.sentence)
            return
        window = Window(self.look, Person(self.person.initials))
        window.setGeometry(self.geometry())
        window.open_bench(bench).drafts.add_text(self._context.drafts.to_text())
        window.show()
        self.followed_by.emit(window)
        self.close()

    def _keep_draft(self) -> None:
        page = self.bench.page if "bench" in self._screens else None
        if page is not None:
            page.keep_draft()

    def close_workbook(self) -> None:
        """Ask for another workbook in place of this one; a window that is for looking only, or has none, closes."""
        if self._context is None or self._context.bench.looks_only:
            self.close()
        else:
            self.close_asked.emit()

    def close_for(self, then: Callable[[], object]) -> None:
        """Close, after asking as always where a live unit would be left; `then` follows, and the program goes on."""
        if self.place.refuses_to_close() or self._asks_before(partial(self.close_for, then)):
            return
        QApplication.setQuitOnLastWindowClosed(False)
        try:
            if self.close():
                then()
        finally:
            QApplication.setQuitOnLastWindowClosed(True)

    def _asks_before(self, closing: Callable[[], object]) -> bool:
        """Whether something on the bench is asked about first; it is closed when the answer says."""
        return "bench" in self._screens and asks_before_closing(self.bench, closing)

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.place.refuses_to_close() or self._asks_before(self.close):
            event.ignore()
            return
        self._keep_draft()
        if self._context is not None:
            self._context.stop()
        self.tasks.close()
        if self._context is not None:
            self._context.bench.close()
        self.closed.emit()
        super().closeEvent(event)
