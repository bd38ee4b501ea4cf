"""The repair of a fault: what to do, line by line; beside it, before anybody agrees, what must be taken again.

The lines follow from the part, how it failed and where it sits (`sequences.repair_lists`). What they open is opened,
whoever ticks it; more may be ticked by hand. A line of one's own may stand in place of the list.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QFormLayout, QLineEdit, QVBoxLayout

from benchapp.actions.entries.faults import record_repair
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.circuit_pictures import circuit_picture
from benchapp.desktop.bench.finding import searchable
from benchapp.desktop.bench.hazard_words import before_opening
from benchapp.desktop.bench.pages.checks import ListPage, read_parts
from benchapp.desktop.bench.pages.parts import PartBox
from benchapp.desktop.bench.repair_words import caution_texts, fault_words, retest_words, scope_rows
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import key_text, with_key
from benchapp.desktop.widgets.choices import ChoiceList
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.scrolling import bring_into_sight
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import add_rows, button, key_button, label, panel
from benchapp.desktop.words import tr
from benchapp.sequences.language.repairs import WAYS_TO_FAIL

if TYPE_CHECKING:
    from benchapp.sequences.history.repairs import RepairList
    from benchapp.sequences.planning.state import FaultState

OPENINGS = (("cord", "Cord"), ("plug", "Plug"), ("enclosure", "Enclosure"))
_NARROW = 34


class RepairPage(ListPage):
    """What is done about a fault; beneath it, at once, what will have to be taken again."""

    name = "repair"
    unmarked = "to do"
    has_finish = False  # the agreement beside the list has a button of its own

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.finish.hide()
        self.cautions = label("repair-cautions", "complaint")
        self.caution_words = label("repair-caution-words")
        self.body.insertWidget(1, self.cautions)
        self.body.insertWidget(2, self.caution_words)
        self.search = key_button("repair-search", with_key("search", tr("Find the part first")), "main")
        self.search.clicked.connect(lambda: self.going.emit("search"))
        self.body.insertWidget(5, self.search)
        self.part = PartBox()
        self.done, self.parts = QLineEdit(), QLineEdit()
        self.parts.setPlaceholderText(tr("name, then number: 3 A fuse 1"))
        self.done.setPlaceholderText(tr("only where the list does not say it"))
        self.opened = {key: QCheckBox(tr("{thing} was opened").format(thing=tr(words))) for key, words in OPENINGS}
        self.scope = ChoiceList(context.look, "repair-scope", tr("What will be taken again"), passive=True)
        self.scope_head = label("repair-scope-head", "head")
        self.record = button("repair-record", tr("Enter   Record the repair"), "main")
        self._lay_out()
        self._fault: FaultState | None = None
        self._list: RepairList | None = None
        self._mode = ""
        self.part.currentTextChanged.connect(lambda _text: self._follow_part())
        for box in self.opened.values():
            box.toggled.connect(lambda _on: self._show_scope())
        self.record.clicked.connect(self._record)
        for field in (self.done, self.parts):
            field.returnPressed.connect(self._look_at_scope)
        context.look.changed.connect(self._follow_look)

    def _lay_out(self) -> None:
        left, right = panel("repair-sheet"), panel("repair-agreement")
        form = QFormLayout(left)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        add_rows(
            form,
            (self.part, "repair-part", tr("Part touched")),
            (self.parts, "repair-parts", tr("Parts used")),
            (self.done, "repair-done", tr("In your own words")),
            *((box, f"repair-opened-{key}", "") for key, box in self.opened.items()),
        )
        column = QVBoxLayout(right)
        column.addWidget(self.scope_head)
        column.addWidget(self.scope, 100)
        column.addWidget(self.record)
        column.addStretch(1)
        self.below.addWidget(Split(self.context.look, left, right, shares=(1, 1), narrow=_NARROW))

    @property
    def waits_for_enter(self) -> bool:
        """What will be taken again is agreed to by an Enter of its own."""
        return True

    # what is shown
    def fill(self, view: UnitView) -> None:
        faults = [fault for fault in view.state.faults if str(fault.status) == "open"]
        named = [fault for fault in faults if str(fault.entry) == view.state.due.subject]
        self._fault = next(iter(named or faults), None)
        self._mode = self._fault.mode if self._fault else ""
        words = fault_words(self._fault, view) if self._fault else view.state.due.words
        self.reason.setText(self._fault.words if self._fault and self._fault.part else "")
        self.say.setText(tr("Repair: {fault}").format(fault=words))
        unknown = bool(searchable(view)) and self._mode not in WAYS_TO_FAIL and self._fault is not None
        self.search.setVisible(unknown)
        if unknown and self._fault is not None:
            self.say.setText(tr("{fault} Which part it is, nobody knows yet.").format(fault=self._fault.words))
            self.reason.setText(tr("What follows would mend {part}.").format(part=words.partition(",")[0]))
        self.part.offer(view, self._fault.part if self._fault else "")
        self.done.setText("")
        self.parts.clear()
        self.marks = {}
        for box in self.opened.values():
            box.setChecked(False)
        self._follow_part()

    def _follow_part(self) -> None:
        """The list for this part and mode; ticks stay on the lines that stand in both lists."""
        if self.view is None:
            return
        from benchapp.sequences.history.repairs import repair_list

        self._list = repair_list(self.view.plan, self.view.state.facts, self.part.part(), self._mode)
        marks = dict(self.marks)
        self.start([action.words for action in self._list.actions])
        self.marks = {name: mark for name, mark in marks.items() if name in self.names}
        self.paint_rows()
        self._show_words()
        self._tick_what_is_opened()
        self._show_scope()

    def _show_row(self) -> None:
        """The circuit with the part at hand marked, whatever the line of the list."""
        if self.view is not None:
            self.picture.show_picture(circuit_picture(self.view, ((self.part.part(), ""),)))

    def _follow_look(self) -> None:
        """Text became larger or smaller while the page was shown."""
        if self.isVisible():
            self._show_words()
            self._show_scope()

    def _show_words(self) -> None:
        """The cautions and how the fault was found, shorter where text is large: the list must stay in sight."""
        if self.view is None or self._list is None:
            return
        cramped = self.context.look.cramped
        inside = before_opening(self.view, short=cramped) if "enclosure" in self._list.opens else ""
        titles, words = caution_texts(self.view, self._list.cautions)
        self.cautions.setText("\n".join(line for line in (titles, inside) if line))
        self.caution_words.setText(words)
        self.caution_words.setVisible(bool(words) and not cramped)
        self.reason.setVisible(bool(self.reason.text()) and not cramped)

    def _tick_what_is_opened(self) -> None:
        """What the list opens is ticked and stays so; anything more is ticked by hand."""
        implied = {str(one) for one in self._list.opens} if self._list else set()
        for key, words in OPENINGS:
            box, by_list = self.opened[key], key in implied
            box.setEnabled(True)
            box.setChecked(by_list or (box.isChecked() and not box.property("by list")))
            box.setProperty("by list", by_list)
            said = tr("{thing} opened, as the list says") if by_list else tr("{thing} was opened")
            box.setText(said.format(thing=tr(words)))
            box.setAccessibleName(box.text())
            box.setEnabled(not by_list)

    def _opened(self) -> tuple[str, ...]:
        return tuple(key for key, box in self.opened.items() if box.isChecked())

    def _show_scope(self) -> None:
        from benchapp.sequences.history.retest_shown import due_already, retest_scope

        if self.view is None:
            return
        plan, state = self.view.plan, self.view.state
        fault = self._fault.entry if self._fault else None
        scope = retest_scope(plan, state, self.part.part(), self._opened(), fault)
        self.scope.set_rows(())
        self.scope.set_rows(scope_rows(plan, scope, short=self.context.look.cramped))
        counted = retest_words(len(scope), due_already(state.steps, scope))
        self.scope_head.setText(counted)
        self.record.setText(tr("Enter   Agreed: record the repair") if scope else tr("Enter   Record the repair"))
        self.record.setAccessibleName(f"{self.record.text()}. {counted}")

    # keys
    def take_focus(self) -> None:
        if self.complete or self.done.text():
            self._look_at_scope()
        else:
            self.list.setFocus()
            bring_into_sight(self.list)

    def address(self) -> str:
        return f"repair {self._fault.entry if self._fault else ''}"

    def strike(self, _row: int, key: str) -> None:
        mark = {" ": "done", "1": "done", key_text("enter"): "done", key_text("not needed"): "does not apply"}.get(key)
        if mark:
            self._tick(mark)

    def enter(self) -> None:
        if self.complete:
            self._look_at_scope()
        else:
            self._tick("done")

    def pick(self, number: int) -> None:
        if self.names[number] not in self.marks:
            self._tick("done")

    def _tick(self, mark: str) -> None:
        self.mark(mark)
        bring_into_sight(self.list)
        if self.complete:
            self._look_at_scope()

    def _look_at_scope(self) -> None:
        """Everything is said: what must be taken again comes into sight, and the next Enter agrees to it."""
        if not self._said():
            return
        if not self.record.hasFocus():
            self.asked_anew.emit()
        self.record.setFocus()
        bring_into_sight(self.scope)
        bring_into_sight(self.record)

    def _said(self) -> bool:
        """Whether it is told what was done; complains and leads to the gap when it is not."""
        if not self.part.part():
            self.complained.emit(tr("Say which part was touched: the retest follows from it."))
            self.part.setFocus()
            return False
        left = sum(name not in self.marks for name in self.names)
        if not self.done.text().strip() and left:
            self.complained.emit(
                tr(
                    "{left} of {all} lines are not ticked: Enter done, 3 not needed. "
                    "Or say in your own words what was done."
                ).format(left=left, all=len(self.names))
            )
            self.list.setFocus()
            return False
        if not self._done_words():
            self.complained.emit(tr("No line of the work is ticked. Say in your own words what was done."))
            self.done.setFocus()
            return False
        self.complained.emit("")
        return True

    def _ticked(self) -> tuple[str, ...]:
        return tuple(name for name in self.names if self.marks.get(name) == "done")

    def _done_words(self) -> str:
        """The technician's own line, else the lines of the work that were carried out."""
        work = {action.words for action in self._list.actions if action.work} if self._list else set()
        return self.done.text().strip() or " ".join(name for name in self._ticked() if name in work)

    def _record(self) -> None:
        if not self._said():
            return
        self.request(
            record_repair,
            fault=self._fault.entry if self._fault else None,
            part=self.part.part(),
            done=self._done_words(),
            opened=self._opened(),
            parts_used=read_parts(self.parts.text()),
            actions=self._ticked(),
            mode=self._found_otherwise(),
        )

    def _found_otherwise(self) -> str:
        """How the part proved to be wrong, where that is not what the fault's record says."""
        known = self._fault is not None and (self._fault.part, self._fault.mode) == (self.part.part(), self._mode)
        return "" if known else self._mode

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab leads from the agreement round to the list and on to the fields, and not out of the page."""
        if forward and self.record.hasFocus():
            self.list.setFocus(Qt.FocusReason.TabFocusReason)
            return True
        return bool(super().focusNextPrevChild(forward))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._look_at_scope()
        else:
            super().keyPressEvent(event)

    def hints(self) -> Sequence[Hint]:
        ticking = (
            (hint("enter", tr("agree and record")),)
            if self.complete
            else (hint("enter", tr("this line is done")), hint("not needed"))
        )
        return (
            *ticking,
            hint("fields", tr("parts used, own words, opened")),
            *([hint("search", minor=True)] if self.view and searchable(self.view) else []),
            hint("outcome", tr("hold, spares, scrap instead"), minor=True),
            hint("next", tr("next unit, repair later"), minor=True),
        )

    # what was typed
    def draft(self) -> Mapping[str, Any]:
        by_hand = [key for key, box in self.opened.items() if box.isChecked() and box.isEnabled()]
        if not (self.marks or self.done.text() or self.parts.text() or by_hand):
            return {}
        return {
            "of": self._known_as(),
            "marks": dict(self.marks),
            "done": self.done.text(),
            "part": self.part.part(),
            "parts": self.parts.text(),
            "opened": by_hand,
            "mode": self._mode,
        }

    def _known_as(self) -> tuple[str, str]:
        """Part and mode of the fault as it is on record."""
        return (self._fault.part, self._fault.mode) if self._fault else ("", "")

    def restore(self, draft: Mapping[str, Any]) -> None:
        """Put a draft back; one of the part that was suspected before another one was found is not this repair's."""
        if draft.get("of", self._known_as()) != self._known_as():
            return
        self._mode = draft.get("mode", self._mode)
        self.part.show_part(draft.get("part", ""))
        self._follow_part()
        self.done.setText(draft.get("done", ""))
        self.parts.setText(draft.get("parts", ""))
        super().restore(draft)
        for key in draft.get("opened", ()):
            if key in self.opened:
                self.opened[key].setChecked(True)
