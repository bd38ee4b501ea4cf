"""The pages worked as a list: inspect, work and set-up. A mark per row; the last good one records the list.

A row marked bad, and a list whose parts are still to be looked at, wait for an Enter of their own.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QVBoxLayout

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.conditions import record_set_up
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.pages.rows import RowsPage
from benchapp.desktop.bench.unit_view import UnitView, model_field
from benchapp.desktop.keys import key_text, with_key
from benchapp.desktop.pictures.clock import Clock
from benchapp.desktop.pictures.drawings import read_table
from benchapp.desktop.theme.signs import Shape, Sign, Tone
from benchapp.desktop.widgets.choices import Cap, Row
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.texts import field, key_button, label
from benchapp.desktop.words import tr
from benchapp.sequences.planning.entry_contents import PartUsed

MARKS = {
    "": Sign(shape=Shape.ring, word="look", tone=Tone.quiet),
    "good": Sign(shape=Shape.tick, word="good", tone=Tone.good),
    "bad": Sign(shape=Shape.cross, word="bad", tone=Tone.bad),
    "does not apply": Sign(shape=Shape.dash, word="n/a", tone=Tone.quiet),
    "to do": Sign(shape=Shape.ring, word="to do", tone=Tone.quiet),
    "done": Sign(shape=Shape.tick, word="done", tone=Tone.good),
}


CAPS = tuple(Cap(key=key_text(mark), sign=MARKS[mark]) for mark in ("good", "bad", "does not apply"))

DONE_CAP = (Cap(key=key_text("enter"), sign=MARKS["done"]),)


class ListPage(RowsPage):
    """A list with one mark per row, kept by the row's name."""

    title = "What to look at or do"
    unmarked = ""
    pictured = True
    has_finish = True
    """whether a button stands under the rows once each has its mark"""

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.below = QVBoxLayout()
        self.finish = key_button(f"{self.name}-finish", with_key("enter", tr("record all")), "main")
        self.finish.clicked.connect(self.enter)
        self.column.addLayout(self.below)
        self.column.addWidget(self.finish)
        self.column.addStretch(1)
        self.list.row_changed.connect(self._show_row)
        self.marks: dict[str, str] = {}
        self.names: list[str] = []

    def start(self, names: Sequence[str]) -> None:
        """Begin with no row marked."""
        self.names = list(names)
        self.marks = {}
        self.list.set_rows(())
        self.paint_rows()

    def _show_row(self) -> None:
        """The picture follows the row at hand."""
        here = self.list.row_at_hand()
        if self.view is not None and self.view.step is not None and 0 <= here < len(self.names):
            self.show_picture(self.names[here], here + 1)

    def row(self, name: str) -> Row:
        """How a row looks now."""
        mark = self.marks.get(name, self.unmarked)
        return Row(words=self.said(name), sign=MARKS[mark], caps=() if name in self.marks else DONE_CAP)

    def said(self, name: str) -> str:
        """The words of a row; it is kept by its name."""
        return name

    def paint_rows(self) -> None:
        """Show the marks."""
        self.list.set_rows([self.row(name) for name in self.names])
        self.finish.setVisible(self.complete and self.has_finish)

    def mark(self, mark: str) -> None:
        """Mark the row at hand and go to the next one without a mark; the last one records, where nothing waits."""
        here = self.list.row_at_hand()
        if not 0 <= here < len(self.names):
            return
        self.marks[self.names[here]] = mark
        self.paint_rows()
        later = [*range(here + 1, len(self.names)), *range(here)]
        self.list.go_to(next((number for number in later if self.names[number] not in self.marks), here))
        self.complained.emit("")
        self.hints_changed.emit()
        if self.complete and not self.waits_for_enter:
            self.record_it()

    @property
    def complete(self) -> bool:
        """Whether every row has a mark."""
        return all(name in self.marks for name in self.names)

    @property
    def waits_for_enter(self) -> bool:
        """Whether a list with every row marked is looked at once more: what is bad brings a fault."""
        return "bad" in self.marks.values()

    def choose(self, _number: int) -> None:
        self.enter()

    def pick(self, _number: int) -> None:
        """A click beside the caps marks nothing, and never records the whole list."""

    def enter(self) -> None:
        """Enter was struck."""

    def draft(self) -> Mapping[str, Any]:
        return {"marks": dict(self.marks)} if self.marks else {}

    def restore(self, draft: Mapping[str, Any]) -> None:
        self.marks = {name: mark for name, mark in draft.get("marks", {}).items() if name in self.names}
        self.paint_rows()
        self.list.go_to(next((i for i, name in enumerate(self.names) if name not in self.marks), 0))


class InspectPage(ListPage):
    """Checkpoints: good, bad or does not apply."""

    name = "inspect"
    keys: Mapping[str, str] = {key_text(mark): mark for mark in ("good", "bad", "does not apply")}

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        from benchapp.sequences.kinds.inspect import InspectStep, checkpoints_for

        model = self.step.model
        assert isinstance(model, InspectStep)
        self._points = {point.check: point for point in checkpoints_for(model, view.state.facts)}
        self.start(list(self._points))

    def row(self, name: str) -> Row:
        point, mark = self._points[name], self.marks.get(name, "")
        detail = point.fault.words if mark == "bad" and point.fault else ""
        return Row(words=point.say, detail=detail, sign=MARKS[mark], caps=CAPS)

    def strike(self, _row: int, key: str) -> None:
        if key in self.keys:
            self.mark(self.keys[key])

    def enter(self) -> None:
        if not self.complete:
            left = sum(name not in self.marks for name in self.names)
            self.complained.emit(
                tr("{left} of {all} are not marked yet: 1 good, 2 bad, 3 does not apply.").format(
                    left=left, all=len(self.names)
                )
            )
            return
        self.record_it()

    def record_it(self) -> None:
        from benchapp.sequences.kinds.inspect import InspectAnswer

        self.request(record_answer, self.address(), InspectAnswer(marks=dict(self.marks)))

    def hints(self) -> Sequence[Hint]:
        answers = tuple(hint(mark, placed=True) for mark in ("good", "bad", "does not apply"))
        return (*answers, hint("rows"), *([hint("enter", tr("record all"), placed=True)] if self.complete else ()))


class ConfirmPage(ListPage):
    """Rows to carry out or to make so, each confirmed; the last one records them all."""

    unmarked = "to do"

    def strike(self, _row: int, key: str) -> None:
        if key in (" ", "1", key_text("enter")):
            self.mark("done")

    def pick(self, number: int) -> None:
        if self.names[number] not in self.marks:
            self.mark("done")

    def enter(self) -> None:
        if self.complete:
            self.record_it()
        else:
            self.mark("done")


class WorkPage(ConfirmPage):
    """Ordered actions to carry out and confirm, with the parts used."""

    name = "work"

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        words = tr("Parts used (name, then number; commas between)")
        self.parts_head = label("work-parts-head", "head", words)
        self.parts = field("work-parts", words, example=tr("for example: 3 A fuse 1"))
        self.parts.returnPressed.connect(self.enter)
        self.clock = Clock(context.look, "work-clock")
        self.clock.hide()
        self.below.addWidget(self.clock)
        self.below.addWidget(self.parts_head)
        self.below.addWidget(self.parts)

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        self.start([str(action) for action in model_field(view.step, "do", ())])
        for widget in (self.parts_head, self.parts):
            widget.setVisible(not (view.step and view.step.way_back) and view.supply == "none")
        usual = model_field(view.step, "parts_used", ()) or ()
        self.parts.setText(", ".join(f"{part} 1" for part in usual))

    def _show_row(self) -> None:
        """A clock counts where the action at hand asks for a time; another action takes it away."""
        super()._show_row()
        if self.view is not None and self.view.step is not None:
            here = self.list.row_at_hand() + 1
            self.clock.count(read_table("pictures")["clocks"].get(f"{self.view.step.address}/{here}", 0))

    @property
    def waits_for_enter(self) -> bool:
        """Parts that are used here are looked at before the list is recorded."""
        return bool(self.parts.text().strip()) and not self.parts.isHidden()

    def record_it(self) -> None:
        from benchapp.sequences.kinds.work import WorkAnswer

        given = WorkAnswer(done=tuple(self.names), parts=read_parts(self.parts.text()))
        self.request(record_answer, self.address(), given)

    def hints(self) -> Sequence[Hint]:
        enter = tr("record all") if self.complete else tr("this one is done")
        parts = () if self.parts.isHidden() else (hint("fields", tr("parts used")),)
        return (hint("enter", enter), *parts, hint("rows"))

    def draft(self) -> Mapping[str, Any]:
        return {**super().draft(), "parts": self.parts.text()} if self.marks else {}

    def restore(self, draft: Mapping[str, Any]) -> None:
        super().restore(draft)
        self.parts.setText(draft.get("parts", self.parts.text()))


class SetUpPage(ConfirmPage):
    """What has to be made so before the reading means anything; each item is confirmed."""

    name = "set-up"

    def fill(self, view: UnitView) -> None:
        self.say.setText(view.state.due.words or tr("Set the unit up for the next reading."))
        self.reason.setText(tr("For what follows: {say}").format(say=view.step.say) if view.step else "")
        self.reason.setVisible(view.step is not None)
        self.start(view.state.due.items or (view.step.set_up if view.step else ()))
        self.restore({"marks": dict.fromkeys(self._in_force(view), "done")})

    def said(self, name: str) -> str:
        from benchapp.sequences.planning.terminals import say_set_up

        return say_set_up(name)

    def _in_force(self, view: UnitView) -> tuple[str, ...]:
        """What was confirmed in this stage and nothing has undone since: it is shown as done, the rest is asked."""
        from benchapp.sequences.interlock.set_up import items_in_force

        known = view.state.evaluation
        return items_in_force(known, view.step) if known is not None and view.step is not None else ()

    def address(self) -> str:
        return f"set-up {super().address()}"

    def record_it(self) -> None:
        self.request(record_set_up, self.step.address, tuple(self.names))

    def hints(self) -> Sequence[Hint]:
        return (hint("enter", tr("go on") if self.complete else tr("this one is done")), hint("rows"))


def read_parts(text: str) -> tuple[PartUsed, ...]:
    """The parts typed as "name number, name number"; a name without a number counts one."""
    found: list[PartUsed] = []
    for piece in (piece.strip() for piece in text.split(",")):
        name, _, last = piece.rpartition(" ")
        if piece and name and last.isdigit():
            found.append(PartUsed(part=name.strip(), number=int(last)))
        elif piece:
            found.append(PartUsed(part=piece, number=1))
    return tuple(found)
