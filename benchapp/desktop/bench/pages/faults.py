"""The page for a step that did not hold: take it again, search for the fault, or record what is wrong."""

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QLineEdit, QVBoxLayout, QWidget

from benchapp.actions.entries.faults import record_fault
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.circuit_pictures import circuit_picture
from benchapp.desktop.bench.finding import searchable
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.pages.parts import PartBox
from benchapp.desktop.bench.unit_view import UnitView, model_field
from benchapp.desktop.keys import key_text, with_key
from benchapp.desktop.pictures.view import PictureView
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.scrolling import bring_into_sight
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import add_rows, button, hold_narrow, wrapping_form
from benchapp.desktop.words import tr

_NARROW = 44
"""in heights of a line: below this the circuit stands under the form"""


class FaultPage(BenchPage):
    """A step that did not hold: take it again, or say what is wrong."""

    name = "fault"

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self._by_search = False
        self.part, self.mode = PartBox(), QComboBox()
        self.words = QLineEdit()
        self.again = button("fault-again", with_key("again", tr("Take it again")))
        self.search = button("fault-search", with_key("search", tr("Find the fault: suspects, and what to probe next")))
        self.record = button("fault-record", tr("Enter  Record the fault"), "main")
        form = wrapping_form()
        add_rows(
            form,
            (self.again, "fault-again", ""),
            (self.search, "fault-search", ""),
            (self.part, "fault-part", tr("Part")),
            (self.mode, "fault-mode", tr("What is wrong with it")),
            (self.words, "fault-words", tr("In a sentence")),
            (self.record, "fault-record", ""),
        )
        self.mode.setEditable(True)
        hold_narrow(self.mode)
        self.circuit = PictureView(context.look, "fault-circuit")
        words = QWidget()
        column = QVBoxLayout(words)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(form)
        column.addStretch(1)
        self.body.addWidget(
            Split(context.look, self.circuit, words, shares=(1, 1), narrow=_NARROW, first_below=True), 1
        )
        self.part.currentTextChanged.connect(lambda _text: self._show_circuit())
        self.search.clicked.connect(lambda: self.going.emit("search"))
        self.again.clicked.connect(lambda: self.going.emit("again"))
        self.record.clicked.connect(self._record)
        self.words.returnPressed.connect(self._record)

    def fill(self, view: UnitView) -> None:
        self.say.setText(view.state.due.words or tr("This step did not hold."))
        suspect = model_field(view.step, "fault") or _bad_point(view)
        self.search.setVisible(bool(searchable(view)))
        self.part.offer(view, suspect.part if suspect else _likely_part(view))
        from benchapp.sequences.language.repairs import WAYS_TO_FAIL

        self.mode.clear()
        self.mode.addItems(WAYS_TO_FAIL)
        self.mode.setCurrentText(suspect.mode if suspect else "")
        self.words.setText(suspect.words if suspect else _last_sentence(view))
        self.words.setCursorPosition(0)  # a long sentence is read from its beginning
        self._by_search = False
        self._show_circuit()

    def _show_circuit(self) -> None:
        """The circuit with the part at hand marked, and the terminals at which it was read."""
        if self.view is not None:
            points = self.view.step.terminals if self.view.step is not None else ()
            self.circuit.show_picture(circuit_picture(self.view, ((self.part.part(), ""),), points))

    def take_focus(self) -> None:
        """A fault that the search has filled in only waits for Enter."""
        filled = self.part.part() and self.mode.currentText().strip() and self._by_search
        (self.record if filled else self.again).setFocus()
        if filled:
            bring_into_sight(self.record)

    def address(self) -> str:
        return f"fault {super().address()}"

    def _record(self) -> None:
        part, mode, words = self.part.part(), self.mode.currentText().strip(), self.words.text().strip()
        if not part or not mode:
            words_for = tr("Say which part and what is wrong with it, or take the step again with {key}.")
            self.complained.emit(words_for.format(key=key_text("again")))
            (self.part if not part else self.mode).setFocus()
            return
        assert self.view is not None
        address = self.view.step.address if self.view.step else ""
        self.request(record_fault, part=part, mode=mode, words=words, address=address)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._record()
        else:
            super().keyPressEvent(event)

    def hints(self) -> Sequence[Hint]:
        return (
            hint("again", minor=True),  # the buttons say it too
            *([hint("search", minor=True)] if self.search.isVisibleTo(self) else []),
            hint("fields", tr("part, what is wrong, words")),
            hint("enter", tr("record the fault")),
            hint("outcome"),
        )

    def draft(self) -> Mapping[str, Any]:
        return {
            "part": self.part.part(),
            "mode": self.mode.currentText(),
            "words": self.words.text(),
            "by search": self._by_search,
        }

    def restore(self, draft: Mapping[str, Any]) -> None:
        self.part.show_part(draft.get("part", ""))
        self.mode.setCurrentText(draft.get("mode", ""))
        self.words.setText(draft.get("words", ""))
        self._by_search = bool(draft.get("by search", False))
        self.words.setCursorPosition(0)
        if self._by_search:
            found = self.words.text().partition(". ")[0].rstrip(".")
            self.say.setText(tr("Found by the search: {found}. Enter records it as the fault.").format(found=found))


def _likely_part(view: UnitView) -> str:
    """A part that moves this step's reading, where the step knows any."""
    moved = sorted(view.step.moved_by) if view.step else []
    return moved[0] if len(moved) == 1 else ""


def _bad_point(view: UnitView) -> Any:  # noqa: ANN401 - a NamedFault of the sequence language
    """The fault named by the first checkpoint marked bad in the step's last answer."""
    from benchapp.sequences.kinds.inspect import InspectContent

    answers = view.state.history.get(view.step.address, ()) if view.step else ()
    content = answers[-1].content if answers else None
    marks = content.marks if isinstance(content, InspectContent) else {}
    points = model_field(view.step, "checkpoints", ())
    return next((point.fault for point in points if marks.get(point.check) == "bad" and point.fault), None)


def _last_sentence(view: UnitView) -> str:
    answers = view.state.history.get(view.step.address, ()) if view.step else ()
    return answers[-1].content.sentence if answers else ""
