"""The pages for what went wrong: a step that did not hold, and a repair with what must be taken again after it."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit

from benchapp import actions
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.pages.checks import read_parts
from benchapp.desktop.bench.pages.parts import PartBox
from benchapp.desktop.bench.unit_view import UnitView, model_field
from benchapp.desktop.desk import Desk
from benchapp.desktop.widgets.choices import ChoiceList, Row
from benchapp.desktop.widgets.hints import Hint
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.sequences import FaultState

MODES = (
    "open",
    "shorted",
    "high resistance",
    "low resistance",
    "crossed",
    "wrong value",
    "wrong part",
    "damaged",
    "missing",
)
"""How a part can be wrong, in the trade's words; anything else may be typed."""
OPENINGS = (("cord", "the cord"), ("plug", "the plug"), ("enclosure", "the enclosure"))


class FaultPage(BenchPage):
    """A step that did not hold: take it again, or say what is wrong."""

    name = "fault"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.part, self.mode = PartBox(), QComboBox()
        self.words = QLineEdit()
        self.again = button("fault-again", tr("F3  Take it again"))
        self.search = button("fault-search", tr("F10  Find the fault: suspects, and what to probe next"))
        self.record = button("fault-record", tr("Record the fault"), "main")
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        for widget, name, words in (
            (self.again, "fault-again", ""),
            (self.search, "fault-search", ""),
            (self.part, "fault-part", tr("Part")),
            (self.mode, "fault-mode", tr("What is wrong with it")),
            (self.words, "fault-words", tr("In a sentence")),
            (self.record, "fault-record", ""),
        ):
            widget.setObjectName(name)
            widget.setAccessibleName(words or widget.text())  # type: ignore[attr-defined]
            form.addRow(words, widget) if words else form.addRow(widget)
        self.mode.setEditable(True)
        self.body.addLayout(form)
        self.body.addStretch(1)
        self.search.clicked.connect(lambda: self.going.emit("search"))
        self.again.clicked.connect(lambda: self.going.emit("again"))
        self.record.clicked.connect(self._record)
        self.words.returnPressed.connect(self._record)

    def fill(self, view: UnitView) -> None:
        self.say.setText(view.state.due.words or tr("This step did not hold."))
        suspect = model_field(view.step, "fault") or _bad_point(view)
        self.search.setVisible(bool(view.step and view.step.function))
        self.part.offer(view, suspect.part if suspect else _likely_part(view))
        self.mode.clear()
        self.mode.addItems(MODES)
        self.mode.setCurrentText(suspect.mode if suspect else "")
        self.words.setText(suspect.words if suspect else _last_sentence(view))

    def take_focus(self) -> None:
        self.again.setFocus()

    def address(self) -> str:
        return f"fault {super().address()}"

    def _record(self) -> None:
        part, mode, words = self.part.part(), self.mode.currentText().strip(), self.words.text().strip()
        if not part or not mode:
            self.complained.emit(tr("Say which part and what is wrong with it, or take the step again with F3."))
            (self.part if not part else self.mode).setFocus()
            return
        assert self.view is not None
        address = self.view.step.address if self.view.step else ""
        self.wish(actions.record_fault, part=part, mode=mode, words=words, address=address)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._record()
        else:
            super().keyPressEvent(event)

    def hints(self) -> Sequence[Hint]:
        return (
            Hint(key="F3", words=tr("take it again")),
            *([Hint(key="F10", words=tr("find the fault"))] if self.search.isVisibleTo(self) else []),
            Hint(key="Tab", words=tr("part, what is wrong, words")),
            Hint(key="Enter", words=tr("record the fault")),
            Hint(key="F6", words=tr("hold, spares, scrap")),
        )

    def draft(self) -> Mapping[str, Any]:
        return {"part": self.part.part(), "mode": self.mode.currentText(), "words": self.words.text()}

    def restore(self, draft: Mapping[str, Any]) -> None:
        self.part.show_part(draft.get("part", ""))
        self.mode.setCurrentText(draft.get("mode", ""))
        self.words.setText(draft.get("words", ""))


class RepairPage(BenchPage):
    """What was done about a fault; beneath it, at once, what will have to be taken again."""

    name = "repair"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.part = PartBox()
        self.done, self.parts = QLineEdit(), QLineEdit()
        self.opened = {key: QCheckBox(tr("{thing} was opened").format(thing=tr(words))) for key, words in OPENINGS}
        self.record = button("repair-record", tr("Record the repair"), "main")
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        boxes = [(box, f"repair-opened-{key}", "") for key, box in self.opened.items()]
        for widget, name, words in (
            (self.done, "repair-done", tr("What was done")),
            (self.part, "repair-part", tr("Part touched")),
            (self.parts, "repair-parts", tr("Parts used")),
            *boxes,
            (self.record, "repair-record", ""),
        ):
            widget.setObjectName(name)
            widget.setAccessibleName(words or widget.text())  # type: ignore[attr-defined]
            form.addRow(words, widget) if words else form.addRow(widget)
        self.scope = ChoiceList(desk.look, "repair-scope", tr("What will be taken again"), passive=True)
        self.body.addLayout(form)
        self.body.addWidget(label("repair-scope-head", "head", tr("Will be taken again after this repair")))
        self.body.addWidget(self.scope, 100)
        self.body.addStretch(1)
        self.part.currentTextChanged.connect(self._part_changed)
        for box in self.opened.values():
            box.toggled.connect(self._show_scope)
        self.record.clicked.connect(self._record)
        for field in (self.done, self.parts):
            field.returnPressed.connect(self._record)

    def fill(self, view: UnitView) -> None:
        faults = [fault for fault in view.state.faults if str(fault.status) == "open"]
        named = [fault for fault in faults if str(fault.entry) == view.state.due.subject]
        self._fault = (named or faults or [None])[0]
        words = _fault_words(self._fault) if self._fault else view.state.due.words
        self.say.setText(tr("Repair: {fault}").format(fault=words))
        self.part.offer(view, self._fault.part if self._fault else "")
        self.done.clear()
        self.parts.clear()
        self._tick_what_is_opened()
        self._show_scope()

    def take_focus(self) -> None:
        self.done.setFocus()

    def address(self) -> str:
        return f"repair {self._fault.entry if self._fault else ''}"

    def _part_changed(self, _text: str) -> None:
        self._tick_what_is_opened()
        self._show_scope()

    def _tick_what_is_opened(self) -> None:
        """Tick what work on this part cannot do without; anything more is ticked by hand."""
        from benchapp.sequences.retest import opened_by

        implied = opened_by(self.view.plan, self.part.part(), ()) if self.view is not None else frozenset()
        for key, box in self.opened.items():
            box.setChecked(key in implied)

    def _opened(self) -> tuple[str, ...]:
        return tuple(key for key, box in self.opened.items() if box.isChecked())

    def _show_scope(self, _changed: object = None) -> None:
        from benchapp.sequences import retest_scope

        if self.view is None:
            return
        scope = retest_scope(self.view.plan, self.view.state, self.part.part(), self._opened())
        steps = [self.view.plan.by_address[address] for address in scope if address in self.view.plan.by_address]
        titles = {stage.id: stage.title for stage in self.view.plan.stages}
        counted: dict[str, int] = {}
        for step in steps:
            counted[titles.get(step.stage, step.stage)] = counted.get(titles.get(step.stage, step.stage), 0) + 1
        rows = [Row(words=title, detail=_step_words(count)) for title, count in counted.items()]
        self.scope.set_rows(())
        self.scope.set_rows(rows or [Row(words=tr("Nothing that was done already."))])

    def _record(self) -> None:
        done, part = self.done.text().strip(), self.part.part()
        if not done or not part:
            self.complained.emit(tr("Say what was done and which part was touched: the retest follows from it."))
            (self.done if not done else self.part).setFocus()
            return
        self.wish(
            actions.record_repair,
            fault=self._fault.entry if self._fault else None,
            part=part,
            done=done,
            opened=self._opened(),
            parts_used=read_parts(self.parts.text()),
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._record()
        else:
            super().keyPressEvent(event)

    def hints(self) -> Sequence[Hint]:
        return (
            Hint(key="Tab", words=tr("next field")),
            Hint(key="Space", words=tr("was opened, yes or no")),
            Hint(key="Enter", words=tr("record the repair")),
            Hint(key="F6", words=tr("hold, spares, scrap instead")),
            Hint(key="F5", words=tr("next unit, repair later")),
        )

    def draft(self) -> Mapping[str, Any]:
        if not (self.done.text() or self.parts.text()):
            return {}
        return {
            "done": self.done.text(),
            "part": self.part.part(),
            "parts": self.parts.text(),
            "opened": self._opened(),
        }

    def restore(self, draft: Mapping[str, Any]) -> None:
        self.done.setText(draft.get("done", ""))
        self.parts.setText(draft.get("parts", ""))
        self.part.show_part(draft.get("part", ""))
        for key, box in self.opened.items():
            box.setChecked(key in draft.get("opened", ()))


def _fault_words(fault: "FaultState") -> str:
    """A fault in a line: the part and what is wrong with it, then the sentence."""
    what = ", ".join(part for part in (fault.part, fault.mode) if part)
    return f"{what}: {fault.words}" if what and fault.words else what or fault.words


def _step_words(count: int) -> str:
    return tr("1 step") if count == 1 else tr("{count} steps").format(count=count)


def _likely_part(view: UnitView) -> str:
    """A part that moves this step's reading, where the step knows any."""
    moved = sorted(view.step.moved_by) if view.step else []
    return moved[0] if len(moved) == 1 else ""


def _bad_point(view: UnitView) -> Any:  # noqa: ANN401 - a NamedFault of the sequence language
    """The fault named by the first checkpoint marked bad in the step's last answer."""
    answers = view.state.history.get(view.step.address, ()) if view.step else ()
    marks = answers[-1].content.get("marks", {}) if answers else {}
    points = model_field(view.step, "checkpoints", ())
    return next((point.fault for point in points if marks.get(point.check) == "bad" and point.fault), None)


def _last_sentence(view: UnitView) -> str:
    answers = view.state.history.get(view.step.address, ()) if view.step else ()
    return str(answers[-1].content.get("sentence", "")) if answers else ""
