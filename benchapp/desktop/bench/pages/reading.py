"""The reading page, for measure and probe steps: the face, the field, the live gauge, why the band is what it is.

Each change of the field tries the answer (`Bench.evaluate`) without recording it; Enter records it. Nothing is
judged here.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.workbench.sound_currents import sound_currents
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.beside_reading import caution_words, ranges_of, sibling_words, stop_above
from benchapp.desktop.bench.budget_view import BudgetView
from benchapp.desktop.bench.finding import searchable
from benchapp.desktop.bench.gauge_view import band_of, gauge_content, why_words
from benchapp.desktop.bench.meter_pictures import meter_picture
from benchapp.desktop.bench.meters import meter_at_hand
from benchapp.desktop.bench.old_draft import OldDraft
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.picturing import picture_of
from benchapp.desktop.bench.plain_words import band_words, is_number_alone, this_meter, with_plain_band
from benchapp.desktop.bench.reading_row import reading_row
from benchapp.desktop.bench.touching import face_parts
from benchapp.desktop.bench.unit_view import UnitView, model_field
from benchapp.desktop.keys import add_action, with_key
from benchapp.desktop.pictures.view import PictureView
from benchapp.desktop.scanning.codes import unit_of_code
from benchapp.desktop.scanning.strokes import ENDS
from benchapp.desktop.widgets.face import FaceView
from benchapp.desktop.widgets.gauge import Gauge
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import key_button, label, panel
from benchapp.desktop.wires.keyboard_meter import types_itself, why_not_typed_by_meter
from benchapp.desktop.wires.reading_field import ReadingField
from benchapp.desktop.wires.sources import SourceOfReading, Taken
from benchapp.desktop.wires.strip import WireStrip
from benchapp.desktop.words import tr
from benchapp.judgement.statements.statements import opens_fault_search
from benchapp.sequences.language.vocabulary import ReadingSource
from benchapp.workbook.model.values import SiblingRow

if TYPE_CHECKING:
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.sequences.answering.readings import ReadingAnswer
    from benchapp.sequences.planning.state import Evaluation

READINGS_APART = ";"
TAKEN_AT_ONCE = ("pass", "not judged")
"""judgements with which a reading from the wire, or OL by its one key, is recorded at once; others wait for Enter"""
_NARROW = 24  # in heights of a line: below this the face stands above the field


class ReadingPage(BenchPage):
    """One reading of one step."""

    field: ReadingField
    name = "reading"

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.face = FaceView(context.look)
        self.line = PictureView(context.look, "reading-line")
        self.dial = PictureView(context.look, "reading-dial")
        self.field = ReadingField()
        self.field.setObjectName("reading-field")
        self.field.setProperty("kind", "reading")
        self.old = OldDraft(context, self.field)
        self.wire = WireStrip(context)
        self.sources = SourceOfReading()
        self.over = key_button("reading-over", with_key("over range", "OL"))
        self.take = key_button("reading-take", with_key("enter", tr("record")), "main")
        self.gauge = Gauge(context.look)
        self.meter = label("reading-meter", "quiet")
        self.sentence = label("reading-sentence", "head")
        self.stop = label("reading-stop", "off")
        self.again_head = label("reading-again-head", "head", tr("It failed before. Why is it read again?"))
        self.again = QLineEdit()
        self.again.setObjectName("reading-again")
        self.again.setAccessibleName(self.again_head.text())
        self.siblings = label("reading-siblings", "quiet")
        self.why = label("reading-why")
        self.budget = BudgetView()
        self.cautions = label("reading-cautions", "complaint")
        self._meter: MeterRecord | None = None
        self._range = ""
        self._failed = False
        self._evaluate: Evaluation | None = None
        self._siblings: tuple[SiblingRow, ...] = ()
        self._drawn: tuple[float, ...] = ()
        context.look.changed.connect(self._spare)  # before the halves look how much room there is
        self._lay_out()
        self.over.clicked.connect(self._take_over_range)
        self.field.over_range.connect(self._take_over_range)
        self.take.clicked.connect(self.record_it)
        self._spare()
        self.field.textChanged.connect(self._try)
        self.field.returnPressed.connect(self.record_it)
        self.field.shown_asked.connect(self.wire.take_shown)
        self.wire.taken.connect(self._take_sent)
        self.again.returnPressed.connect(self.record_it)
        add_action(self, "budget", self.budget.toggle)
        add_action(self, "range", self._next_range)

    def _lay_out(self) -> None:
        field_head = label("reading-field-head", "head", tr("Reading"), wrap=False)
        self.field.setAccessibleName(tr("Reading"))
        row = reading_row(self.context.look, field_head, self.field, self.over, self.take)
        sheet = panel("reading-sheet")
        right = QVBoxLayout(sheet)
        right.addLayout(row)
        right.addWidget(self.old)
        right.addWidget(self.wire)
        right.addWidget(self.again_head)
        right.addWidget(self.again)
        for widget in (self.gauge, self.sentence, self.siblings, self.meter, self.cautions, self.budget):
            right.addWidget(widget)
        self.why_head = label("reading-why-head", "head", tr("Why this band"))
        right.addWidget(self.why_head)
        right.addWidget(self.why)
        right.addStretch(1)
        self.body.insertWidget(0, self.stop)  # what sends a hand to the switch stands first
        pictures = QWidget()
        left = QVBoxLayout(pictures)
        left.setContentsMargins(0, 0, 0, 0)
        for picture, share in ((self.face, 5), (self.line, 5), (self.dial, 3)):
            left.addWidget(picture, share)
        self.body.addWidget(Split(self.context.look, pictures, sheet, shares=(9, 11), narrow=_NARROW), 1)

    def _spare(self) -> None:
        """Where text is large the dial gives way to the digits."""
        if self.view is not None and self.isVisible():
            self._show_dial()

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        self.face.show_parts(face_parts(view.plan, self.step))
        self.line.show_picture(picture_of(view) if not self.step.terminals else None)
        self._meter, self._range = meter_at_hand(view), ""
        self._ask_why(view)
        self._show_meter()
        self.cautions.setText(caution_words(view, self._meter))
        self.cautions.setVisible(bool(self.cautions.text()))
        self.field.setPlaceholderText(self.step.unit)
        self._siblings = self.context.bench.siblings(view.mark, self.step.address)
        self._drawn = sound_currents(self.context.bench, view.mark, self.step.address) if self._siblings else ()
        self.siblings.setVisible(bool(self._siblings))
        self.field.blockSignals(True)
        self.field.setText("")
        self.field.blockSignals(False)
        self._try("")
        self._show_dial()
        self.sources.forget()
        self.old.see({}, self._meter)
        self.wire.watch(view, self._meter)
        self.field.on_wire = self.wire.watches

    def hideEvent(self, event: QHideEvent) -> None:
        """Another page is shown: nothing is read for this one."""
        super().hideEvent(event)
        self.wire.rest()

    def _take_sent(self, taken: Taken) -> None:
        """Put into the field what came by wire; what was taken by itself and is good is recorded as Enter does.

        What a person typed there stays. Whatever is doubtful, or would fail, waits for a person.
        """
        if self.field.text().strip() and not self.sources.is_sent(self.field.text()):
            return
        self.sources.remember(taken)
        self.field.setText(taken.text)
        good = self._is_good
        if taken.source is ReadingSource.steady:
            self.wire.tell(good=good)
        elif self.step.way_back:
            return  # whoever has a hand at the keys may have lifted a probe: what says "dead" is looked at once more
        if good:
            self.record_it()

    def _take_over_range(self) -> None:
        """One key says OL and records it, where it is good and nothing else was typed."""
        typed = self.field.text().strip()
        self.field.setText("OL")
        if not typed and self._is_good:
            self.record_it()

    @property
    def _is_good(self) -> bool:
        """Whether what stands in the field asks nothing more of a person."""
        tried = self._evaluate
        if tried is None or tried.complaint or tried.questions or self.again.isVisibleTo(self):
            return False
        return str(tried.judgement) in TAKEN_AT_ONCE

    def _ask_why(self, view: UnitView) -> None:
        """Ask for a reason where the reading before was a failed one of safety."""
        from benchapp.sequences.interlock.read_again import failed_before

        known = view.state.evaluation
        failed = failed_before(known, self.step) if known is not None else None
        self.again.setText("")
        for widget in (self.again_head, self.again):
            widget.setVisible(failed is not None)

    def take_focus(self) -> None:
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)

    def given(self) -> "ReadingAnswer":
        """What stands on the page, as an answer: one reading, or several of the same with the probes left on."""
        from benchapp.sequences.answering.readings import ReadingAnswer

        meter = self._meter.meter if self._meter else ""
        typed, *repeats = readings_in(self.field.text()) or [""]
        why = self.again.text().strip()
        source, sent = self.sources.of(self.field.text())
        return ReadingAnswer(
            typed=typed,
            repeats=tuple(repeats),
            meter=meter,
            range=self._range,
            why=why,
            siblings=self._drawn,
            source=source,
            sent=sent,
        )

    def _show_meter(self) -> None:
        function = self.step.read_on
        if self._meter is None:
            self.meter.setText(function)
            return
        on = tr("range to {name}").format(name=self._range) if self._range else tr("range by itself")
        self.meter.setText(
            tr("{function}, with {meter}, {range}").format(function=function, meter=self._meter.title, range=on)
        )

    def _show_dial(self) -> None:
        """The meter as it has to stand; away where the line shows it, or where large text leaves the face the room."""
        spared = not self.line.isHidden() or (self.context.look.cramped and not self.face.isHidden())
        shown = self._meter is not None and self._evaluate is not None and not spared
        if shown and self._meter is not None and self._evaluate is not None:
            self.dial.show_picture(meter_picture(self.unit, self._meter, self._evaluate))
        else:
            self.dial.show_picture(None)

    def _next_range(self) -> None:
        """From a range that the meter chooses by itself to each of its own, smallest first, and round."""
        if self._meter is None:
            return
        names = ["", *ranges_of(self._meter, self.step.read_on)]
        self._range = names[(names.index(self._range) + 1) % len(names)]
        self._show_meter()
        self._try(self.field.text())

    def _try(self, text: str) -> None:
        """Show what the answer would be worth."""
        tried = self.unit.evaluate(self.given(), self.context.bench.clock())
        self._evaluate = tried
        above = stop_above(self.step, tried)
        said = tr("Off at once above {value}. {words}").format(
            value=above, words=model_field(self.step, "stop_words", "") if not self.context.look.cramped else ""
        )
        self.stop.setText(said.strip())
        self.stop.setVisible(bool(above))
        content = gauge_content(self.step, tried, tuple(one.value for one in self._siblings))
        self.gauge.show_content(content)
        self.why.setText(why_words(self.step, tried, stop_said=bool(above)))
        band = band_of(self.step, tried)
        should = tr("It should read {band}. Why:").format(band=band_words(band)) if band is not None else ""
        self.why_head.setText(should or tr("Why this band"))
        self.budget.show_evaluation(tried)
        self.siblings.setText(sibling_words(self._siblings, self.step, tried))
        decided = tried.decision.value if tried.decision is not None else None
        said_once = dict.fromkeys(with_plain_band(one, band, decided) for one in (tried.sentence, *tried.questions))
        self.sentence.setText(" ".join(said_once).strip() if text.strip() else "")
        self.complained.emit(self._complaint() if text.strip() and not _half_typed(text) else "")
        if self.fails != self._failed:
            self._failed = self.fails
            self.hints_changed.emit()

    def _complaint(self) -> str:
        """Why it cannot be recorded; of a number alone, as what it was taken."""
        said = (self._evaluate.complaint if self._evaluate is not None else None) or ""
        said = this_meter(said, self._meter.meter) if self._meter is not None else said
        if not said or not self.step.unit or not is_number_alone(self.field.text()):
            return said
        taken = tr("Without a unit it is taken as {typed} {unit}: type the unit too where the meter shows another.")
        return f"{said} {taken.format(typed=self.field.text().strip(), unit=self.step.unit)}"

    @property
    def fails(self) -> bool:
        tried = self._evaluate
        judged = str(tried.judgement) if tried is not None and not tried.complaint and self.field.text().strip() else ""
        step = self.view.step if self.view is not None else None
        return opens_fault_search(judged) and step is not None and not step.way_back

    def record_it(self) -> None:
        if not self.sources.is_sent(self.field.text()) and self.takes_scan(self.field.text()):
            return
        if not self.field.text().strip():
            self.complained.emit(tr("Type what the meter shows, then Enter. Over range is OL, or the * key."))
            return
        if self.old.is_old:
            self.complained.emit(self.old.text())
            return
        if self._evaluate is not None and self._evaluate.complaint:
            self.complained.emit(self._complaint())
            return
        self.request(record_answer, self.address(), self.given())

    def take_burst(self, text: str) -> bool:
        """Record what a meter that types has typed, as its own Enter does; whatever is doubtful waits for a person.

        A unit's tag is none of this page's, nor is anything where the meter in hand is none that types.
        """
        bench, typed = self.context.bench, text.strip()
        armed = self._meter is not None and self.field.hasFocus() and types_itself(bench, self._meter)
        if not armed or unit_of_code(bench, typed):
            return False
        stands = self.field.text().strip()
        said = why_not_typed_by_meter(self.step, typed, stands=stands)
        if said is None or (said.keeps and not stands):
            self.sources.remember(Taken(text=typed, sent=typed, source=ReadingSource.keyboard))
            self.field.setText(typed)
        if said is not None:
            self.complained.emit(said.words)
        elif text.endswith(ENDS):
            self.record_it()
        return True

    def hints(self) -> Sequence[Hint]:
        find = self.fails or (self.view is not None and bool(searchable(self.view)))
        words = tr("record and find the fault") if self.fails else tr("find the fault")
        return (
            hint("digits", minor=True),
            hint("over range", placed=not self.context.look.cramped),
            *([hint("take shown")] if self.wire.watches else []),
            hint("one more", minor=True),
            hint("enter", placed=not self.context.look.cramped),
            *([hint("search", words)] if find else []),
            hint("meter", minor=True),
            hint("range", minor=True),
            hint("budget", minor=True),
        )

    def draft(self) -> Mapping[str, Any]:
        return {**super().draft(), "range": self._range, "again": self.again.text()}

    def draft_stamp(self) -> Mapping[str, Any]:
        return self.old.stamp(self._meter)

    def restore(self, draft: Mapping[str, Any]) -> None:
        known = ranges_of(self._meter, self.view.step.read_on) if self._meter and self.view and self.view.step else ()
        self._range = draft.get("range", "") if draft.get("range") in known else ""
        self.again.setText(str(draft.get("again", "")))
        self._show_meter()
        super().restore(draft)
        self.old.see(draft, self._meter)


def readings_in(text: str) -> list[str]:
    """The readings that were typed one after the other, with semicolons between them."""
    return [one.strip() for one in text.split(READINGS_APART) if one.strip()]


def _half_typed(text: str) -> bool:
    """A number whose unit or last digit is still to come is no mistake yet."""
    return text.strip()[-1:] in ".,-" or text.strip().lower() in ("o", ">", "<")
