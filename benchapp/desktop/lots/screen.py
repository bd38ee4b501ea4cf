"""The Lots: which lot, its board, and the ways on from it: a unit, a stage, a new lot, the tags of the whole lot."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QComboBox, QDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.backups.state_line import BackupLine
from benchapp.desktop.keys import add_action, with_key
from benchapp.desktop.lots.arranging import arranged, summary_words
from benchapp.desktop.lots.board_filter import BoardFilter
from benchapp.desktop.lots.board_view import BoardView
from benchapp.desktop.lots.first_day import FirstDay
from benchapp.desktop.lots.lot_page import LotPage
from benchapp.desktop.record.line import RecordLine
from benchapp.desktop.screen import Screen
from benchapp.desktop.widgets.hints import Hint, KeyHints, hint
from benchapp.desktop.widgets.scrolling import scrolling
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import button, hold_narrow, label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet
    from benchapp.desktop.lots.design_look import DesignLookDialog
    from benchapp.desktop.lots.list_dialog import LotListDialog
    from benchapp.desktop.lots.lot_units import LotUnitsDialog
    from benchapp.desktop.lots.new_lot import NewLotDialog
    from benchapp.desktop.lots.stage_dialog import StageDialog
    from benchapp.desktop.lots.unit_photos import UnitPhotosDialog
    from benchapp.lots.board import Board
    from benchapp.workbook.model.values import Lot


_NARROW = 90
"""width below which the search stands over the summary, in heights of a line"""


class LotsScreen(Screen):
    """The board of one lot."""

    unit_taken = Signal(str)
    stage_taken = Signal(str, str, str)
    record_asked = Signal()

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self.setObjectName("lots")
        self._context = context
        self._lots: tuple[Lot, ...] = ()
        self._behind = self._looks = False
        self._whole: Board | None = None
        self.chooser = QComboBox()
        self.chooser.setObjectName("lot-chooser")
        self.chooser.setAccessibleName(tr("Lot"))
        hold_narrow(self.chooser)
        head = label("lot-head", "head", tr("&Lot"), wrap=False)
        head.setBuddy(self.chooser)
        self.new = _button("new-lot", self.open_new_lot)
        self.tags = _button("lot-tags", self.export_tags)
        self.sweep = _button("lot-sweep", self.choose_stage)
        self.units = _button("lot-units", self.open_units)
        self.summary = label("lot-summary", "quiet")
        self.look = _button("lot-look", self.turn_look)
        self.look.setCheckable(True)
        self.filter = BoardFilter()
        self.board = BoardView(context.look)
        self.page = LotPage(context)
        self.page.hide()
        self.empty = FirstDay()
        self.empty_area = scrolling(self.empty)
        self.backup = BackupLine(context.backups, "lots")
        self.record = RecordLine(context.look, context.record, "lots")
        self.record.way.clicked.connect(lambda _checked=False: self.record_asked.emit())
        self.hints = KeyHints(context.look, "lots-hints", clicks=True)
        row = QHBoxLayout()
        row.addWidget(head)
        row.addWidget(self.chooser, 1)
        for one in (self.new, self.tags):
            row.addWidget(one)
        layout = QVBoxLayout(self)
        layout.addLayout(row)
        second = QWidget()
        beside = QHBoxLayout(second)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.addWidget(self.summary, 1)
        for one in (self.sweep, self.units, self.look):
            beside.addWidget(one)
        layout.addWidget(Split(context.look, self.filter, second, shares=(1, 1), narrow=_NARROW))
        layout.addWidget(self.empty_area, 1)
        layout.addWidget(self.board, 1)
        layout.addWidget(self.page, 1)
        layout.addWidget(self.record)
        layout.addWidget(self.backup)
        layout.addWidget(self.hints)
        context.look.changed.connect(self._give_room)
        self._name_buttons()
        self._connect()
        self.read()

    def _give_room(self) -> None:
        """Where text is so large that the board has no room, what the menus hold too gives way."""
        there, cramped = bool(self.lot()), self._context.look.cramped
        self._name_buttons()
        for part in (self.filter, self.summary, self.hints):
            part.setVisible(there)
        for way in (self.look, self.sweep, self.units):
            way.setVisible(there and not cramped)
        shown = _hints(looks=self._looks)
        self.hints.show_hints([one for one in shown if not (cramped and one.minor)])

    def _name_buttons(self) -> None:
        for one, key, words in (
            (self.new, "new lot", tr("New lot")),
            (self.tags, "lot tags", tr("Tags of the lot")),
            (self.sweep, "sweep", tr("One stage for all …")),
            (self.units, "lot units", tr("This lot …")),
            (self.look, "lot in one look", tr("The lot in one look")),
        ):
            one.setText(words if self._context.look.cramped else with_key(key, words))

    def _connect(self) -> None:
        self.chooser.currentIndexChanged.connect(self._show_lot)
        self.board.unit_taken.connect(self.unit_taken)
        self.board.typed.connect(self.filter.begin)
        self.board.order_asked.connect(self.filter.sort_by)
        self.filter.changed.connect(self._arrange)
        self.filter.search.left.connect(self._leave_search)
        self.board.stage_taken.connect(lambda stage, title: self.stage_taken.emit(self.lot(), stage, title))
        self._context.change_signals.changed.connect(self._hear)
        add_action(self, "new lot", self.open_new_lot)
        add_action(self, "lot units", self.open_units)
        add_action(self, "lot designs", self.open_design)
        add_action(self, "unit photos", self.open_photos)
        add_action(self, "lot tags", self.export_tags)
        add_action(self, "sweep", self.choose_stage)
        add_action(self, "lot in one look", self.turn_look)
        add_action(self.page, "leave look", self.turn_look)
        add_action(self, "print lot", self.print_tags)

    def lot(self) -> str:
        """The lot that is shown; empty when there is none."""
        number = self.chooser.currentIndex()
        return self._lots[number].name if 0 <= number < len(self._lots) else ""

    def mark(self) -> str:
        """The unit that the board stands at, else its first; empty where the lot has none."""
        units = self._context.bench.units(self.lot()) if self.lot() else ()
        return self.board.mark() or next((unit.mark for unit in units), "")

    def read(self, show: str = "") -> None:
        """Read the lots again; show the named one, or the one shown before."""
        wanted = show or self.lot()
        self._lots = self._context.bench.lots()
        names = [lot.name for lot in self._lots]
        self.chooser.blockSignals(True)
        self.chooser.clear()
        self.chooser.addItems(
            [
                tr("{name}: {count} of {title}").format(name=lot.name, count=lot.units, title=lot.title)
                for lot in self._lots
            ]
        )
        self.chooser.setCurrentIndex(names.index(wanted) if wanted in names else (0 if names else -1))
        self.chooser.blockSignals(False)
        self._show_lot()

    def take_focus(self, _result: int = 0) -> None:
        """Put the keyboard on the board, or where a first lot is made."""
        (self.page if self._looks else self.board if self._lots else self.new).setFocus()

    def turn_look(self) -> None:
        """From the board to the lot in one look, and back."""
        self._looks = bool(self.lot()) and not self._looks
        self._show_lot()
        self.take_focus()

    def open_new_lot(self, into: str = "") -> "NewLotDialog":
        """Ask for a new lot, or for more units of the one called `into`."""
        from benchapp.desktop.lots.new_lot import NewLotDialog

        dialog = NewLotDialog(self._context, self, into)
        dialog.taken_in.connect(self.read)
        dialog.list_asked.connect(lambda: self.open_list(into))
        dialog.print_asked.connect(self._print_stickers)
        dialog.photos_asked.connect(self.open_photos)
        self._open(dialog)
        dialog.begin()
        return dialog

    def open_list(self, into: str = "") -> "LotListDialog":
        """Ask for a lot from a list, or for more units of the one called `into`."""
        from benchapp.desktop.lots.list_dialog import LotListDialog

        dialog = LotListDialog(self._context, self, into)
        dialog.taken_in.connect(self.read)
        dialog.print_asked.connect(self._print_stickers)
        self._open(dialog)
        return dialog

    def open_units(self) -> "LotUnitsDialog | None":
        """The units of this lot: into another one, of another design, or more of them."""
        from benchapp.desktop.lots.lot_units import LotUnitsDialog

        if not self.lot():
            return None
        dialog = LotUnitsDialog(self._context, self, self.lot())
        dialog.more_asked.connect(self.open_new_lot)
        dialog.photos_asked.connect(lambda mark: self.open_photos(at_hand=mark))
        dialog.print_asked.connect(self._print)
        self._open(dialog)
        dialog.begin()
        return dialog

    def open_photos(self, marks: "Sequence[str] | None" = None, at_hand: str = "") -> "UnitPhotosDialog | None":
        """Photos of these units, of all of this lot where none are named, begun at the one at hand."""
        from benchapp.desktop.lots.unit_photos import UnitPhotosDialog

        units = list(marks or self._marks())
        if not units:
            return None
        dialog = UnitPhotosDialog(self._context, self, units, at_hand or self.board.mark())
        self._open(dialog)
        return dialog

    def open_design(self) -> "DesignLookDialog | None":
        """The designs of this lot, drawn, that of the unit at hand first."""
        from benchapp.desktop.lots.design_look import DesignLookDialog

        at_hand = self.mark()
        units = sorted(self._context.bench.units(self.lot()), key=lambda one: one.mark != at_hand) if at_hand else []
        designs = {(one.equipment, one.route): one.mark for one in reversed(units)}
        if not designs:
            return None
        shown = [(equipment, route, mark) for (equipment, route), mark in reversed(designs.items())]
        dialog = DesignLookDialog(self._context, self, shown)
        self._open(dialog)
        dialog.begin()
        return dialog

    def _open(self, dialog: QDialog) -> None:
        dialog.finished.connect(dialog.deleteLater)
        dialog.finished.connect(self.take_focus)
        dialog.open()

    def choose_stage(self) -> "StageDialog | None":
        """Ask which stage is taken across the lot."""
        from benchapp.desktop.lots.stage_dialog import StageDialog

        lot = self.lot()
        if not lot:
            return None
        dialog = StageDialog(self._context, self, lot)
        dialog.chosen.connect(lambda stage, title: self.stage_taken.emit(lot, stage, title))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()
        return dialog

    def export_tags(self) -> None:
        """The tags of every unit of the lot as PDF."""
        from benchapp.desktop.sale.tag_export import export_tags

        if units := self._marks():
            export_tags(self._context, self, units, self.lot())

    def print_tags(self) -> None:
        """The tags or stickers of every unit of the lot, to a printer."""
        if units := self._marks():
            self._print(units)

    def _print_stickers(self, units: list[str]) -> None:
        self._print(units, stickers_first=True)

    def _print(self, units: list[str], *, stickers_first: bool = False) -> None:
        from benchapp.desktop.sale.tag_export import LABELS, print_papers

        print_papers(self._context, self, units, LABELS[::-1] if stickers_first else LABELS)

    def _marks(self) -> list[str]:
        """The units of the lot."""
        return [unit.mark for unit in self._context.bench.units(self.lot())] if self.lot() else []

    def _show_lot(self, _number: int = 0) -> None:
        self._behind = False
        name = self.lot()
        there = bool(name)
        self.empty_area.setVisible(not there)
        self._looks = self._looks and there
        self.look.setChecked(self._looks)
        self._give_room()
        self.board.setVisible(there and not self._looks)
        self.page.setVisible(self._looks)
        if self._looks:
            self.page.show_lot(name)
        self._whole = self._context.bench.board(name) if there else None
        self._arrange(anew=True)

    def _arrange(self, *, anew: bool = False) -> None:
        """Show the rows of the board that are asked for; widths are made anew where the board is another."""
        before, whole, how = self.board.mark(), self._whole, self.filter.arranging()
        board = arranged(whole, how) if whole is not None else None
        self.board.board.set_board(board)
        if anew:
            self.board.fit()
        self.board.go_to(before)
        self.summary.setText(summary_words(whole, board) if whole is not None and board is not None else "")

    def _leave_search(self, entered: bool) -> None:
        """Back to the board; by Enter the one unit that is left is taken."""
        self.board.setFocus()
        mark = self.board.mark_at(0)
        if entered and mark and len(self.board.board.rows) == 1:
            self.filter.search.clear()
            self.unit_taken.emit(mark)

    def _hear(self, changes: "ChangeSet") -> None:
        """Read again what changed; while nobody looks, only remember that something did."""
        known = {lot.name for lot in self._lots}
        if changes.lots - known:
            self.read(next(iter(changes.lots - known)))
        elif self.lot() in changes.lots and self.isVisible():
            self._show_lot()
        elif self.lot() in changes.lots:
            self._behind = True

    def refresh(self) -> None:
        """Read again what another window may have changed."""
        if len(self._context.bench.lots()) != len(self._lots):
            self.read()
        else:
            self._show_lot()

    def showEvent(self, event: QShowEvent) -> None:
        if self._behind:
            self._show_lot()
        super().showEvent(event)


_BESIDE = ("heads", "another lot", "unit photos", "lot designs", "print lot", "opening")
_ON_BUTTONS = ("new lot", "sweep", "lot in one look", "lot units", "lot tags")


def _hints(*, looks: bool) -> list[Hint]:
    placed = [hint(one, placed=True) for one in _ON_BUTTONS]
    if looks:
        return [hint("leave look", tr("back to the board")), hint("rows", tr("read on")), *placed]
    taken = hint("enter", tr("take the unit, or the stage from its column head"))
    others = (hint(one, minor=True) for one in _BESIDE)
    return [taken, hint("search board"), *others, *placed]


def _button(name: str, work: Callable[[], object]) -> QPushButton:
    made = button(name, "")
    made.clicked.connect(lambda _checked=False: work())
    return made
