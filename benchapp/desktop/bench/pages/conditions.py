"""The pages for what a reading rests on: a caution to acknowledge, a meter to take in hand, a step that is shut."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from benchapp.actions.entries.conditions import record_caution, record_meter
from benchapp.actions.entries.outcome import accept, open_supervised
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.meter_pictures import dial_picture
from benchapp.desktop.bench.meters import meter_at_hand
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.pages.mishaps import EventPage
from benchapp.desktop.bench.pages.rows import NARROW, RowsPage
from benchapp.desktop.bench.picturing import caution_picture
from benchapp.desktop.bench.plain_words import this_meter, without_id
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import add_action, key_text, with_key
from benchapp.desktop.pictures.view import PictureView
from benchapp.desktop.theme.signs import Shape, Sign, Tone
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.scrolling import read_on
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import field, key_button, label
from benchapp.desktop.words import tr
from benchapp.sequences.planning.entries import Accepted

if TYPE_CHECKING:
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.sequences.planning.planned import OwnText
    from benchapp.sequences.planning.state import Condition

HOLDS = Sign(shape=Shape.tick, word="holds", tone=Tone.good)
MISSING = Sign(shape=Shape.gate, word="missing", tone=Tone.bad)
FIT = Sign(shape=Shape.tick, word="fit", tone=Tone.good)
DOUBTFUL = Sign(shape=Shape.wave_up, word="see below", tone=Tone.doubt)
UNFIT = Sign(shape=Shape.cross, word="not for this", tone=Tone.bad)


class CautionPage(BenchPage):
    """What can hurt here and what to do about it; acknowledged with a key that nothing else uses."""

    name = "caution"

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.title = label("caution-title", "off")
        self.words = label("caution-words", "say")
        self.source = label("caution-source", "quiet")
        self.picture = PictureView(context.look, "caution-picture")
        self.understood = key_button("caution-understood", with_key("understood", tr("I have read it")), "main")
        self.understood.clicked.connect(self._understand)
        self.body.insertWidget(0, self.title)
        words = QWidget()
        column = QVBoxLayout(words)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.words, self.source, self.understood):
            column.addWidget(widget)
        column.addStretch(1)
        halves = Split(context.look, self.picture, words, shares=(1, 4), narrow=NARROW, first_below=True)
        self.body.addWidget(halves, 1)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._caution = ""
        add_action(self, "understood", self._understand)

    def _understand(self) -> None:
        """Take it as read, where all of it has been in sight; else show what stands below first."""
        if read_on(self.words):
            self.complained.emit(tr("There is more below: read on, then {key}.").format(key=key_text("understood")))
        else:
            self.request(record_caution, self._caution)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter is none of this page, and says so."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            words = tr("Read it to its end, then {key}: Enter takes no caution.")
            self.complained.emit(words.format(key=key_text("understood")))
        super().keyPressEvent(event)

    def fill(self, view: UnitView) -> None:
        from benchapp.sequences.interlock.due import caution_words

        self._caution = view.state.due.subject
        caution = view.plan.cautions.get(self._caution)
        title = caution.title if caution else self._caution
        self.title.setText(tr("Caution: {title}").format(title=title))
        self.picture.show_picture(caution_picture(self._caution, title))
        self.say.setText(tr("Read this before going on."))
        lines = caution.words if caution else (caution_words(view.plan, self._caution),)
        self.words.setText("\n".join(f"•  {line}" for line in lines))
        self.source.setText(tr("Source: {source}").format(source=caution.source) if caution else "")
        self.setAccessibleDescription(f"{self.title.text()}. {self.words.text()}")

    def own_texts_of(self, view: UnitView) -> "Iterable[OwnText]":
        """What the workshop added to the caution."""
        return (one for one in view.plan.own_texts if (one.kind, one.ident) == ("caution", self._caution))

    def address(self) -> str:
        return f"caution {self._caution}"

    def hints(self) -> Sequence[Hint]:
        return (hint("understood"),)


def no_meter_words() -> str:
    """What to do where no meter that the unit's run knows does what is asked for."""
    words = tr(
        "There is none that does. {meters} takes one in. Then {event}, “{choice}”, gives it to this unit; "
        "its answers stay."
    )
    choice = tr(dict(EventPage.choices)["design"])
    return words.format(meters=key_text("meters"), event=key_text("event"), choice=choice)


class MeterPage(RowsPage):
    """Which meter is in hand from here on; one out of calibration must be accepted knowingly."""

    name = "meter"
    title = "Meters"
    of_answers = True
    of_a_step = False
    pictured = True

    def own_texts_of(self, view: UnitView) -> "Iterable[OwnText]":
        """Records of the workshop's own that stand in place of shipped ones."""
        return (one for one in view.plan.own_texts if one.kind == "meter")

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.column.addStretch(1)
        self._meters: list[MeterRecord] = []
        self._function: Function | None = None
        self._overdue_accepted = ""
        self.list.row_changed.connect(self._show_meter)

    def fill(self, view: UnitView) -> None:
        function = view.state.due.subject or (view.step.function if view.step else "")
        asked = tr("Take a meter in hand for {function}.").format(function=function)
        said = view.state.due.words if str(view.state.due.kind) == "meter" else asked
        off = tr("Leads off every pin first: this unit may be live.")
        self.say.setText(f"{off} {said}" if view.state.energised else said)
        if not view.state.due.meters:
            self.say.setText(f"{said} {no_meter_words()}")
        self._function = view.step.function if view.step is not None else None
        self._meters = [view.plan.meters[meter] for meter, _why in view.state.due.meters]
        self._unfit = dict(view.state.due.meters)
        self._overdue_accepted = ""
        opening = self.context.bench.opening()
        proved = {proof.meter for proof in opening.meters if proof.proved} if opening else set()
        self.list.set_rows(())
        self.list.set_rows([self._row(number, meter, proved, view) for number, meter in enumerate(self._meters, 1)])
        self._show_meter()

    def _show_meter(self) -> None:
        """The meter of the row at hand, else the first that is fit, its dial on what is to be read."""
        here = self.list.row_at_hand()
        fit = [one for one in self._meters if not self._unfit.get(one.meter)] or self._meters
        shown = self._meters[here] if 0 <= here < len(self._meters) else fit[0] if fit else None
        known = shown is not None and self._function in shown.functions
        self.picture.show_picture(dial_picture(shown, self._function) if known and shown and self._function else None)

    def _row(self, number: int, meter: "MeterRecord", proved: set[str], view: UnitView) -> Row:
        from datetime import date

        today = date.fromisoformat(view.state.at[:10])
        known = meter.meter in proved
        not_proved = tr("Not proved today: {key} opens the bench.").format(key=key_text("opening"))
        first = tr("Proved at today's bench opening.") if known else not_proved
        unfit = this_meter(self._unfit[meter.meter], meter.meter)
        detail = f"{without_id(meter.calibration_words(today), meter.meter)} {first}"
        at_hand = meter_at_hand(view)
        if at_hand is not None and at_hand.meter == meter.meter:
            detail = tr("In hand now. {more}").format(more=detail)
        good = known and not unfit and not meter.is_overdue(today)
        sign = FIT if good else UNFIT if unfit else DOUBTFUL
        return Row(words=f"{meter.title}", detail=unfit or detail, key=str(number), sign=sign)

    def choose(self, number: int) -> None:
        if not 0 <= number < len(self._meters):
            return
        if unfit := self._unfit[self._meters[number].meter]:
            why = this_meter(unfit, self._meters[number].meter)
            self.complained.emit(tr("{why}. Take another.").format(why=why))
            return
        from datetime import date

        meter = self._meters[number]
        overdue = meter.is_overdue(date.fromisoformat(self.unit.state.at[:10]))
        if overdue and self._overdue_accepted != meter.meter:
            self._overdue_accepted = meter.meter
            self.complained.emit(
                tr(
                    "The calibration of {meter} is overdue. Choose it once more to accept that knowingly: "
                    "the record says so."
                ).format(meter=meter.title)
            )
            return
        self.request(record_meter, meter.meter, accept_overdue=overdue)

    def hints(self) -> Sequence[Hint]:
        return (hint("this meter"), hint("opening"))


class ShutPage(RowsPage):
    """A step that is shut: each condition, whether it holds, and Enter to go where a missing one is fulfilled."""

    name = "shut"
    title = "Conditions"
    of_a_step = False

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self._accepts = ""
        self.reason_head = label("shut-reason-head", "head")
        self.opening = field("shut-reason", tr("A supervisor's reason"))
        self.opening.returnPressed.connect(self._supervise)
        self.body.addWidget(self.reason_head)
        self.body.addWidget(self.opening)
        self.body.addStretch(1)

    def fill(self, view: UnitView) -> None:
        self.say.setText(view.state.due.words or tr("This step is shut."))
        wanted = view.state.due.missing
        known = {missing.id for missing in wanted}
        self._rows = [*wanted, *(row for row in view.conditions_of(view.supply) if row.id not in known)]
        self.list.set_rows(())
        self.list.set_rows([self._row(number, row) for number, row in enumerate(self._rows, 1)])
        self.list.setVisible(bool(self._rows))
        barred = any(row.id == "insulation" for row in wanted) and not view.plan.workshop.insulation_tester
        self._accepts = "" if barred else next((row.accepts for row in wanted if row.accepts), "")
        self.opening.setText("")
        opens = tr("A supervisor may open limited supply for this unit, under the initials above.")
        accepts = tr("A supervisor may accept {what} of this unit, under the initials above.")
        offered = opens if barred else accepts.format(what=self._accepts)
        self.reason_head.setText(f"{offered} {tr('The reason, then Enter:')}")
        for widget in (self.reason_head, self.opening):
            widget.setVisible(barred or bool(self._accepts))

    def _row(self, number: int, row: "Condition") -> Row:
        holds = row.holds
        why = row.why.removesuffix(".")
        there = tr("{why}. Enter goes there.").format(why=why) if why else tr("Enter goes there.")
        detail = there if not holds and row.go_to else row.why
        return Row(words=row.words, detail=detail.strip(), key=str(number), sign=HOLDS if holds else MISSING)

    def _supervise(self) -> None:
        reason = self.opening.text().strip()
        if self._accepts:
            self.request(accept, Accepted(self._accepts), reason=reason)
        else:
            self.request(open_supervised, reason=reason)

    def take_focus(self) -> None:
        (self.list if self._rows else self).setFocus()

    def choose(self, number: int) -> None:
        if not 0 <= number < len(self._rows):
            return
        row = self._rows[number]
        if row.holds:
            self.complained.emit(tr("This condition holds."))
        elif row.go_to:
            self.going.emit(row.go_to)
        else:
            self.complained.emit(row.why or tr("There is no step that fulfils this; see what it says."))

    def hints(self) -> Sequence[Hint]:
        return (hint("enter", tr("go there")), hint("next"), hint("outcome"))
