"""From the command to a usable window.

Paint the frame first, then open the workbook.

Until a unit is taken nothing here loads pint, numpy, yaml, pydantic, SQLAlchemy, alembic or reportlab: the board is
read from what the workbook keeps.
"""

import gc
import sys
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QSettings, QTimer
from PySide6.QtWidgets import QApplication

from benchapp.desktop.icon import program_icon
from benchapp.desktop.person import Person
from benchapp.desktop.platforms import be_sure_of_a_platform
from benchapp.desktop.recent_workbooks import RecentWorkbooks
from benchapp.desktop.theme.look import Look
from benchapp.desktop.warming import warm_up_soon
from benchapp.desktop.window import Window
from benchapp.desktop.window_place import keep_on_screen, keep_place, put_back, show_in_place
from benchapp.desktop.words import speak_language, tr
from benchapp.desktop.workshop_dialogs import ask_first_person
from benchapp.errors import BenchError
from benchapp.files.shipped import shipped_folder

if TYPE_CHECKING:
    from benchapp.actions.backups.damage import Damage


class Opening:
    """Opens the window on a workbook, step by step through the event loop."""

    def __init__(
        self,
        application: QApplication,
        workbook: Path | None,
        folders: Sequence[Path] = (),
        settings: QSettings | None = None,
    ) -> None:
        self._settings = settings if settings is not None else QSettings("benchapp", "benchapp")
        self._folders = tuple(folders)
        self._recent = RecentWorkbooks(self._settings)
        self.look = Look(application, _percent(self._settings.value("text-percent", 100)))
        if (theme := str(self._settings.value("theme", "system"))) != "system":
            self.look.set_theme(theme)
        if (contrast := str(self._settings.value("contrast", "system"))) != "system":
            self.look.set_contrast(contrast)
        self._watch(Window(self.look, Person(str(self._settings.value("initials", ""))), self._recent))
        self.look.changed.connect(lambda: QTimer.singleShot(0, self.window, partial(keep_on_screen, self.window)))
        put_back(self._settings, self.window)
        last = str(self._settings.value("workbook", ""))
        self._wanted = workbook or (Path(last) if last and Path(last).exists() else None)

    def _watch(self, window: Window) -> None:
        self.window = window
        window.welcome.asked.connect(self._open_here_or_there)
        window.close_asked.connect(self._close_workbook)
        window.closed.connect(self._keep_settings)
        window.followed_by.connect(self._follow)

    def _follow(self, window: Window) -> None:
        """The window goes on in a copy of its workbook."""
        self.window.closed.disconnect(self._keep_settings)
        self._watch(window)
        assert window.context is not None
        self._remember(window.context.bench.path)

    def _remember(self, path: Path) -> None:
        self._settings.setValue("workbook", str(path.resolve()))
        self._recent.remember(path)

    def begin(self) -> None:
        """Show the window; what it holds follows once it has been painted."""
        show_in_place(self.window)
        wanted = self._wanted
        if wanted is None:
            gc.enable()
            self.window.welcome.take_focus()
        else:
            self.window.welcome.open_soon(tr("Opening {file} …").format(file=wanted.name))
            QCoreApplication.processEvents()  # something is painted before the libraries of the workbook are loaded
            QTimer.singleShot(0, lambda: self._open(wanted, False))

    def _open_here_or_there(self, path: Path, new: bool) -> None:
        """Open what is asked for: in this window while it has no workbook, else in one that takes its place."""
        others = self.window.others
        others.folder = path.parent
        context = self.window.context
        if context is None:
            self._open(path, new)
        elif context.bench.path.resolve() == path.resolve():
            others.refuse(tr("{file} is open in this window already.").format(file=path.name))
        elif why := _why_not(path, new=new):
            others.refuse(why)
        else:
            self.window.close_for(lambda: self._go_on(lambda: self._open(path, new)))

    def _close_workbook(self) -> None:
        """Put a window that asks for a workbook in the place of this one."""

        def ask() -> None:
            self._settings.setValue("workbook", "")
            self.window.welcome.tell("")
            self.window.welcome.take_focus()

        self.window.close_for(lambda: self._go_on(ask))

    def _go_on(self, what: Callable[[], None]) -> None:
        """Show a new window in the place of the one that was closed, and go on in it."""
        before = self.window
        self._watch(Window(self.look, Person(before.person.initials), self._recent))
        put_back(self._settings, self.window)
        show_in_place(self.window)
        before.deleteLater()
        what()

    def _open(self, path: Path, new: bool) -> None:
        from benchapp.actions.workbench.bench import Bench

        try:
            bench = Bench.create(path, folders=self._folders) if new else Bench.open(path, folders=self._folders)
        except BenchError as problem:
            gc.enable()
            self._look_for_damage(path, problem)
            return
        try:
            context = self.window.open_bench(bench)
            keep_on_screen(self.window)
        except BenchError as problem:  # the file opens, and its board cannot be read
            gc.enable()
            self.window.let_go()
            self._look_for_damage(path, problem)
            return
        self._remember(path)
        if new:
            ask_first_person(context, self.window)
        context.drafts.add_text(str(self._settings.value(_drafts_of(path), "")))
        gc.enable()
        warm_up_soon(context, self.window)

    def _look_for_damage(self, path: Path, problem: BenchError) -> None:
        """Say why it does not open; of a damaged workbook also what is left of it."""
        from benchapp.actions.backups.damage import damage_of, is_damage

        if not is_damage(problem):
            self._say(problem, path)
            return
        folder = TemporaryDirectory(ignore_cleanup_errors=True)
        self.window.welcome.open_soon(tr("Looking what can be read of {file} …").format(file=path.name))

        def tell(damage: "Damage | None") -> None:
            if damage is None:
                folder.cleanup()
                self._say(problem, path)
            else:
                self._show_damage(damage, folder)

        self.window.tasks.aside(lambda _cancelled: damage_of(path, problem, Path(folder.name)), then=tell)

    def _say(self, problem: BenchError, path: Path) -> None:
        self.window.welcome.tell(problem.sentence, path)
        self.window.welcome.take_focus()

    def _show_damage(self, damage: "Damage", folder: "TemporaryDirectory[str]") -> None:
        from benchapp.desktop.backups.damaged_screen import DamagedScreen

        screen = DamagedScreen(self.window.tasks, damage, folder)
        screen.look_asked.connect(self.window.look_into)
        screen.restored.connect(lambda path: self._open(path, False))
        screen.left.connect(lambda: self.window.show_welcome(damage.path))
        self.window.closed.connect(screen.clean_up)
        self.window.show_alone(screen)

    def _keep_settings(self) -> None:
        self._settings.setValue("initials", self.window.person.initials)
        self._settings.setValue("text-percent", self.look.percent)
        self._settings.setValue("theme", self.look.theme)
        self._settings.setValue("contrast", self.look.contrast_chosen)
        keep_place(self._settings, self.window)
        context = self.window.context
        if context is not None:
            self._settings.setValue(_drafts_of(context.bench.path), context.drafts.to_text())


def _why_not(path: Path, *, new: bool) -> str:
    """Why no workbook can be opened or begun there, found out while another one is still open; empty where it can."""
    from benchapp.actions.workbench.bench import Bench

    if new:
        return tr("{file} is there already: open it, or take another name.").format(file=path.name) * path.exists()
    try:
        Bench.open(path).close(anchor=False)
    except BenchError as problem:
        return problem.sentence
    return ""


def _percent(kept: object) -> int:
    """The text size as it was kept; a setting that is no number counts as none."""
    text = str(kept)
    return int(text) if text.isdecimal() else 100


def _drafts_of(workbook: Path) -> str:
    """The key of a workbook's drafts: Qt's settings take no slash in one."""
    return "drafts/" + str(workbook.resolve()).replace("/", "|").replace("\\", "|")


def run(workbook: Path | None = None, folders: Sequence[Path] = ()) -> int:
    """Open the window and stay until it is closed; the exit code of the command.

    Raises EnvironmentProblem where the system lacks a library that Qt needs.
    """
    be_sure_of_a_platform()
    gc.disable()  # what is made while starting stays: looking it through for garbage costs a tenth of the time
    application = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(application, QApplication)
    application.setApplicationName("benchapp")
    application.setDesktopFileName("benchapp")  # by it a desktop finds entry and icon where it keeps no icon per window
    application.setWindowIcon(program_icon())
    speak_language(application, shipped_folder("resources") / "translations")
    opening = Opening(application, workbook, folders)
    sys.excepthook = _show_bugs(lambda problem: opening.window.show_bug(problem))
    opening.begin()
    return application.exec()


def _show_bugs(
    show: Callable[[BaseException], None],
) -> Callable[[type[BaseException], BaseException, TracebackType | None], None]:
    def hook(kind: type[BaseException], problem: BaseException, trace: TracebackType | None) -> None:
        sys.__excepthook__(kind, problem, trace)
        if isinstance(problem, Exception):
            show(problem)

    return hook
