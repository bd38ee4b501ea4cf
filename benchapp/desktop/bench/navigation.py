"""Where the person is on the bench: which unit, at what is due or on a page called up, and where each way leads.

The engine has said what is due. What is read of the unit goes out as `arrived`; the screen shows it.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.finding import PendingSearch, searchable, way_back_first
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.page_routing import page_for
from benchapp.desktop.bench.sweep import Sweep, ended_words, finished_words
from benchapp.desktop.bench.unit_view import UnitView, view_of
from benchapp.desktop.keys import key_text
from benchapp.desktop.scanning.codes import unit_of_code
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.workbench.sweeping import SweepStep

ASIDE = (
    "opening",
    "event",
    "hazard",
    "outcome",
    "meter",
    "search",
    "record",
    "facts",
    "opened",
    "false-alarm",
    "design",
    "old-hazard",
)
"""Pages that are called up whatever is due; the way back leaves them."""
BEFORE_IN_HAND = ("opening", "hazard", "record")
"""Of these, the ones that answer nothing of a unit in hand, or cannot wait for it."""
STAYING = ("outcome", "search")
"""Of these, the ones that stay when something was recorded on them."""
SHOWN = 40
"""signs that are shown of what a scanner read"""
PAPERS = ("print", "export", "sheet", "pins")


class Navigation(QObject):
    """Goes from unit to unit and from page to page; while something is being recorded, nowhere."""

    arrived = Signal(object, str)
    """what is shown of the unit, and the name of the page for it"""
    unit_arrived = Signal()
    """the unit that was taken is shown for the first time"""
    nothing_at_hand = Signal(object)
    """there is no page to show; why"""
    complained = Signal(object)
    told = Signal(str)
    """why what a scanner typed was not taken, to be said once"""
    left = Signal()
    """the person goes back to the lots"""
    unit_changed = Signal(str)
    unit_asked = Signal(str)
    """another unit's tag was scanned"""
    sweep_paused = Signal(object, object)
    """the sweep, and the fault that many of its last units share"""
    papers_asked = Signal(str)
    """one of `PAPERS` of the unit at hand"""

    def __init__(self, context: AppContext, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self.mark = ""
        self.view: UnitView | None = None
        self.page: BenchPage | None = None
        self.busy = False
        """a unit is being read, or an answer recorded"""
        self._address = ""
        self._aside = ""
        self._sweep: Sweep | None = None
        self._told: set[tuple[Sweep, str]] = set()
        """faults that a sweep has paused for"""
        self._pending = PendingSearch()
        self._ways: dict[str, Callable[[], object]] = {
            "again": self._take_again,
            "lots": self._to_lots,
            "next": self._next_unit,
            "back": self._back,
            "due": self._to_what_is_due,
            "way back": self._go_the_way_back,
            "search": self._find_fault,
            "in hand": self._take_in_hand,
            **{paper: partial(self._ask_for, paper) for paper in PAPERS},
            **{name: partial(self._call_up, name) for name in ASIDE if name != "search"},
        }

    @property
    def sweep_title(self) -> str:
        """The stage that is taken across the lot; empty when none is."""
        return self._sweep.title if self._sweep else ""

    # units
    def take_unit(self, mark: str, sweep: Sweep | None = None, *, aside: str = "") -> None:
        """Put a unit on the bench; its plan is made off the window's thread the first time."""
        self.leave_page()
        in_hand = self._context.in_hand
        if self.mark == in_hand.mark:
            in_hand.left_live = self.view is not None and self.view.state.energised
        in_hand.wanted = ""
        self.mark, self._address, self._aside, self._sweep = mark, "", aside, sweep
        self._pending.forget()
        self.view = self.page = None
        self.nothing_at_hand.emit(tr("Putting {unit} on the bench …").format(unit=mark))
        self.unit_changed.emit(mark)
        self.busy = True
        by = self._context.person.initials
        reading = partial(view_of, self._context.bench, mark, stage=sweep.stage if sweep else "", by=by)
        self._context.tasks.read(reading, then=self._arrive, refused=self._not_arrived)

    def take_scanned(self, code: str) -> None:
        """A scanner typed it: go to the unit of that tag, or say why not. One that may be live is never left by it."""
        mark = unit_of_code(self._context.bench, code)
        if not mark:
            words = tr(
                "“{code}” came all at once, as a scanner types: it is no unit's tag, and nothing was taken. "
                "If you typed it, type it again."
            )
            self.told.emit(words.format(code=code[:SHOWN]))
        elif mark == self.mark and self.is_changing:
            self._take_in_hand()
        elif mark == self.mark:
            self.unit_asked.emit(mark)
            self.told.emit(tr("{unit} is the unit at hand. Nothing else was taken.").format(unit=mark))
        elif self.view is not None and self.view.may_be_live:
            self._context.in_hand.wanted = mark
            words = tr("{here} may be live: a scan never leaves it. {key} goes the way back; then {unit} comes.")
            self.told.emit(words.format(here=self.mark, unit=mark, key=key_text("back")))
        elif self.busy:
            words = tr("{unit} was scanned while an answer was recorded: scan it again.")
            self.told.emit(words.format(unit=mark))
        else:
            self._context.in_hand.take(mark)
            self._context.change_signals.said.emit(tr("{unit} was scanned, and is in hand.").format(unit=mark))
            self.unit_asked.emit(mark)

    @property
    def is_changing(self) -> bool:
        """Whether another unit is still to be put away, and this one to be taken."""
        return self.view is not None and self._context.in_hand.is_other(self.mark)

    def _take_in_hand(self) -> None:
        """The mark of this unit was scanned or typed: it is in hand, and what is due of it is shown."""
        self._context.in_hand.take(self.mark)
        self.turn()

    def take_stage(self, lot: str, stage: str, title: str) -> None:
        """Take one stage across the lot, beginning with the first unit that waits for it."""
        self.go_on_sweeping(Sweep(lot=lot, stage=stage, title=title))

    def go_on_sweeping(self, sweep: Sweep) -> None:
        """The next unit that is ready for the stage; first a pause where one fault comes again and again."""
        from benchapp.actions.workbench.sweeping import next_in_sweep

        self.busy = True
        after, by = self.mark if self._sweep == sweep else "", self._context.person.initials
        looking = partial(next_in_sweep, self._context.bench, sweep.lot, sweep.stage, after=after, by=by)
        self._context.tasks.read(looking, then=partial(self._sweep_on, sweep), refused=self._not_arrived)

    def _sweep_on(self, sweep: Sweep, step: "SweepStep") -> None:
        self.busy = False
        shared = step.shared
        if not step.following:
            self._context.change_signals.said.emit(ended_words(sweep, step.work, step.why))
            self.stop_sweeping()
        elif shared is not None and (sweep, shared.name) not in self._told:
            self._told.add((sweep, shared.name))
            self.sweep_paused.emit(sweep, shared)
        else:
            self.take_unit(step.following, sweep)

    def stop_sweeping(self) -> None:
        """Leave the sweep for the lots; the unit at hand stays on the bench."""
        swept, self._sweep = self._sweep is not None, None
        if swept and self.view is not None:
            self.turn()
        self._to_lots()

    def _arrive(self, view: UnitView) -> None:
        self.busy = False
        if view.mark == self.mark:
            if not self._context.in_hand.mark:
                self._context.in_hand.take(view.mark)
            self._show(view)
            self.unit_arrived.emit()

    def _not_arrived(self, sentence: str) -> None:
        self.busy = False
        self.mark = ""
        self.unit_changed.emit("")
        self.nothing_at_hand.emit(sentence)

    def _next_unit(self) -> None:
        if self.view is None or self.busy:
            return
        if self.view.state.energised:
            self.complained.emit(tr("This unit may still be live: the way back first, then the next unit."))
            return
        if self._sweep is not None:
            self.go_on_sweeping(self._sweep)
            return
        from benchapp.lots.sweeping import next_open_unit

        lot = self.view.lot
        following = next_open_unit(self._context.bench.board(lot), self.mark)
        if following is not None:
            self.take_unit(following)
            return
        self._context.change_signals.said.emit(finished_words(lot))
        self.turn()

    # pages
    def follow(self, way: str) -> None:
        """Go a way by its name ("again", "back" ..., one of `PAPERS` or `ASIDE`), or to a step by its address."""
        self._ways.get(way, partial(self._go_to_step, way))()

    def turn(self) -> None:
        """Read the unit again and show what is due now."""
        if not self.mark:
            return
        stage = self._sweep.stage if self._sweep and not self._aside else ""
        by = self._context.person.initials
        view = view_of(self._context.bench, self.mark, stage=stage, address=self._address, by=by)
        search = "" if self._aside else self._pending.turn(view)
        if search == "way back":
            self.view = view
            self._go_the_way_back()
            return
        self._aside = search or self._aside
        wanted = self._context.in_hand.wanted
        if wanted and not view.state.energised:
            self.view = view
            self.take_unit(wanted)
            return
        if self._sweep is not None and not self._aside and _stage_is_over(view):
            self._next_unit()
        else:
            self._show(view)

    def leave_page(self) -> None:
        """Keep what was typed on the page, for when the person comes back."""
        if self.page is not None and self.page.view is not None and self.page.view.mark == self.mark:
            self.page.keep_draft()

    def forget_page(self) -> None:
        """The page's answer is on disk: what is due is shown next, or the page called up once more."""
        if self.view is not None and self.view.step is not None and not self.view.step.way_back:
            self._context.in_hand.wanted = ""
        self.page = None
        self._address = ""
        if self._aside not in STAYING:
            self._aside = ""

    def forget_pending_reading(self) -> None:
        """The reading that a search waits for was refused."""
        self._pending.for_reading = False

    def call_up_hazard(self) -> None:
        """The page for smoke and smell, where mains is or may be on the unit."""
        if self.view is not None and self.view.live:
            self._call_up("hazard")

    @property
    def called_up(self) -> bool:
        """Whether the page at hand was called up, or a step taken again: Esc leads back to what is due."""
        return bool(self._aside or self._address)

    def call_up_meters(self) -> None:
        """The choice of a meter, where what is due is read with one; else why there is none."""
        if self.view is None:
            return
        if self.view.state.due.meters or self.is_changing:
            self._call_up("meter")
        elif str(self.view.state.due.kind) == "set-up":
            self.complained.emit(tr("The set-up comes first: make it and confirm it, then take another meter."))
        else:
            self.complained.emit(tr("What is due here is read with no meter."))

    def _show(self, view: UnitView) -> None:
        self.view = view
        if self.is_changing and not self._aside and not self._pending.stopping:
            self.view = replace(view, step=None)
            self.arrived.emit(self.view, "change")
        else:
            self.arrived.emit(view, self._aside or page_for(view))

    def _call_up(self, name: str) -> None:
        if self.view is None or self.busy:
            return
        if self.is_changing and name not in BEFORE_IN_HAND and not self._aside:
            words = tr("Take {unit} in your hand first: scan its tag, or type the last digits of its mark.")
            self.complained.emit(words.format(unit=self.mark))
            return
        self.leave_page()
        self._aside = "" if self._aside == name else name
        self.turn()

    def _go_to_step(self, address: str) -> None:
        if self.view is None or address not in self.view.plan.by_address:
            self.complained.emit(tr("There is no page for that here; see what the condition says."))
            return
        self.leave_page()
        self._aside, self._address = "", address
        self.turn()

    def _take_again(self) -> None:
        """Go to the step that failed, or to the reading that the page at hand doubts."""
        doubted = self.page.doubted if self.page is not None else ""
        if doubted:
            self._go_to_step(doubted)
        elif self.view is not None and self.view.state.due.address and str(self.view.state.due.kind) == "fault":
            self._go_to_step(self.view.state.due.address)

    def _to_what_is_due(self) -> None:
        self._aside = self._address = ""
        self.turn()

    def _find_fault(self) -> None:
        """Search from a failed reading; one that stands on the page is recorded first, and the way back gone."""
        if self.view is None or self.busy or self._aside == "search":
            return
        if self.page is not None and self.page.fails and not self._aside:
            self._pending.for_reading = True
            self.page.record_it()
        elif not searchable(self.view):
            self.complained.emit(tr("No reading of this unit has failed: there is nothing to search from."))
        elif way_back_first(self.view):
            self._go_the_way_back()
        else:
            self._call_up("search")

    def make_safe(self) -> None:
        """Stop here: the way back to its end, whatever else is due."""
        if self.view is not None and not self.busy and self.view.state.energised:
            self._pending.stopping = True
            self._go_the_way_back()

    def _go_the_way_back(self) -> None:
        """First plug out, discharged, proved low; then the search that waits for it goes on by itself."""
        from benchapp.sequences.interlock.way_back import next_step_back

        assert self.view is not None
        assert self.view.state.evaluation is not None
        step, stopping = next_step_back(self.view.state.evaluation), self._pending.stopping
        self._pending.for_way_back = not stopping
        if step is not None:
            self.leave_page()
            self._aside, self._address = "", step.address
            self._show(view_of(self._context.bench, self.mark, address=step.address))

    @property
    def why_here(self) -> str:
        """Why a step of making it safe is shown that was not asked for by itself; empty on any other page."""
        return self._pending.why_here(self.view) if self.view is not None else ""

    def _back(self) -> None:
        """Leave a page that was called up, or a step taken again; a live page by the way back; else to the lots."""
        if self.called_up:
            self._pending.stopping = False
            self.leave_page()
            self._to_what_is_due()
        elif self.view is not None and self.view.on_live_page:
            self.make_safe()
        elif self.is_changing:
            self.unit_asked.emit(self._context.in_hand.mark)
        else:
            self._to_lots()

    def _to_lots(self) -> None:
        self.leave_page()
        self.left.emit()

    def _ask_for(self, paper: str) -> None:
        if self.mark:
            self.papers_asked.emit(paper)


def _stage_is_over(view: UnitView) -> bool:
    """Whether this unit has nothing more to give to the sweep: its stage is over or waits, and it is dead."""
    return not view.state.energised and str(view.state.due.kind) in ("finished", "repair", "held")
