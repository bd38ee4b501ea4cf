"""The pages that take one short answer: ask, wait, compute."""

from collections.abc import Sequence

from PySide6.QtCore import QTimer
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QLineEdit, QProgressBar, QVBoxLayout, QWidget

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.workbench.waits import waiting_of
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.gauge_view import gauge_content, why_words
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.pages.rows import NARROW, RowsPage
from benchapp.desktop.bench.picturing import picture_of
from benchapp.desktop.bench.unit_view import UnitView, model_field
from benchapp.desktop.keys import with_key
from benchapp.desktop.pictures.clock import Clock
from benchapp.desktop.pictures.view import PictureView
from benchapp.desktop.waits import time_words
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.widgets.gauge import Gauge
from benchapp.desktop.widgets.hints import Hint, hint, numbered
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import beside, button, field, key_button, label
from benchapp.desktop.words import tr


class AskPage(RowsPage):
    """A question: one key per answer, or a value to type."""

    field: QLineEdit
    name = "ask"
    title = "Answers"
    of_answers = True
    pictured = True

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.field = field("ask-field", tr("Answer"), "reading")
        self.sentence = label("ask-sentence", "head")
        self.record = key_button("ask-record", with_key("enter", tr("record")), "main")
        self.record.clicked.connect(self._type)
        self.column.addLayout(beside(self.field, self.record))
        self.column.addWidget(self.sentence)
        self.column.addStretch(1)
        self._answers: tuple[str, ...] = ()
        self.field.returnPressed.connect(self._type)
        self.field.textChanged.connect(self._try)

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        answers = model_field(view.step, "answers", ())
        self._answers = tuple(str(answer.answer) for answer in answers)
        self.list.set_rows(())
        self.list.set_rows([Row(words=words, key=str(number)) for number, words in enumerate(self._answers, 1)])
        self.list.setVisible(bool(self._answers))
        for widget in (self.field, self.record):
            widget.setVisible(not self._answers)
        self.field.setText("")
        self.field.setPlaceholderText(model_field(view.step, "value", ""))
        self.show_picture()

    def take_focus(self) -> None:
        (self.list if self._answers else self.field).setFocus()

    def _try(self, text: str) -> None:
        """Say what a typed value would be worth, without recording it."""
        if self.view is None or self.view.step is None or not text.strip():
            self.sentence.clear()
            return
        from benchapp.sequences.kinds.ask import AskAnswer

        given = AskAnswer(answer=text.strip())
        tried = self.view.evaluate(given, self.context.bench.clock())
        self.sentence.setText(tried.complaint or tried.sentence)

    def choose(self, number: int) -> None:
        if 0 <= number < len(self._answers):
            self._answer(self._answers[number])

    def _type(self) -> None:
        if self.takes_scan(self.field.text()):
            return
        if self.field.text().strip():
            self._answer(self.field.text().strip())
        else:
            self.complained.emit(tr("Type the answer, then Enter."))

    def _answer(self, answer: str) -> None:
        from benchapp.sequences.kinds.ask import AskAnswer

        self.request(record_answer, self.address(), AskAnswer(answer=answer))

    def hints(self) -> Sequence[Hint]:
        if not self._answers:
            return (hint("enter", placed=True),)
        return numbered(self._answers)


class WaitPage(BenchPage):
    """A clock that runs from the entry before, as the record counts it; Enter records the wait once it is over."""

    name = "wait"

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.left = label("wait-left", "unit")
        self.bar = QProgressBar()
        self.bar.setObjectName("wait-bar")
        self.bar.setAccessibleName(tr("Time waited"))
        self.button = button("wait-button", "", "main")
        self.button.setAccessibleName(tr("Record the wait"))
        self.meanwhile = key_button("wait-meanwhile", with_key("next", tr("the next unit meanwhile")))
        self.meanwhile.clicked.connect(lambda _checked=False: self.going.emit("next"))
        self.picture = PictureView(context.look, "wait-picture")
        self.clock = Clock(context.look)
        words = QWidget()
        column = QVBoxLayout(words)
        for widget in (self.clock, self.left, self.bar, self.button, self.meanwhile):
            column.addWidget(widget)
        column.addStretch(1)
        self.body.addWidget(Split(context.look, self.picture, words, shares=(4, 5), narrow=NARROW, first_below=True), 1)
        self._began, self._dead = "", False
        self._tick = QTimer(self)
        self._tick.setInterval(500)
        self._tick.timeout.connect(self._paint)
        self.button.clicked.connect(self._press)

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        waiting = waiting_of(view.mark, view.plan, view.state)
        self._began = waiting.began if waiting is not None else view.state.at
        self._dead = waiting is not None and waiting.dead
        self.picture.show_picture(picture_of(view))
        self._paint()
        self._tick.start()

    def take_focus(self) -> None:
        self.button.setFocus()

    @property
    def needed(self) -> float:
        """Seconds to wait."""
        return self.step.lasts or 0.0

    def _waited(self) -> float:
        """Seconds that have passed since the entry from which the wait runs."""
        from benchapp.sequences.planning.entry_times import seconds_between

        return max(0.0, seconds_between(self._began, self.context.bench.clock()))

    def _paint(self) -> None:
        needed, waited = self.needed, self._waited()
        left = max(0.0, needed - waited)
        self.clock.show_time(waited, needed)
        self.left.setText(tr("{time} left").format(time=time_words(left)))
        self.bar.setRange(0, max(1, round(needed * 10)))
        self.bar.setValue(round(min(waited, needed) * 10))
        self.button.setText(tr("The clock runs: stay with it") if left else tr("Enter: done, record it"))
        self.meanwhile.setVisible(self._dead and bool(left))  # only what is dead may be put aside
        if not left:
            self._tick.stop()

    def _press(self) -> None:
        from benchapp.sequences.kinds.wait import WaitAnswer

        self.request(record_answer, self.address(), WaitAnswer(seconds=self.needed))

    def hideEvent(self, event: QHideEvent) -> None:
        self._tick.stop()
        super().hideEvent(event)

    def hints(self) -> Sequence[Hint]:
        meanwhile = (hint("next", tr("the next unit meanwhile")),) if self._dead else ()
        return (hint("enter", tr("record the wait, once it is over")), *meanwhile)


class ComputePage(BenchPage):
    """A value that follows from earlier readings: shown with its band, recorded with Enter."""

    name = "compute"

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.gauge = Gauge(context.look, "compute-gauge")
        self.sentence = label("compute-sentence", "head")
        self.why = label("compute-why")
        self.button = button("compute-record", tr("Enter: record it"), "main")
        for widget in (self.gauge, self.sentence, self.why, self.button):
            self.body.addWidget(widget)
        self.body.addStretch(1)
        self.button.clicked.connect(self._record)

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        from benchapp.sequences.kinds.compute import ComputeAnswer

        tried = view.evaluate(ComputeAnswer(), self.context.bench.clock())
        self.gauge.show_content(gauge_content(self.step, tried, ()))
        self.sentence.setText(tried.complaint or tried.sentence)
        self.why.setText(why_words(self.step, tried))

    def take_focus(self) -> None:
        self.button.setFocus()

    def _record(self) -> None:
        from benchapp.sequences.kinds.compute import ComputeAnswer

        self.request(record_answer, self.address(), ComputeAnswer())

    def hints(self) -> Sequence[Hint]:
        return (hint("enter"),)
