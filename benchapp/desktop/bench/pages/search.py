"""Finding the fault: suspects in order, and the probe that would tell most, drawn with its two pins lit.

It is weighed off the window's thread (`actions.search_fault`); every reading taken here is recorded as an entry of its
own (`actions.record_probe`). What is typed meanwhile goes in, and is recorded for no pair that was not in sight then.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from benchapp.actions.entries.faults import record_fault
from benchapp.actions.entries.searching import record_probe, search_fault
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.circuit_pictures import circuit_picture
from benchapp.desktop.bench.finding import searchable
from benchapp.desktop.bench.hazard_words import before_opening
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.pages.probing_wire import ProbingWire
from benchapp.desktop.bench.reading_row import reading_row
from benchapp.desktop.bench.search_words import (
    Asked,
    agree_words,
    doubted_steps,
    drew_too_much,
    found_words,
    how_words,
    more_words,
    suspect_row,
    verdict,
    was_live,
    way_back_words,
)
from benchapp.desktop.bench.touching import parts_touched
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import add_action, key_text, with_key
from benchapp.desktop.pictures.circuit_view import CircuitView
from benchapp.desktop.widgets.choices import ChoiceList
from benchapp.desktop.widgets.face import FaceView
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.points import PointPair
from benchapp.desktop.widgets.scrolling import bring_into_sight, bring_row_into_sight
from benchapp.desktop.widgets.short_label import ShortLabel
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import key_button, label, panel
from benchapp.desktop.wires.reading_field import ReadingField
from benchapp.desktop.words import tr
from benchapp.wiring.model.probe_words import say_probes

if TYPE_CHECKING:
    from benchapp.actions.entries.searching import Search, SearchCache
    from benchapp.wiring.search.diagnosis import Suspect
    from benchapp.wiring.search.observations import Observation

_NARROW = 24


class SearchPage(BenchPage):
    """One probe after the other, until one part is left or no probe can tell the rest apart."""

    field: ReadingField
    name = "search"

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.face = FaceView(context.look, "search-face", calls=False)
        self.circuit = CircuitView(context.look, "search-circuit")
        self.pair = PointPair(context.look, self.face, self.circuit)
        self._own: tuple[str, str] | None = None
        self.power = label("search-power", "off", tr("LIVE: mains is on. Probes only at the outputs."))
        self.probe = label("search-probe", "head")
        self.how = label("search-how", "quiet")
        self.field = ReadingField()
        self.field.setObjectName("search-field")
        self.field.setProperty("kind", "reading")
        self.field.setAccessibleName(tr("Reading of the next probe"))
        self.suspects = ChoiceList(context.look, "search-suspects", tr("Suspects"), led=True)
        self.taken = label("search-taken", "quiet")
        self.more = label("search-more", "quiet")
        self.take = key_button("search-take", with_key("enter", tr("record")), "main")
        self.field_head = label("search-field-head", "head", tr("Reading"), wrap=False)
        self.inside = ShortLabel(context.look, "search-inside", "complaint")
        self.wire = ProbingWire(context, self.field, self)
        self._lay_out()
        self._search: Search | None = None
        self._before: SearchCache | None = None
        self._of = self._from = ""
        self._weighing = False
        self._typed_for: Asked | None = None
        self._stood = ""
        self.field.returnPressed.connect(self._take)
        self.wire.recorded.connect(self._take)
        self.take.clicked.connect(self._press)
        self.suspects.picked.connect(self._agree)
        self.pair.picked.connect(self._pick)
        self.field.textChanged.connect(self._note_pair)
        self.field.textEdited.connect(lambda _text: bring_into_sight(self.field))
        self.suspects.row_changed.connect(self.hints_changed)
        context.look.changed.connect(self._show_power)
        add_action(self, "agree", self._agree)

    def _lay_out(self) -> None:
        sheet = panel("search-sheet")
        right = QVBoxLayout(sheet)
        row = reading_row(self.context.look, self.field_head, self.field, self.take)
        for widget in (self.power, self.probe):
            right.addWidget(widget)
        right.addLayout(row)
        right.addWidget(self.wire.strip)
        right.addWidget(self.how)
        right.addWidget(label("search-suspects-head", "head", tr("Suspects, the likeliest first")))
        right.addWidget(self.suspects, 100)
        right.addWidget(self.taken)
        right.addWidget(self.more)
        right.addStretch(1)
        self.body.addWidget(self.inside)
        pictures = QWidget()
        left = QVBoxLayout(pictures)
        left.setContentsMargins(0, 0, 0, 0)
        left.addWidget(self.face, 2)
        left.addWidget(self.circuit, 3)
        self.body.addWidget(Split(self.context.look, pictures, sheet, shares=(1, 1), narrow=_NARROW), 1)

    # what is shown
    def fill(self, view: UnitView) -> None:
        """Weigh again; what the search knew of this unit's step stays in sight until the answer comes."""
        self._from = searchable(view)
        if self._of != f"{view.mark} {self.address()}":
            self._of, self._search = f"{view.mark} {self.address()}", None
            self.suspects.set_rows(())
            self._show_nothing_asked()
        self._own = None
        self.field.setText("")
        self.say.setText(tr("Weighing what was read so far …"))
        self.inside.show_lines("" if view.state.energised else before_opening(view, short=True))
        self.inside.setVisible(bool(self.inside.text()))
        self._weigh(view)

    def address(self) -> str:
        return f"search {self._from}"

    def take_focus(self) -> None:
        (self.field if self.field.isVisible() and self.field.isEnabled() else self).setFocus()
        self._bring_asked_into_sight()

    def _bring_asked_into_sight(self) -> None:
        """What has to be done first, or where the reading goes."""
        bring_into_sight(self.probe if self._waits_for_way_back() else self.field)

    def _weigh(self, view: UnitView) -> None:
        """Ask for the suspects; the page stays alive meanwhile, and an answer to an older question is dropped."""
        bench, address = self.context.bench, self._from
        known, before = (self._search.known if self._search is not None else None), self._before
        self._weighing = True
        self.pair.let_pick(False)
        self.wire.rest()
        self.context.tasks.read(
            lambda: search_fault(bench, view.mark, address, known, before=before),
            then=lambda search: self._show(view, search),
            refused=lambda sentence: self._refused(view, sentence),
        )

    def _refused(self, view: UnitView, sentence: str) -> None:
        if view is not self.view:
            return
        self._weighing = False
        self.say.setText(tr("The search cannot go on with these readings."))
        self.complained.emit(sentence)

    def _show(self, view: UnitView, search: "Search") -> None:
        if view is not self.view:
            return
        self._weighing, self._search, self._before = False, search, search.known
        self.say.setText(verdict(search, live=view.state.energised, no_power=drew_too_much(view)))
        self.suspects.set_rows(())
        self.suspects.set_rows([suspect_row(suspect) for suspect in search.diagnosis.suspects])
        asked = self.asked()
        self._show_asked(view, search, asked)
        self._show_circuit()
        self.pair.let_pick(True)
        self.more.setText(more_words(view, search, self._from))
        self.taken.setText("\n".join([tr("Probed in this search:"), *search.probed]) if search.probed else "")
        self.hints_changed.emit()
        self.take_focus()
        QTimer.singleShot(0, self, self._bring_asked_into_sight)  # once the new lines have their heights

    def _show_asked(self, view: UnitView, search: "Search", asked: Asked | None) -> None:
        """Draw the pair, name the meter; a dead pair on a unit with mains on waits for the way back."""
        if asked is None:
            self._show_nothing_asked()
            return
        self.probe.show()
        self.how.show()
        self._show_power()
        set_up = () if asked.live else search.set_up
        self.face.show_parts(parts_touched(view.plan, (asked.a, asked.b), set_up, alternating=asked.live))
        self._name_field(tr("Reading"), "V" if asked.live else "ohm")
        waits = self._waits_for_way_back()
        self.field.setEnabled(not waits)
        self.wire.rest() if waits else self.wire.ask(view, search, live=asked.live)
        # what has to be done first stands first: below a large field it would be out of sight on a small screen
        self.probe.setText(way_back_words() if waits else asked.words)
        self.how.setText(asked.words if waits else how_words(view, search, live=asked.live))

    def _show_power(self) -> None:
        """Say that mains is on, where there is room for it: the head of the page says it too."""
        asked = self.asked()
        self.power.setVisible(asked is not None and asked.live and not self.context.look.cramped)

    def _show_nothing_asked(self) -> None:
        """Only the field stands there, for a pair of one's own or for digits that come early."""
        self.face.show_parts([])
        self.wire.rest()
        for widget in (self.power, self.probe, self.how):
            widget.hide()
        self._name_field(tr("Another pair"), "")
        self.field.setEnabled(True)

    def _name_field(self, words: str, unit: str) -> None:
        """Say what the field takes now."""
        self.field_head.setText(words)
        self.field.setPlaceholderText(unit)

    def _show_circuit(self) -> None:
        """The circuit with the suspects numbered and the pair lit; away where large text leaves it no room."""
        search, view, asked = self._search, self.view, self.asked()
        if search is None or view is None or self.context.look.cramped:
            self.circuit.show_picture(None)
            return
        points = (asked.a, asked.b) if asked is not None else ()
        suspects = [(one.part, f"{max(1, round(100 * one.share))} %") for one in search.diagnosis.suspects]
        live = asked is not None and asked.live
        self.circuit.show_picture(circuit_picture(view, suspects, points, alternating=live))

    def _pick(self, a: str, b: str) -> None:
        """Two points of one's own choice: the field takes their reading."""
        if self._search is None or self.view is None or self._weighing:
            return
        self._own = (a, b)
        self._typed_for = self.asked()
        self._show_asked(self.view, self._search, self._typed_for)
        self._show_circuit()
        self.complained.emit("")
        self.hints_changed.emit()
        self.field.setFocus()

    def _waits_for_way_back(self) -> bool:
        asked = self.asked()
        return asked is not None and not asked.live and self.view is not None and self.view.state.energised

    def asked(self) -> Asked | None:
        """What to read next; a reading that nothing explains is taken again first, where it can be."""
        if self._search is None or self.view is None or self._weighing:
            return None
        diagnosis, circuit = self._search.diagnosis, self.view.plan.circuit
        if self._own is not None:
            live = self.view.state.energised and not self._search.no_live
            return Asked(
                a=self._own[0], b=self._own[1], words=say_probes(circuit, *self._own, alternating=live), live=live
            )
        again = next((observation for observation in diagnosis.inconsistent if self._can_read(observation)), None)
        if again is not None:
            live = was_live(again)
            probes = say_probes(circuit, again.a, again.b, alternating=live)
            said = tr("Once more, to be sure: {probes}").format(probes=probes[:1].lower() + probes[1:])
            return Asked(a=again.a, b=again.b, words=said, live=live)
        following = diagnosis.next_probe or diagnosis.single_support
        if following is None:
            return None
        return Asked(a=following.a, b=following.b, words=following.say, live=following.live)

    def _can_read(self, observation: "Observation") -> bool:
        """Whether a reading like this one can be taken beside the route now."""
        assert self._search is not None
        if str(observation.kind) == "current":
            return False  # no second try before the part is found
        return not self._search.no_live if was_live(observation) else True

    @property
    def doubted(self) -> str:
        """The step of the reading that disagrees most and that only the route can take again."""
        if self._search is None or self.view is None or self._weighing:
            return ""
        return next(iter(doubted_steps(self.view, self._search)), "")

    def set_up(self) -> tuple[str, ...]:
        """The set-up in which it is read."""
        return self._search.set_up if self._search is not None else ()

    # what is typed
    def _note_pair(self, text: str) -> None:
        """Remember which pair was in sight when the first digit came."""
        if not self._stood:
            self._typed_for = self.asked()
        self._stood = text

    def _press(self) -> None:  # the way back first, where it is waited for
        self.going.emit("way back") if self._waits_for_way_back() else self._take()

    def _take(self) -> None:
        """Record the reading of the probe that is asked for, or of the two terminals that were typed with it."""
        typed, asked = self.field.text().strip(), self.asked()
        if self.takes_scan(typed):
            return
        ends, equals, value = typed.partition("=")
        if self._weighing:
            self.complained.emit(tr("Still weighing the last reading: look where the probes go next, then Enter."))
        elif not typed and asked is None:
            ended = tr("The search has ended: {rows} marks a suspect, {agree} takes it over.")
            self.complained.emit(ended.format(rows=key_text("rows"), agree=key_text("agree")))
        elif not typed:
            self.complained.emit(tr("Type what the meter shows, then Enter. Over range is OL, or the * key."))
        elif equals:
            self._take_own(ends, value.strip())
        elif asked is not None and self._typed_for != asked:
            self._typed_for = asked
            self.complained.emit(tr("This was typed before the pair was shown. Look where the probes are, then Enter."))
        elif asked is not None:
            source, sent = self.wire.sources.of(typed)
            self.request(record_probe, self._from, asked.a, asked.b, typed, live=asked.live, source=source, sent=sent)
        else:
            self.complained.emit(tr("Name two terminals and the reading, as in outlet.1,outlet.4=OL."))

    def _take_own(self, ends: str, value: str) -> None:
        """Two terminals of one's own choice; volts are a live reading."""
        terminals = [end.strip() for end in ends.split(",")]
        if len(terminals) != 2:
            self.complained.emit(tr("Name two terminals and the reading, as in outlet.1,outlet.4=OL."))
            return
        self.request(record_probe, self._from, *terminals, value, live=value.endswith("V"))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        entered = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        by = {int(Qt.Key.Key_Up): -1, int(Qt.Key.Key_Down): 1}.get(event.key(), 0)
        if entered and self._waits_for_way_back():
            self._press()
        elif by:
            self.suspects.go_to(self.suspects.row_at_hand() + by)
            bring_row_into_sight(self.suspects)
        else:
            super().keyPressEvent(event)

    def marked(self) -> "Suspect | None":
        """The suspect that is marked: the likeliest, until another one is."""
        suspects = self._search.diagnosis.suspects if self._search is not None and not self._weighing else ()
        row = self.suspects.row_at_hand()
        return suspects[row] if 0 <= row < len(suspects) else None

    def _agree(self) -> None:
        """Take the marked suspect over: to the fault page, or to the repair of the fault that is on record.

        Where nothing is wrong, the reading that failed is taken again.
        """
        search, view, marked = self._search, self.view, self.marked()
        if marked is None or search is None or view is None:
            self.complained.emit(tr("There is no suspect yet."))
            return
        if not marked.part:
            self.going.emit("outcome" if drew_too_much(view) else self._from)
            return
        self.drop_draft()
        mode = str(marked.faults[0].mode) if marked.faults else ""
        found = {"part": marked.part, "mode": mode, "words": found_words(marked)}
        on_record = [one for one in view.state.faults if str(one.status) == "open" and one.address == self._from]
        if on_record and (on_record[0].part, on_record[0].mode) != (marked.part, mode):
            self.request(record_fault, **found, address=self._from, found_for=on_record[0].entry)
            self.going.emit("due")
            return
        page = f"repair {on_record[0].entry}" if on_record else f"fault {self._from}"
        self.context.drafts.keep(view.mark, page, found | {"by search": True})
        self.going.emit("due")

    def hideEvent(self, event: QHideEvent) -> None:
        """Another page is shown: nothing is read for this one."""
        super().hideEvent(event)
        self.wire.rest()

    def hints(self) -> Sequence[Hint]:
        agree, asked = hint("agree", agree_words(self.view, self.marked())), self.asked()
        point = hint("tick", tr("choose a point, by Tab and arrows"), minor=True)
        choose = hint("rows", tr("mark another suspect"), minor=asked is not None)
        back = hint("back", minor=True)
        again = (hint("again", tr("take that step again")),) if self.doubted else ()
        if asked is None:
            return (*again, choose, agree, point, back)
        if self._waits_for_way_back():
            return (hint("enter", tr("the way back, then on with the search")), *again, choose, agree, point, back)
        return (
            *again,
            *(() if asked.live else (hint("over range"),)),
            *([hint("take shown")] if self.wire.strip.watches else []),
            hint("enter", tr("record this reading")),
            choose,
            agree,
            point,
            back,
        )
