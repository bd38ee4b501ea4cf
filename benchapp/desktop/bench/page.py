"""What every page of the Bench can do.

Be filled, take the keyboard, say its keys, keep a draft, ask for an action.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.unit_view import UnitView, model_field
from benchapp.desktop.scanning.codes import is_code
from benchapp.desktop.widgets.hints import Hint
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.sequences.planning.planned import OwnText, PlannedStep


@dataclass(frozen=True, slots=True, kw_only=True)
class ActionRequest:
    """An action that a page asks for; the screen adds the workbook, the unit and the person."""

    action: Callable[..., Any]
    args: tuple[object, ...] = ()
    kwargs: Mapping[str, object] = field(default_factory=dict)
    words: str = ""
    """what the foot of the window says once it is done"""
    keeps_page: bool = False
    """whether it is about something else than what stands on the page, which is kept"""


class BenchPage(QWidget):
    """Base of the pages; a page keeps no state but what is on it."""

    requested = Signal(object)
    """an `ActionRequest`"""
    going = Signal(object)
    """another page is asked for: "again", "lots", "next", "opening", "event", "back", "finish", or a step's address"""
    complained = Signal(object)
    """a sentence about what was typed; empty when it has been mended"""
    hints_changed = Signal()
    asked_anew = Signal()
    """another question came into sight on this page: the key that brought it is no answer to it"""
    taking_back = Signal(int, str)
    """an entry of the unit is taken back: its number, and why"""
    scanned = Signal(str)
    """what a scanner typed here, which is no answer"""

    name = "page"
    of_a_step = True
    """whether what is typed here belongs to the step at hand; else to the unit, whatever is due"""
    field: QLineEdit | None = None
    """the field of a page that has one: the keyboard begins there, and its text is the draft"""

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self.context = context
        self.view: UnitView | None = None
        self.setObjectName(f"page-{self.name}")
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(4, 4, 4, 4)
        self.say = label(f"{self.name}-say", "say")
        self.record_fault = label(f"{self.name}-record-fault", "complaint")
        self.record_fault.hide()
        self.of_unit = label(f"{self.name}-of-unit", "head", wrap=False)
        self.of_unit.hide()
        asked = QHBoxLayout()
        asked.addWidget(self.of_unit, 0, Qt.AlignmentFlag.AlignTop)
        asked.addWidget(self.say, 1)
        self.body.addWidget(self.record_fault)
        self.body.addLayout(asked)
        self.reason = label(f"{self.name}-reason", "quiet")
        self.reason.hide()
        self.body.addWidget(self.reason)
        self.own_texts = label(f"{self.name}-own-texts", "quiet")
        self.own_texts.hide()
        self.body.addWidget(self.own_texts)

    # to be told
    def show_unit(self, view: UnitView) -> None:
        """Show this unit's step, with what was typed here before."""
        self.view = view
        self.fill(view)
        self._name_unit(view)
        self._tell_record_fault(view)
        self._name_own_texts(view)
        draft = self.context.drafts.take(view.mark, self.address())
        if draft:
            self.restore(draft)

    def fill(self, view: UnitView) -> None:
        """Show what is due."""
        due = view.state.due
        says_it_all = view.step is None or str(due.kind) in ("step", "way-back")
        self.say.setText(due.words if says_it_all or view.step is None else view.step.say)
        reason = model_field(view.step, "why", "")
        self.reason.setText(reason)
        self.reason.setVisible(bool(reason))

    def own_texts_of(self, view: UnitView) -> "Iterable[OwnText]":
        """The workshop's own texts and figures that bear on what is shown."""
        from benchapp.sequences.planning.own_texts import own_texts_of_step

        return own_texts_of_step(view.plan, view.step) if view.step is not None and view.plan.own_texts else ()

    def _name_unit(self, view: UnitView) -> None:
        """The shelf mark stands beside each question while mains is, or may be, on the unit."""
        self.of_unit.setText(view.mark)
        self.of_unit.setVisible(view.live and not self.say.isHidden())

    def _tell_record_fault(self, view: UnitView) -> None:
        self.record_fault.setText(tr("The record does not hold, do not use: {fault}").format(fault=view.record_fault))
        self.record_fault.setVisible(bool(view.record_fault))

    def _name_own_texts(self, view: UnitView) -> None:
        own = tr("This workshop's own: {words}.")
        said = view.plan.looser.rstrip(".") in self.say.text()
        lines = [view.plan.looser] if view.plan.looser and not said else []
        lines += [own.format(words=one.words) for one in self.own_texts_of(view)]
        self.own_texts.setText("\n".join(lines))
        self.own_texts.setVisible(bool(lines))

    def take_focus(self) -> None:
        """Put the keyboard where the next key belongs."""
        (self.field or self).setFocus()

    @property
    def fails(self) -> bool:
        """Whether a reading stands here that would be judged a fail once recorded."""
        return False

    @property
    def doubted(self) -> str:
        """The address of a step whose reading this page doubts, to be taken again with F3; empty when none is."""
        return ""

    def record_it(self) -> None:
        """Record what stands here, as Enter does."""

    def hints(self) -> Sequence[Hint]:
        """The keys of this page."""
        return ()

    def draft(self) -> Mapping[str, Any]:
        """What stands here and is not recorded."""
        return {"typed": self.field.text()} if self.field is not None else {}

    def draft_stamp(self) -> Mapping[str, Any]:
        """What is kept beside a draft, to tell later when and with what it was typed; nothing where nothing stands."""
        return {}

    def unrecorded(self) -> str:
        """What was chosen here, for any unit, and no draft keeps, in a sentence; empty where nothing was."""
        return ""

    def forget_unrecorded(self) -> None:
        """It may be lost."""

    def restore(self, draft: Mapping[str, Any]) -> None:
        """Put a draft back."""
        if self.field is not None:
            self.field.setText(draft.get("typed", ""))

    # to be used by the pages
    @property
    def unit(self) -> UnitView:
        """What is shown; a page is only worked once it has been filled."""
        assert self.view is not None
        return self.view

    @property
    def step(self) -> "PlannedStep":
        """The step at hand, on a page that is only shown for one."""
        assert self.unit.step is not None
        return self.unit.step

    def address(self) -> str:
        """Under which name this page's draft is kept."""
        return self.view.step.address if self.of_a_step and self.view and self.view.step else self.name

    def request(self, action: Callable[..., Any], *args: object, said: str = "", **kwargs: object) -> None:
        """Ask for an action on the unit at hand."""
        self.complained.emit("")
        self.requested.emit(ActionRequest(action=action, args=args, kwargs=kwargs, words=said))

    def takes_scan(self, text: str) -> bool:
        """Whether a scanner typed this; it is then taken out of the field, and handed on."""
        if not is_code(self.context.bench, text):
            return False
        if self.field is not None:
            self.field.setText("")
        self.scanned.emit(text)
        return True

    def keep_draft(self) -> None:
        """Keep what stands here, for when the person comes back."""
        if self.view is not None:
            self.context.drafts.keep(self.view.mark, self.address(), {**self.draft(), **self.draft_stamp()})

    def drop_draft(self) -> None:
        """It has been recorded."""
        if self.view is not None:
            self.context.drafts.clear(self.view.mark, self.address())
