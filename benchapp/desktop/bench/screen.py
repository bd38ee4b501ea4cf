"""The Bench: one unit at a time, on the page that the engine says is due; around it what every page shows.

A page asks (`ActionRequest`), the screen hands the action to the writer thread, and when the entry is on disk the unit
is read again and the next page shown. Nothing is decided here.
"""

import gc
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, Signal
from PySide6.QtWidgets import QVBoxLayout

from benchapp.actions.entries.faults import record_event
from benchapp.actions.entries.taking_back import take_back
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.head import BenchHead
from benchapp.desktop.bench.holding import Holding
from benchapp.desktop.bench.leaving import Watch, left_live_words
from benchapp.desktop.bench.navigation import Navigation
from benchapp.desktop.bench.off_key import OffKey, StopKey
from benchapp.desktop.bench.page import ActionRequest, BenchPage
from benchapp.desktop.bench.page_book import PageBook
from benchapp.desktop.bench.pause_dialog import ask_at_pause
from benchapp.desktop.bench.shortcuts import add_shortcuts, with_common
from benchapp.desktop.bench.unit_view import UnitView, moved_on
from benchapp.desktop.keys import key_text
from benchapp.desktop.screen import Screen
from benchapp.desktop.widgets.hints import KeyHints
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr
from benchapp.sequences.planning.entries import Event

if TYPE_CHECKING:
    from benchapp.actions.workbench.change_set import ChangeSet

WITHOUT_UNIT = ("open_bench", "close_bench")
"""Actions on the whole bench."""
BY_SUPERVISOR = ("open_supervised", "accept")
TELL_SEEN = ("record_answer", "record_repair", "set_disposition")
"""Actions that are told what was in sight: what another window gave meanwhile is not replaced unseen."""


class BenchScreen(Screen):
    """The screen on which a unit is worked on."""

    turned = Signal(str)
    """a page has been filled and shown; its name"""
    asked_anew = Signal()
    """a page that stays in sight asks another question"""
    recording = Signal(bool)
    """an answer is being recorded; false once it is, or was refused"""

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self.setObjectName("bench")
        self._context = context
        self.navigation = Navigation(context, self)
        self.head = BenchHead(context.look)
        nothing = tr("No unit is at hand. Go to Lots ({key}), choose a unit and press Enter.")
        self.empty = label("bench-empty", "say", nothing.format(key=key_text("lots")))
        self.left_live = label("bench-left-live", "off")
        self.left_live.hide()
        self.pages = PageBook(context, self._listen_to)
        self.why_here = label("why-here", "complaint")
        """why a step is shown that nobody asked for: above the page, where eyes are"""
        self.complaint = label("complaint", "complaint")
        self.holding = Holding(context)
        self.off = OffKey(context.look)
        self.stop = StopKey(context.look)
        self.live_keys = Split(context.look, self.stop, self.off, shares=(0, 1), narrow=0)  # one line where it fits
        self.watch = Watch(self, self._remind)
        self.watch.make_safe = self.navigation.make_safe
        self.watch.record_left = self._record_left
        self.hints = KeyHints(context.look)
        layout = QVBoxLayout(self)
        layout.addWidget(self.head)
        layout.addWidget(self.left_live)
        layout.addWidget(self.empty)
        layout.addWidget(self.why_here)
        layout.addWidget(self.pages, 1)
        for widget in (self.complaint, self.holding, self.live_keys, self.hints):
            layout.addWidget(widget)
        self._not_taken = ""
        """why what came last was not taken, as it was told"""
        self._show_parts(at_hand=False)
        self._connect()

    def _connect(self) -> None:
        going = self.navigation
        going.arrived.connect(self._show)
        going.unit_arrived.connect(self._make_ready)
        going.nothing_at_hand.connect(self._show_nothing)
        going.complained.connect(self._complain)
        going.told.connect(self.tell)
        going.papers_asked.connect(self._hand_out)
        going.sweep_paused.connect(partial(ask_at_pause, self, going))
        others = {"hazard": going.call_up_hazard, "meter": going.call_up_meters}
        add_shortcuts(self, going.follow, others)
        self.off.clicked.connect(going.call_up_hazard)
        self.stop.clicked.connect(lambda _checked=False: going.make_safe())
        self.holding.over.connect(self._carry_out)
        changed = tr(
            "It was changed before its time was over, and nothing is recorded yet: Enter takes it as it is now."
        )
        self.holding.overtaken.connect(lambda: self._complain(changed))
        self._context.change_signals.changed.connect(self._hear)
        self._context.person.arrived.connect(self._meet)
        self._context.look.changed.connect(self._show_hints)

    # what the window asks
    @property
    def mark(self) -> str:
        """The unit at hand; empty when none is."""
        return self.navigation.mark

    @property
    def view(self) -> UnitView | None:
        """What is shown of it."""
        return self.navigation.view

    @property
    def page(self) -> BenchPage | None:
        """The page that is shown."""
        return self.navigation.page

    def take_focus(self) -> None:
        """Put the keyboard where the next key belongs."""
        if self.page is not None:
            self.page.take_focus()
        else:
            self.left_live.setText("" if self.mark else left_live_words(self._context.bench))
            self.left_live.setVisible(bool(self.left_live.text()))
            self.setFocus()

    # what is shown
    def _show(self, view: UnitView, name: str) -> None:
        """Show the unit on the page of that name."""
        page = self.pages.page(name)
        self._complain(
            tr("{unit} is on hold: {why} Do not use it.").format(unit=view.mark, why=view.held) if view.held else ""
        )
        self.head.show_unit(view, self.navigation.sweep_title)
        page.show_unit(view)
        self._say_why_here(self.navigation.why_here)
        self.navigation.page = page
        self._show_parts(at_hand=True)
        self.watch.see(view)
        self.off.setVisible(view.may_need_off)
        self.stop.setVisible(view.on_live_page)
        self.stop.show_key(leads_here=not self.navigation.called_up)
        self.live_keys.setVisible(view.live or view.on_live_page)
        self.head.setVisible(name != "change")
        self.pages.turn_to(name)
        self._show_hints()
        page.take_focus()
        # Laid out before it is painted for the first time: else each page is painted twice.
        for _ in range(2):  # a scroll bar that goes asks for a second round
            QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
        self.turned.emit(name)

    def _say_why_here(self, why: str) -> None:
        if why != self.why_here.text():
            self.why_here.setText(why)
        self.why_here.setVisible(bool(why))

    def _make_ready(self) -> None:
        """Make the other pages while nobody waits; what the unit's plan has loaded stays."""
        self.pages.make_ahead()
        gc.freeze()  # no page turn has to wait while it is looked through for garbage

    def _show_nothing(self, why: str) -> None:
        self.empty.setText(why)
        self._show_parts(at_hand=False)

    def _show_parts(self, *, at_hand: bool) -> None:
        self.empty.setVisible(not at_hand)
        if at_hand:
            self.left_live.hide()
        self.holding.drop()
        for part in (self.head, self.pages, self.hints):
            part.setVisible(at_hand)
        if not at_hand:
            self._say_why_here("")
            self.watch.see(None)
            self.complaint.hide()
            self.live_keys.hide()

    def _listen_to(self, page: BenchPage) -> None:
        page.requested.connect(self._carry_out)
        page.going.connect(self.navigation.follow)
        page.complained.connect(self._complain)
        page.scanned.connect(self.navigation.take_scanned)
        page.taking_back.connect(self.take_back)
        page.asked_anew.connect(self.asked_anew)
        page.hints_changed.connect(self._show_hints)

    def _show_hints(self) -> None:
        if self.page is not None:
            live, cramped = self.view is not None and self.view.on_live_page, self._context.look.cramped
            self.hints.show_hints(with_common(tuple(self.page.hints()), cramped=cramped, live=live))

    def _remind(self, sentence: str) -> None:
        self._complain(sentence)
        self._context.change_signals.said.emit(sentence)

    def _complain(self, sentence: str) -> None:
        if sentence != self.complaint.text():
            self.complaint.setText(sentence)
        self.complaint.setVisible(bool(sentence))

    # doing
    def _carry_out(self, request: ActionRequest) -> None:
        """Hand the action of a page to the writer; one at a time, and nothing without initials."""
        if self.navigation.busy:
            return
        by = self._context.person.initials
        if not by:
            words = tr("Say whose work this is first: type your initials at the top of the window ({key}).")
            self._complain(words.format(key=key_text("initials")))
            return
        self.navigation.busy = True
        self.recording.emit(True)
        self.holding.drop()
        page = self.page
        args = () if request.action.__name__ in WITHOUT_UNIT else (self.mark,)
        who: dict[str, object] = {"supervisor" if request.action.__name__ in BY_SUPERVISOR else "by": by}
        if request.action.__name__ in TELL_SEEN and page is not None and page.view is not None:
            who["seen"] = page.view.state.last_entry
        self._context.tasks.do(
            self._context.bench,
            request.action,
            *args,
            *request.args,
            **request.kwargs,
            **who,
            then=lambda changes: self._recorded(page, request, changes),
            refused=self._refused,
            later=lambda seconds: self._keep_for(page, request, seconds),
        )

    def _record_left(self, why: str, with_it: str, then: Callable[[], None], complain: Callable[[str], None]) -> None:
        """Put on record that the unit at hand is left and may be live; the way back makes it safe again."""
        by = self._context.person.initials
        if not by:
            complain(tr("Say whose work this is first: type your initials at the top of the window."))
            return
        self._context.tasks.do(
            self._context.bench,
            record_event,
            self.mark,
            Event.left.value,
            note=why,
            with_it=with_it,
            by=by,
            then=lambda _changes: then(),
            refused=complain,
        )

    def _keep_for(self, page: BenchPage | None, request: ActionRequest, seconds: float) -> None:
        """It came too soon: keep it until its time, on this page."""
        before = page.draft() if page is not None else {}
        if self.holding.hold(request, seconds, lambda: page is None or page.draft() == before):
            self._complain("")

    def _recorded(self, page: BenchPage | None, request: ActionRequest, changes: "ChangeSet") -> None:
        """It is on disk: nothing of the page has to be kept; what is due comes with the change."""
        self.navigation.busy = False
        self.recording.emit(False)
        if page is not None and not request.keeps_page:
            page.drop_draft()
        self.navigation.forget_page()
        self._follow_mark(changes)
        words = request.words or tr("Last: {words}").format(words=_named(page, request, changes.words))
        self._context.change_signals.said.emit(words)

    def _refused(self, sentence: str) -> None:
        self.navigation.busy = False
        self.recording.emit(False)
        self.navigation.forget_pending_reading()
        if self.view is not None and moved_on(self._context.bench, self.view):
            self.navigation.leave_page()  # another window was here: what it recorded is shown
            self.navigation.turn()
        if sentence:
            self._complain(sentence)

    def tell(self, words: str) -> None:
        """Say once why what came was not taken: on the page where one is in sight, else at the foot of the window."""
        if self.isVisible() and self.page is not None:
            self._complain(words)
            self._not_taken = words
        else:
            self._context.change_signals.said.emit(words)

    def tell_early(self, typed: str) -> None:
        """Say what was typed before the page at hand was in sight; nothing where it was of a scan that is refused."""
        words = tr("“{typed}” was typed before this page was in sight. Type it again if it belongs here.")
        if not self.isVisible():
            self._context.change_signals.said.emit(words.format(typed=typed))
            return
        said = self.complaint.text() if self.complaint.isVisible() else ""
        if said and said == self._not_taken:
            return
        self._complain(f"{said} {words.format(typed=typed)}".strip())

    def _hear(self, changes: "ChangeSet") -> None:
        """Something changed: the unit at hand is read again when it is concerned, with what was typed kept."""
        if not self.mark or self.navigation.busy or self._follow_mark(changes):
            return
        if self.page is None or self.mark in changes.units or not changes.units:
            self.navigation.leave_page()
            self.navigation.turn()

    def _meet(self, _initials: str) -> None:
        """Another person is at the bench: what is due of them may be another thing, a caution to read among it."""
        if self.mark and not self.navigation.busy and self.page is not None:
            self.navigation.leave_page()
            self.navigation.turn()

    def _follow_mark(self, changes: "ChangeSet") -> bool:
        """Stay with the unit at hand where it is called otherwise now; whether it is."""
        now = changes.renamed.get(self.mark)
        if now is not None:
            self._context.in_hand.rename(self.mark, now)
            self.navigation.take_unit(now, aside="outcome")
        return now is not None

    def drop_waiting(self) -> bool:
        """Let go of an answer that waits for its time; whether there was one."""
        if not self.holding.holds:
            return False
        self.holding.drop()
        self._complain(tr("Taken back before it was recorded. What was recorded before it stands."))
        return True

    def take_back(self, number: int, why: str) -> None:
        """Take back that entry of the unit at hand; what is half typed on the page is kept."""
        self.navigation.leave_page()
        self._carry_out(ActionRequest(action=take_back, args=(number,), kwargs={"why": why}, keeps_page=True))

    def _hand_out(self, paper: str) -> None:
        """Print the unit's papers, or write tag, record sheet or pin card as PDF."""
        from benchapp.desktop.sale.tag_export import hand_out

        hand_out(self._context, self, paper, self.mark, self.page.name if self.page is not None else "")


def _named(page: BenchPage | None, request: ActionRequest, words: str) -> str:
    """What an answer came to, with the step that it was given to: "Off: Done."."""
    step = page.view.step if page is not None and page.view is not None else None
    if request.action.__name__ != "record_answer" or step is None:
        return words
    from benchapp.sequences.planning.step_names import step_name

    return tr("{step}: {words}").format(step=step_name(step), words=words)
