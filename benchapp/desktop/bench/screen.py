"""The Bench: one unit at a time, on the page that the engine says is due; around it what every page shows.

A page asks (`ActionRequest`), the screen hands the action to the writer thread, and when the entry is on disk the unit
is read again and the next page shown. Nothing is decided here.
"""

import gc
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QVBoxLayout

from benchapp.actions.entries.answers import withdraw_answer
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.common_hints import with_common
from benchapp.desktop.bench.finding import PendingSearch, searchable, way_back_first
from benchapp.desktop.bench.head import BenchHead
from benchapp.desktop.bench.off_key import OffKey
from benchapp.desktop.bench.page import ActionRequest, BenchPage
from benchapp.desktop.bench.page_book import PageBook
from benchapp.desktop.bench.page_routing import page_for
from benchapp.desktop.bench.sweep import Sweep, finished_words, next_open_unit
from benchapp.desktop.bench.unit_view import UnitView, view_of
from benchapp.desktop.screen import Screen
from benchapp.desktop.widgets.hints import KeyHints
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet

ASIDE = ("opening", "event", "hazard", "outcome", "meter", "search", "record", "facts")
"""Pages that a key calls up whatever is due; Esc leaves them."""
STAYING = ("outcome", "search")
"""Of these, the ones that stay when something was recorded on them."""
WITHOUT_UNIT = ("open_bench", "close_bench")
"""Actions on the whole bench."""


class BenchScreen(Screen):
    """The screen on which a unit is worked on."""

    left = Signal()
    """the person goes back to the lots"""
    unit_changed = Signal(str)
    turned = Signal(str)
    """a page has been filled and shown; its name"""

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self.setObjectName("bench")
        self._context = context
        self._mark = ""
        self._address = ""
        self._aside = ""
        self._sweep: Sweep | None = None
        self._busy = False
        self._pending = PendingSearch()
        self._view: UnitView | None = None
        self._page: BenchPage | None = None
        self.head = BenchHead(context.look)
        nothing = tr("No unit is at hand. Go to Lots (F2), choose a unit and press Enter.")
        self.empty = label("bench-empty", "say", nothing)
        self.pages = PageBook(context, self._listen_to)
        self.complaint = label("complaint", "complaint")
        self.off = OffKey(context.look)
        self.hints = KeyHints(context.look)
        layout = QVBoxLayout(self)
        layout.addWidget(self.head)
        layout.addWidget(self.empty)
        layout.addWidget(self.pages, 1)
        for widget in (self.complaint, self.off, self.hints):
            layout.addWidget(widget)
        self._show_parts(at_hand=False)
        self._bind_keys()
        context.change_signals.changed.connect(self._hear)
        context.look.changed.connect(self._show_hints)

    # what the window asks
    @property
    def mark(self) -> str:
        """The unit at hand; empty when none is."""
        return self._mark

    @property
    def view(self) -> UnitView | None:
        """What is shown of it."""
        return self._view

    @property
    def page(self) -> BenchPage | None:
        """The page that is shown."""
        return self._page

    def take_unit(self, mark: str, sweep: Sweep | None = None, *, aside: str = "") -> None:
        """Put a unit on the bench; its plan is made off the window's thread the first time."""
        self._leave_page()
        self._mark, self._address, self._aside, self._sweep = mark, "", aside, sweep
        self._pending.forget()
        self._view = self._page = None
        self.empty.setText(tr("Putting {unit} on the bench …").format(unit=mark))
        self._show_parts(at_hand=False)
        self.unit_changed.emit(mark)
        self._busy = True
        bench, stage = self._context.bench, sweep.stage if sweep else ""
        reading = partial(view_of, bench, mark, stage=stage)
        self._context.tasks.read(reading, then=self._arrive, refused=self._not_arrived)

    def take_stage(self, lot: str, stage: str, title: str) -> None:
        """Take one stage across the lot, beginning with the first unit that waits for it."""
        sweep = Sweep(lot=lot, stage=stage, title=title)
        first = sweep.next_unit(self._context.bench.board(lot))
        if first is None:
            words = tr("No unit of {lot} waits for {stage}.").format(lot=lot, stage=title)
            self._context.change_signals.said.emit(words)
            self.left.emit()
        else:
            self.take_unit(first, sweep)

    def take_focus(self) -> None:
        """Put the keyboard where the next key belongs."""
        if self._page is not None:
            self._page.take_focus()
        else:
            self.setFocus()

    # pages
    def _arrive(self, view: UnitView) -> None:
        self._busy = False
        if view.mark == self._mark:
            self._show(view)
            self.pages.make_ahead()
            gc.freeze()  # what the unit's plan has loaded stays: no page turn has to wait while it is looked through

    def _not_arrived(self, sentence: str) -> None:
        self._busy = False
        self._mark = ""
        self.unit_changed.emit("")
        self.empty.setText(sentence)

    def _show(self, view: UnitView) -> None:
        """Show the unit on the page that is due, or on the one that a key called up."""
        self._view = view
        name = self._aside or page_for(view)
        page = self.pages.page(name)
        self.complaint.clear()
        self.complaint.hide()
        self.head.show_unit(view, self._sweep.title if self._sweep else "")
        page.show_unit(view)
        self._page = page
        self._show_parts(at_hand=True)
        self.off.setVisible(view.live)
        self.pages.turn_to(name)
        self._show_hints()
        page.take_focus()
        self.turned.emit(name)

    def _turn(self) -> None:
        """Read the unit again and show what is due now."""
        if not self._mark:
            return
        stage = self._sweep.stage if self._sweep and not self._aside else ""
        view = view_of(self._context.bench, self._mark, stage=stage, address=self._address)
        search = "" if self._aside else self._pending.turn(view)
        if search == "way back":
            self._view = view
            self._go_the_way_back()
            return
        self._aside = search or self._aside
        if self._sweep is not None and not self._aside and self._stage_is_over(view):
            self._next_unit()
        else:
            self._show(view)

    def _stage_is_over(self, view: UnitView) -> bool:
        """Whether this unit has nothing more to give to the sweep: its stage is over or waits, and it is dead."""
        return not view.state.energised and str(view.state.due.kind) in ("finished", "repair", "held")

    def _show_parts(self, *, at_hand: bool) -> None:
        self.empty.setVisible(not at_hand)
        for part in (self.head, self.pages, self.hints):
            part.setVisible(at_hand)
        if not at_hand:
            self.complaint.hide()
            self.off.hide()

    def _listen_to(self, page: BenchPage) -> None:
        page.wished.connect(self._carry_out)
        page.going.connect(self._go)
        page.complained.connect(self._complain)
        page.hints_changed.connect(self._show_hints)

    def _show_hints(self) -> None:
        if self._page is None:
            return
        self.hints.show_hints(with_common(tuple(self._page.hints()), cramped=self._context.look.cramped))

    def _complain(self, sentence: str) -> None:
        if sentence != self.complaint.text():
            self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))

    # doing
    def _carry_out(self, request: ActionRequest) -> None:
        """Hand the action of a page to the writer; one at a time, and nothing without initials."""
        if self._busy:
            return
        by = self._context.person.initials
        if not by:
            self._complain(tr("Say whose work this is first: type your initials at the top of the window (F7)."))
            return
        self._busy = True
        page = self._page
        args = () if request.action.__name__ in WITHOUT_UNIT else (self._mark,)
        who = {"supervisor": by} if request.action.__name__ == "open_supervised" else {"by": by}
        self._context.tasks.do(
            self._context.bench,
            request.action,
            *args,
            *request.args,
            **request.kwargs,
            **who,
            then=lambda changes: self._recorded(page, request, changes),
            refused=self._refused,
        )

    def _recorded(self, page: BenchPage | None, request: ActionRequest, changes: "ChangeSet") -> None:
        """It is on disk: nothing of the page has to be kept; what is due comes with the change."""
        self._busy = False
        if page is not None:
            page.drop_draft()
        self._page = None
        self._address = ""
        if self._aside not in STAYING:
            self._aside = ""
        self._context.change_signals.said.emit(request.words or tr("Last: {words}").format(words=changes.words))

    def _refused(self, sentence: str) -> None:
        self._busy = self._pending.for_reading = False
        if sentence:
            self._complain(sentence)

    def _hear(self, changes: "ChangeSet") -> None:
        """Something changed: the unit at hand is read again when it is concerned, with what was typed kept."""
        if not self._mark or self._busy:
            return
        if self._page is None or self._mark in changes.units or not changes.units:
            self._leave_page()
            self._turn()

    def _leave_page(self) -> None:
        if self._page is not None and self._page.view is not None and self._page.view.mark == self._mark:
            self._page.keep_draft()

    # going elsewhere
    def _go(self, where: str) -> None:
        """Follow a page's wish to show something else."""
        called: dict[str, Callable[[], Any]] = {
            "again": self._take_again,
            "lots": self._to_lots,
            "next": self._next_unit,
            "back": self._back,
            "due": self._to_what_is_due,
            "way back": self._go_the_way_back,
            "search": self._find_fault,
        }
        if where in ("print", "export", "sheet"):
            self._hand_out(where)
        elif where in called:
            called[where]()
        elif where in ASIDE:
            self._call_up(where)
        else:
            self._go_to_step(where)

    def _go_to_step(self, address: str) -> None:
        if self._view is None or address not in self._view.plan.by_address:
            self._complain(tr("There is no page for that here; see what the condition says."))
            return
        self._leave_page()
        self._aside, self._address = "", address
        self._turn()

    def _take_again(self) -> None:
        """Go to the step that failed, or to the reading that the page at hand doubts."""
        doubted = self._page.doubted if self._page is not None else ""
        if doubted:
            self._go_to_step(doubted)
        elif self._view is not None and self._view.state.due.address and str(self._view.state.due.kind) == "fault":
            self._go_to_step(self._view.state.due.address)

    def _call_up(self, name: str) -> None:
        if self._view is None or self._busy:
            return
        self._leave_page()
        self._aside = "" if self._aside == name else name
        self._turn()

    def _to_what_is_due(self) -> None:
        self._aside = self._address = ""
        self._turn()

    def _another_meter(self) -> None:
        if self._view is not None and self._view.state.due.meters:
            self._call_up("meter")

    def _find_fault(self) -> None:
        """Search from a failed reading; one that stands on the page is recorded first, and the way back gone."""
        if self._view is None or self._busy or self._aside == "search":
            return
        if self._page is not None and self._page.fails and not self._aside:
            self._pending.for_reading = True
            self._page.record_it()
        elif not searchable(self._view):
            self._complain(tr("No reading of this unit has failed: there is nothing to search from."))
        elif way_back_first(self._view):
            self._go_the_way_back()
        else:
            self._call_up("search")

    def _go_the_way_back(self) -> None:
        """First plug out, discharged, proved low; then the search goes on by itself."""
        from benchapp.sequences.interlock.way_back import next_step_back

        assert self._view is not None
        assert self._view.state.evaluation is not None
        step = next_step_back(self._view.state.evaluation)
        self._pending.for_way_back = True
        if step is not None:
            self._go_to_step(step.address)
        self._complain(tr("This unit may still be live: the way back first, then the search goes on."))

    def _back(self) -> None:
        """Leave a page that was called up, or a step taken again; else go back to the lots."""
        if self._aside or self._address:
            self._leave_page()
            self._aside = self._address = ""
            self._turn()
        else:
            self._to_lots()

    def _to_lots(self) -> None:
        self._leave_page()
        self.left.emit()

    def _next_unit(self) -> None:
        if self._view is None or self._busy:
            return
        if self._view.state.energised:
            self._complain(tr("This unit may still be live: the way back first, then the next unit."))
            return
        lot, sweep = self._view.lot, self._sweep
        board = self._context.bench.board(lot)
        following = sweep.next_unit(board, self._mark) if sweep else next_open_unit(board, self._mark)
        if following is not None:
            self.take_unit(following, sweep)
            return
        self._context.change_signals.said.emit(finished_words(sweep, lot))
        self._sweep = None
        self._turn()
        if sweep is not None:
            self._to_lots()

    def _withdraw(self) -> None:
        if self._view is not None:
            self._carry_out(ActionRequest(action=withdraw_answer))

    def _hand_out(self, what: str) -> None:
        """Print the unit's tag, or write tag, record sheet or pin card as PDF."""
        from benchapp.desktop.sale.tag_export import hand_out

        if self._mark:
            hand_out(self._context, self, what, self._mark)

    def _bind_keys(self) -> None:
        """The keys that work on every page; each is shown in the hints or on its button."""
        for key, work in (
            ("F12", lambda: self._call_up("hazard") if self._view and self._view.live else None),
            ("F3", self._take_again),
            ("F5", self._next_unit),
            ("F6", lambda: self._call_up("outcome")),
            ("F8", lambda: self._call_up("opening")),
            ("F9", lambda: self._call_up("event")),
            ("F10", self._find_fault),
            ("Ctrl+M", self._another_meter),
            ("Ctrl+U", lambda: self._call_up("facts")),
            ("Ctrl+H", lambda: self._call_up("record")),
            ("Ctrl+Z", self._withdraw),
            ("Ctrl+P", lambda: self._hand_out("print")),
            ("Ctrl+E", lambda: self._hand_out("export")),
            ("Ctrl+R", lambda: self._hand_out("sheet")),
            ("Ctrl+K", lambda: self._hand_out("pins")),
            ("Esc", self._back),
        ):
            shortcut = QShortcut(QKeySequence(key), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(work)
        self.off.clicked.connect(lambda: self._call_up("hazard"))
