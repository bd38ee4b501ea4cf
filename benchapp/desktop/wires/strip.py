"""The strip on the reading page that shows a meter on a wire: what it reads now, and when a touch is taken.

Armed by the page. A touch is taken once, when it stands still, with a tone and a flash; what never is taken by itself
(over range, the way back, the leads) is taken by key, as anything else may be.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QApplication, QCheckBox, QFrame, QHBoxLayout, QVBoxLayout

from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import key_text, with_key
from benchapp.desktop.widgets.texts import button, label, restyle
from benchapp.desktop.wires.sources import Taken
from benchapp.desktop.words import tr
from benchapp.sequences.language.vocabulary import ReadingSource

if TYPE_CHECKING:
    from benchapp.judgement.meters.functions import Function
    from benchapp.judgement.meters.records import MeterRecord
    from benchapp.meters.sent_reading import SentReading
    from benchapp.meters.steady import Steadiness, Touch

FLASH = 400
"""milliseconds"""


class WireStrip(QFrame):
    """Hidden while no meter on a wire is in hand."""

    taken = Signal(object)
    """a `Taken`"""

    def __init__(self, context: AppContext) -> None:
        super().__init__()
        self.setObjectName("wire")
        self.setProperty("kind", "panel")
        self._live = context.live_meter
        self._context = context
        self.shows = label("wire-shows", "head", wrap=False)
        self.says = label("wire-says", "quiet")
        self.problem = label("wire-problem", "complaint")
        self.by_key = button("wire-take", with_key("take shown", tr("Take what it shows")))
        self.by_key.clicked.connect(self.take_shown)
        self.by_itself = QCheckBox(tr("Take it when it stands still"))
        self.by_itself.setObjectName("wire-by-itself")
        self.by_itself.setAccessibleName(self.by_itself.text())
        self.by_itself.setChecked(True)
        self.by_itself.toggled.connect(self._arm)
        self._row = row = QHBoxLayout()
        for widget in (self.shows, self.says):
            row.addWidget(widget, 1)
        keys = QHBoxLayout()
        for part in (self.by_key, self.by_itself):
            keys.addWidget(part)
        keys.addStretch(1)
        layout = QVBoxLayout(self)
        layout.addLayout(row)
        layout.addWidget(self.problem)
        layout.addLayout(keys)
        self._record: MeterRecord | None = None
        self._function: Function | None = None
        self._asked = 0
        self._never = ""
        self._rule: Steadiness | None = None
        self._touch: Touch | None = None
        self._last: SentReading | None = None
        self._flash = QTimer(self)
        self._flash.setObjectName("wire-flash")
        self._flash.setSingleShot(True)
        self._flash.setInterval(FLASH)
        self._second_tone = QTimer(self)
        self._second_tone.setSingleShot(True)
        self._second_tone.setInterval(FLASH // 2)
        self._second_tone.timeout.connect(QApplication.beep)
        self._flash.timeout.connect(lambda: restyle(self.shows, "head"))
        self._live.arrived.connect(self._see)
        self._live.failed.connect(self._fail)
        self._live.silent.connect(self._miss)
        self._live.was_set.connect(self._say_set)
        self.hide()

    def lie_flat(self) -> None:
        """Put its key beside what it says: for a page that has the width and not the height."""
        self._row.addWidget(self.by_key)

    @property
    def watches(self) -> bool:
        """Whether a meter is read for this page now."""
        return self._record is not None

    def watch(self, view: UnitView, meter: "MeterRecord | None") -> None:
        """Read the meter in hand for the step at hand, where it hangs on a wire."""
        from benchapp.sequences.interlock.reading_sources import never_by_itself

        if view.step is None:
            self.rest()
        else:
            self.watch_function(meter, view.step.read_on, live=view.live, never=never_by_itself(view.step))

    def watch_function(
        self, meter: "MeterRecord | None", function: "Function | None", *, live: bool, never: str = ""
    ) -> None:
        """Read that function of the meter, at the address of today's file; `never` says why nothing is taken by itself.

        With mains or charge about (`live`) nobody turns a meter to ohms or amperes from afar.
        """
        wire = self._context.bench.wire_of(meter.meter) if meter is not None else None
        self.problem.hide()
        if meter is None or function is None or wire is None or wire.dialect == "keyboard":
            self.rest()
            return
        record = meter.model_copy(update={"wire": wire})
        from benchapp.judgement.meters.functions import VOLTAGES

        self._record, self._function, self._never, self._last = record, function, never, None
        self.shows.setText(tr("{meter}: …").format(meter=record.meter))
        self._arm()
        self._asked = self._live.begin(record, function, may_set=function in VOLTAGES or not live)
        self.show()

    def rest(self) -> None:
        """No meter is read for this page any more."""
        if self._record is not None:
            self._live.rest(self._asked)
        self._second_tone.stop()
        if self._flash.isActive():
            self._flash.stop()
            restyle(self.shows, "head")
        self._record = self._function = self._rule = self._touch = self._last = None
        self.hide()

    def _arm(self) -> None:
        """From here on one touch is caught, once the probes were seen off."""
        if self._record is None or self._function is None:
            return
        from benchapp.meters.steady import Touch, rule_for

        never = self._never
        self.by_itself.setVisible(not never)
        rule = rule_for(self._function) if not never and self.by_itself.isChecked() else None
        self._rule, self._touch = rule, Touch()
        key = key_text("take shown")
        if rule is not None:
            self.says.setText(tr("Lift the probes once, then touch the two points."))
        elif never:
            self.says.setText(tr("Never by itself here: {why}. Look, then {key}.").format(why=never, key=key))
        else:
            self.says.setText(tr("{key} takes what it shows.").format(key=key))

    def _see(self, sent: "SentReading") -> None:
        if self._record is None or self._function is None:
            return
        from benchapp.meters.sent_reading import count_of, field_text

        self._last = sent
        self.problem.hide()
        count = count_of(self._record, self._function, sent.reading)
        text = field_text(sent.reading, count)
        self.shows.setText(tr("{meter}: {reading}").format(meter=self._record.meter, reading=text))
        if self._rule is not None and self._touch is not None:
            self._follow(sent, count)

    def _follow(self, sent: "SentReading", count: float | None) -> None:
        from benchapp.meters.steady import Sample, follow

        assert self._touch is not None
        assert self._rule is not None
        sample = Sample(at=sent.at, value=sent.reading.si, count=count or 0.0)
        ready = self._touch.ready
        self._touch, caught = follow(self._touch, sample, self._rule)
        if caught is not None:
            self.says.setText(tr("It stands still."))
            self._take(sent, ReadingSource.steady)
        elif self._touch.ready:
            still = bool(self._touch.window)
            self.says.setText(tr("Hold still …") if still else tr("Touch the two points."))
        elif ready:
            self.says.setText(tr("Lift the probes once, then touch the two points."))

    def take_shown(self) -> None:
        """Take what the meter shows now: a person has looked at it."""
        if self._record is None:
            return
        if self._last is None or not self.problem.isHidden():
            self.says.setText(tr("There is no reading to take yet: look at the meter."))
            return
        self._take(self._last, ReadingSource.wire)

    def _take(self, sent: "SentReading", source: ReadingSource) -> None:
        from benchapp.meters.sent_reading import count_of, field_text

        assert self._record is not None
        assert self._function is not None
        text = field_text(sent.reading, count_of(self._record, self._function, sent.reading))
        self.taken.emit(Taken(text=text, sent=sent.sent, source=source))

    def tell(self, *, good: bool) -> None:
        """A tone and a flash: it was taken, or it waits for a person (two tones)."""
        QApplication.beep()
        if not good:
            self._second_tone.start()
            self.says.setText(tr("It stands still, and waits: Enter records it; lift and touch to read it anew."))
        restyle(self.shows, "taken" if good else "complaint")
        self._flash.start()

    def _say_set(self) -> None:
        if self._record is not None and self._function is not None:
            said = tr("It was set to {function} through the wire: leads that were nulled are nulled again first.")
            stays = self.says.text() if self._rule is None else ""  # why it is taken by key is said as long as it is so
            self.says.setText(f"{stays} {said.format(function=self._function)}".strip())

    def _miss(self, sentence: str) -> None:
        """A tester sends when its own key is pressed and keeps what it showed; another that is silent shows nothing."""
        from benchapp.judgement.meters.wire import DRIVES_THE_UNIT

        if self._record is None or (self._function in DRIVES_THE_UNIT and self._last is not None):
            return
        self._fail(sentence)

    def _fail(self, sentence: str) -> None:
        """What was read before says nothing any more: the probes may be anywhere."""
        if self._record is None:
            return
        self._last = None
        self.shows.setText(tr("{meter}: no reading").format(meter=self._record.meter))
        self.problem.setText(sentence)
        self.problem.show()
        self._arm()
