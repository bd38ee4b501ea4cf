"""Finding the fault: suspects in order, and the probe that would tell most, drawn with its two pins lit.

The weighing is done off the window's thread (`actions.search_fault`); what is probed here is dead and recorded nowhere
else than in the words of the fault that is agreed on.
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
    from benchapp.wiring.locate import Findings, Suspect

_NARROW = 30


class SearchPage(BenchPage):
    """One probe after the other, until one part is left or no probe can tell the rest apart."""

    name = "search"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.face = FaceView(desk.look, "search-face")
        self.probe = label("search-probe", "head")
        self.field = ReadingField()
        self.field.setObjectName("search-field")
        self.field.setProperty("kind", "reading")
        self.field.setAccessibleName(tr("Reading of the next probe"))
        self.field.setPlaceholderText("ohm")
        self.suspects = ChoiceList(desk.look, "search-suspects", tr("Suspects"), passive=True)
        self.taken = label("search-taken", "quiet")
        self._lay_out()
        self._findings: Findings | None = None
        self._probed: list[actions.Probed] = []
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
        below.addLayout(row)
        right.addWidget(self._next)
        right.addWidget(label("search-suspects-head", "head", tr("Suspects, the likeliest first")))
        right.addWidget(self.suspects, 100)
        right.addWidget(self.taken)
        right.addStretch(1)
        self.body.addWidget(Split(self.desk.look, self.face, sheet, shares=(2, 3), narrow=_NARROW), 1)

    def fill(self, view: UnitView) -> None:
        self._probed, self._findings = [], None
        self.field.clear()
        self.face.show_parts([])
        self.suspects.set_rows(())
        self.say.setText(tr("Weighing what was read so far …"))
        self._next.hide()
        if not self.desk.drafts.take(view.mark, self.address()):
            self._weigh()

    def address(self) -> str:
        return f"search {super().address()}"

    def draft(self) -> Mapping[str, Any]:
        return {"typed": self.field.text(), "probed": list(self._probed)}

    def restore(self, draft: Mapping[str, Any]) -> None:
        self._probed = list(draft.get("probed", ()))
        self.field.setText(draft.get("typed", ""))
        self._weigh()

    def take_focus(self) -> None:
        (self.field if self.field.isVisible() else self).setFocus()

    def _weigh(self) -> None:
        """Ask for the suspects; the page stays alive meanwhile."""
        assert self.view is not None
        bench, view, probed = self.desk.bench, self.view, tuple(self._probed)
        address = view.step.address if view.step else ""
        self.desk.errands.read(
            lambda: (view, actions.search_fault(bench, view.mark, address, probed)),
            then=self._show,
            refused=self._refused,
        )

    def _refused(self, sentence: str) -> None:
        if self._probed:
            self._probed.pop()
        self.complained.emit(sentence)

    def _show(self, found: "tuple[UnitView, Findings]") -> None:
        view, findings = found
        if view is not self.view:
            return
        self._findings = findings
        self.say.setText(findings.sentence)
        self.suspects.set_rows(())
        self.suspects.set_rows([_row(suspect) for suspect in findings.suspects])
        following = findings.next_probe
        self.probe.setText(following.say if following else "")
        self.face.show_parts(parts_touched(view.plan, (following.a, following.b)) if following else [])
        self._next.setVisible(following is not None)
        readings = ", ".join(
            f"{view.plan.circuit.say(one.a)} to {view.plan.circuit.say(one.b)}: {one.typed}" for one in self._probed
        )
        self.taken.setText(tr("Probed here: {readings}").format(readings=readings) if readings else "")
        self.hints_changed.emit()
        self.take_focus()

    def _take(self) -> None:
        """Add the reading of the next probe and weigh again."""
        typed = self.field.text().strip()
        if self._findings is None or self._findings.next_probe is None:
            return
        if not typed:
            self.complained.emit(tr("Type what the meter shows, then Enter. Over range is OL, or the * key."))
            return
        self.complained.emit("")
        following = self._findings.next_probe
        self._probed.append(actions.Probed(a=following.a, b=following.b, typed=typed))
        self.field.clear()
        self._weigh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        with_control = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and with_control:
            self._agree()
        else:
            super().keyPressEvent(event)

    def _agree(self) -> None:
        """Take the likeliest suspect to the fault page, with what was read on the way."""
        suspects = [suspect for suspect in self._findings.suspects if suspect.part] if self._findings else []
        if not suspects or self.view is None:
            self.complained.emit(tr("There is no suspect yet."))
            return
        first = suspects[0]
        circuit = self.view.plan.circuit
        read = "; ".join(f"{one.typed} between {circuit.say(one.a)} and {circuit.say(one.b)}" for one in self._probed)
        words = f"{first.words}. {tr('Found by')}: {read}." if read else f"{first.words}."
        mode = first.faults[0].mode if first.faults else ""
        step = self.view.step.address if self.view.step else ""
        self.drop_draft()
        self.desk.drafts.keep(self.view.mark, f"fault {step}", {"part": first.part, "mode": str(mode), "words": words})
        self._probed = []
        self.going.emit("due")

    def hints(self) -> Sequence[Hint]:
        agree = Hint(key="Ctrl+Enter", words=tr("the first suspect is the fault"))
        back = Hint(key="Esc", words=tr("back"))
        if self._findings is not None and self._findings.next_probe is None:
            return (agree, back)
        return (
            Hint(key="*", words=tr("OL, over range")),
            Hint(key="Enter", words=tr("weigh this reading")),
            agree,
            back,
        )


def _row(suspect: "Suspect") -> Row:
    share = max(1, round(100 * suspect.share))
    evidence = [tr("for it: {readings}").format(readings="; ".join(suspect.speaks_for))] if suspect.speaks_for else []
    evidence += (
        [tr("against it: {readings}").format(readings="; ".join(suspect.speaks_against))]
        if suspect.speaks_against
        else []
    )
    evidence += [suspect.history] if suspect.history else []
    return Row(words=tr("{share} %   {words}").format(share=share, words=suspect.words), detail="\n".join(evidence))
