"""Finding the fault: suspects in order, and the probe that would tell most, drawn with its two pins lit.

The weighing is done off the window's thread (`actions.search_fault`); every reading taken here is recorded as an entry
of its own (`actions.record_probe`) and nothing is decided on the page.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from benchapp import actions
from benchapp.desktop.bench.page import BenchPage
from benchapp.desktop.bench.pages.reading import ReadingField
from benchapp.desktop.bench.touching import parts_touched
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.desk import Desk
from benchapp.desktop.widgets.choices import ChoiceList, Row
from benchapp.desktop.widgets.face import FaceView
from benchapp.desktop.widgets.hints import Hint
from benchapp.desktop.widgets.split import Split
from benchapp.desktop.widgets.texts import label, panel
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions import Search
    from benchapp.wiring.clues import Clue
    from benchapp.wiring.locate import Suspect

_NARROW = 30


class SearchPage(BenchPage):
    """One probe after the other, until one part is left or no probe can tell the rest apart."""

    name = "search"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.face = FaceView(desk.look, "search-face")
        self.probe = label("search-probe", "head")
        self.how = label("search-how", "quiet")
        self.field = ReadingField()
        self.field.setObjectName("search-field")
        self.field.setProperty("kind", "reading")
        self.field.setAccessibleName(tr("Reading of the next probe"))
        self.field.setPlaceholderText("ohm")
        self.suspects = ChoiceList(desk.look, "search-suspects", tr("Suspects"), passive=True)
        self.taken = label("search-taken", "quiet")
        self._lay_out()
        self._search: Search | None = None
        self._of = ""
        self.field.returnPressed.connect(self._take)

    def _lay_out(self) -> None:
        sheet = panel("search-sheet")
        right = QVBoxLayout(sheet)
        row = QHBoxLayout()
        head = label("search-field-head", "head", tr("Reading"), wrap=False)
        head.setBuddy(self.field)
        row.addWidget(head)
        row.addWidget(self.field, 1)
        self._next = QWidget()
        below = QVBoxLayout(self._next)
        below.setContentsMargins(0, 0, 0, 0)
        below.addWidget(self.probe)
        below.addWidget(self.how)
        below.addLayout(row)
        right.addWidget(self._next)
        right.addWidget(label("search-suspects-head", "head", tr("Suspects, the likeliest first")))
        right.addWidget(self.suspects, 100)
        right.addWidget(self.taken)
        right.addStretch(1)
        self.body.addWidget(Split(self.desk.look, self.face, sheet, shares=(2, 3), narrow=_NARROW), 1)

    def fill(self, view: UnitView) -> None:
        """Weigh again; what the search knew of this unit's step stays in sight until the answer comes."""
        if self._of != f"{view.mark} {self.address()}":
            self._of, self._search = f"{view.mark} {self.address()}", None
            self.suspects.set_rows(())
            self.face.show_parts([])
            self._next.hide()
        self.field.clear()
        self.say.setText(tr("Weighing what was read so far …"))
        self._weigh(view)

    def address(self) -> str:
        return f"search {super().address()}"

    def draft(self) -> Mapping[str, Any]:
        return {"typed": self.field.text()} if self.field.text() else {}

    def restore(self, draft: Mapping[str, Any]) -> None:
        self.field.setText(draft.get("typed", ""))

    def take_focus(self) -> None:
        (self.field if self.field.isVisible() else self).setFocus()

    def _step(self) -> str:
        return self.view.step.address if self.view is not None and self.view.step else ""

    def _weigh(self, view: UnitView) -> None:
        """Ask for the suspects; the page stays alive meanwhile."""
        bench, address = self.desk.bench, view.step.address if view.step else ""
        history = self._search.history if self._search is not None else None
        self.desk.errands.read(
            lambda: (view, actions.search_fault(bench, view.mark, address, history)),
            then=self._show,
            refused=self._refused,
        )

    def _refused(self, sentence: str) -> None:
        self.say.setText(tr("The search cannot go on with these readings."))
        self.complained.emit(sentence)

    def _show(self, answer: "tuple[UnitView, Search]") -> None:
        view, search = answer
        if view is not self.view:
            return
        self._search = search
        findings = search.findings
        self.say.setText(_verdict(search))
        self.suspects.set_rows(())
        self.suspects.set_rows([_row(suspect) for suspect in findings.suspects])
        asked = self.asked()
        self._next.setVisible(asked is not None)
        if asked is not None:
            a, b, words = asked
            self.probe.setText(words)
            self.face.show_parts(parts_touched(view.plan, (a, b)))
            self.how.setText(_how(search))
        else:
            self.face.show_parts([])
        self.taken.setText("\n".join([tr("Probed in this search:"), *search.probed]) if search.probed else "")
        self.hints_changed.emit()
        self.take_focus()

    def asked(self) -> tuple[str, str, str] | None:
        """The two terminals to read next and the words for it: a reading that nothing explains comes first."""
        if self._search is None or self.view is None:
            return None
        findings, circuit = self._search.findings, self.view.plan.circuit
        again = _dead(findings.disagreeing)
        if again is not None:
            words = tr("Once more, to be sure: black probe on {a}, red probe on {b}.")
            return again.a, again.b, words.format(a=circuit.say(again.a), b=circuit.say(again.b))
        following = findings.next_probe
        return (following.a, following.b, following.say) if following is not None else None

    def set_up(self) -> tuple[str, ...]:
        """The set-up in which it is read."""
        return self._search.set_up if self._search is not None else ()

    def _take(self) -> None:
        """Record the reading of the probe that is asked for, or of the two terminals that were typed with it."""
        typed, asked = self.field.text().strip(), self.asked()
        if not typed:
            self.complained.emit(tr("Type what the meter shows, then Enter. Over range is OL, or the * key."))
            return
        ends, equals, value = typed.partition("=")
        terminals = [end.strip() for end in ends.split(",")] if equals else []
        if equals and len(terminals) != 2:
            self.complained.emit(tr("Name two terminals and the reading, as in outlet.1,outlet.4=OL."))
        elif equals:
            self.wish(actions.record_probe, self._step(), *terminals, value.strip())
        elif asked is not None:
            self.wish(actions.record_probe, self._step(), asked[0], asked[1], typed)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        with_control = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and with_control:
            self._agree()
        else:
            super().keyPressEvent(event)

    def _agree(self) -> None:
        """Take the likeliest suspect to the fault page, with what was read on the way."""
        search, view = self._search, self.view
        suspects = [suspect for suspect in search.findings.suspects if suspect.part] if search else []
        if not suspects or search is None or view is None:
            self.complained.emit(tr("There is no suspect yet."))
            return
        first = suspects[0]
        words = f"{first.words}. {tr('Found by')}: {'; '.join(search.probed)}." if search.probed else f"{first.words}."
        mode = str(first.faults[0].mode) if first.faults else ""
        self.drop_draft()
        self.desk.drafts.keep(view.mark, f"fault {self._step()}", {"part": first.part, "mode": mode, "words": words})
        self.going.emit("due")

    def hints(self) -> Sequence[Hint]:
        agree = Hint(key="Ctrl+Enter", words=tr("the first suspect is the fault"))
        back = Hint(key="Esc", words=tr("back"))
        if self.asked() is None:
            return (agree, back)
        return (
            Hint(key="*", words=tr("OL, over range")),
            Hint(key="Enter", words=tr("record and weigh this reading")),
            agree,
            back,
        )


def _dead(clues: "Sequence[Clue]") -> "Clue | None":
    """The first reading among these that an ohmmeter can take again."""
    return next((clue for clue in clues if str(clue.kind) == "resistance"), None)


def _verdict(search: "Search") -> str:
    """Where the search stands, and what ends it."""
    findings = search.findings
    if findings.disagreeing:
        return findings.sentence
    if findings.found and findings.next_probe is None:
        return tr("Found: {sentence} Ctrl+Enter takes it over as the fault.").format(sentence=findings.sentence)
    if findings.next_probe is None:
        ending = tr("The search ends here. Look at these, and take over what you see to be the fault.")
        return f"{findings.sentence} {ending}"
    return findings.sentence


def _how(search: "Search") -> str:
    """With which meter and in which set-up this is read."""
    set_up = ", ".join(search.set_up)
    meter = search.meter or tr("a meter that you take in hand first (Esc, then F3)")
    words = tr("Plug out and in sight. Ohms, with {meter}.").format(meter=meter)
    return f"{words} {tr('Set up')}: {set_up}." if set_up else words


def _row(suspect: "Suspect") -> Row:
    share = max(1, round(100 * suspect.share))
    evidence = [tr("for it: {readings}").format(readings="; ".join(suspect.speaks_for))] if suspect.speaks_for else []
    if suspect.speaks_against:
        evidence.append(tr("against it: {readings}").format(readings="; ".join(suspect.speaks_against)))
    evidence += [suspect.history] if suspect.history else []
    words = tr("{share} %   {words}").format(share=share, words=suspect.words)
    return Row(words=words, detail="\n".join(evidence), share=suspect.share)
