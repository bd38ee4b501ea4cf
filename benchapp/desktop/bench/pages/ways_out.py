"""Ways out for honest hands: opened to look, a false alarm, another design. Each says why, and Enter records it."""

from collections.abc import Iterable, Sequence

from benchapp.actions.entries.faults import record_false_alarm, record_opened
from benchapp.actions.entries.runs import start_run
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.hazard_words import before_opening
from benchapp.desktop.bench.pages.rows import RowsPage
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import with_key
from benchapp.desktop.theme.signs import Shape, Sign, Tone
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.texts import beside, field, key_button, label
from benchapp.desktop.words import tr

SEEN = Sign(shape=Shape.tick, word="seen", tone=Tone.good)
NOT_YET = Sign(shape=Shape.wave_up, word="not yet", tone=Tone.doubt)


class ReasonPage(RowsPage):
    """Rows to choose from, and below them a reason; Enter there records both."""

    of_a_step = False
    asked = "Why"
    """what the field is called"""
    head_words = ""

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.head = label(f"{self.name}-head", "head", tr(self.head_words))
        self.why = field(f"{self.name}-why", tr(self.asked))
        self.record = key_button(f"{self.name}-record", with_key("enter", tr("record")), "main")
        self.record.clicked.connect(self.record_it)
        self.body.addWidget(self.head)
        self.body.addLayout(beside(self.why, self.record))
        self.body.addStretch(1)
        self.why.returnPressed.connect(self.record_it)
        self._chosen: set[int] = set()
        self._words: list[str] = []

    def offer(self, words: Iterable[str]) -> None:
        """Show these rows, none of them chosen."""
        self._words, self._chosen = list(words), set()
        self.why.setText("")
        self.list.set_rows(())
        self._show_rows()

    def _show_rows(self) -> None:
        here = self.list.row_at_hand()
        self.list.set_rows([self._row(number, words) for number, words in enumerate(self._words)])
        self.list.go_to(max(here, 0))

    def _row(self, number: int, words: str) -> Row:
        return Row(words=words, key=str(number + 1), sign=SEEN if number in self._chosen else NOT_YET)

    def choose(self, number: int) -> None:
        if 0 <= number < len(self._words):
            self._chosen ^= {number}
            self._show_rows()
            if self._chosen == set(range(len(self._words))):
                self.why.setFocus()
                self.hints_changed.emit()

    @property
    def chosen(self) -> list[int]:
        """The numbers of the rows that were chosen, in order."""
        return sorted(self._chosen)

    def hints(self) -> Sequence[Hint]:
        if self.why.hasFocus():
            return (hint("enter", tr("record")), hint("back"))
        return (hint("fields", tr("to the reason")), hint("enter", tr("there: record")), hint("back"))


class OpenedPage(ReasonPage):
    """Plug, cord or case was opened without a repair; what rests on them is taken again."""

    name = "opened"
    title = "What was opened"
    head_words = "To see what? Enter records it."
    asked = "Why it was opened"
    what = (("plug", "The plug"), ("cord", "The cord, or where it goes in"), ("enclosure", "The case or a cover"))

    def fill(self, view: UnitView) -> None:
        words = tr(
            "What of {unit} was opened? A wire that was trapped in closing shows in no circuit: look, earth, polarity "
            "and insulation are then taken again, with everything closed."
        )
        self.say.setText(" ".join((words.format(unit=view.mark), before_opening(view))).strip())
        self.offer(tr(words) for _one, words in self.what)

    def record_it(self) -> None:
        if not self._chosen or not self.why.text().strip():
            self.complained.emit(tr("Choose what was opened, and say why."))
            return
        self.request(record_opened, [self.what[number][0] for number in self.chosen], why=self.why.text().strip())


class FalseAlarmPage(ReasonPage):
    """What was looked at since the key was struck, and how that came about."""

    name = "false-alarm"
    title = "What was looked at"
    head_words = "How did the key come to be struck? Enter records it."
    asked = "How the key came to be struck"

    def fill(self, view: UnitView) -> None:
        from benchapp.sequences.planning.false_alarms import LOOKS

        words = tr(
            "Plug out, and {unit} proved dead: look now, and choose each line that is so. If one is not, or if you are "
            "not sure, it was no false alarm: go back, and leave the do-not-use tag on."
        )
        self.say.setText(words.format(unit=view.mark))
        self.offer(LOOKS)

    def record_it(self) -> None:
        noticed = [entry.number for entry in self.context.bench.entries(self.unit.mark) if str(entry.kind) == "hazard"]
        if not noticed:
            self.complained.emit(tr("No smoke, smell, hum or heat is on record: there is nothing to take back."))
            return
        looked = [self._words[number] for number in self.chosen]
        self.request(record_false_alarm, noticed[-1], reason=self.why.text().strip(), looked=looked)


class DesignPage(ReasonPage):
    """The designs and routes that there are; the unit begins anew on one of them, and its record stays."""

    name = "design"
    title = "Designs and routes"
    head_words = "How did you see that it is this one? Enter begins its run."
    asked = "How you saw what it is"

    def fill(self, view: UnitView) -> None:
        words = tr(
            "What is {unit}? It begins a new run as that, and its tag follows. What was answered before stays on "
            "record; what the other design asks otherwise is asked again."
        )
        self.say.setText(words.format(unit=view.mark))
        catalogue = self.context.bench.catalogue
        here = (view.plan.equipment_id, view.plan.route)
        pairs = [(one, route) for one in catalogue.equipment for route in catalogue.routes_for(one)]
        self._pairs = [pair for pair in pairs if pair != here] + [pair for pair in pairs if pair == here]
        as_it_is = tr("As it is, by the files and meters of today: {equipment}: {route}")
        self.offer(
            (as_it_is if (one, route) == here else tr("{equipment}: {route}")).format(
                equipment=catalogue.equipment[one].title, route=catalogue.routes[route].title
            )
            for one, route in self._pairs
        )

    def choose(self, number: int) -> None:
        if 0 <= number < len(self._words):
            self._chosen = {number}
            self._show_rows()
            self.why.setFocus()
            self.hints_changed.emit()

    def _row(self, number: int, words: str) -> Row:
        return Row(words=words, key=str(number + 1), sign=SEEN if number in self._chosen else None)

    def record_it(self) -> None:
        if not self._chosen or not self.why.text().strip():
            self.complained.emit(tr("Choose what it is, and say how you saw that."))
            return
        equipment, route = self._pairs[self.chosen[0]]
        self.request(start_run, equipment=equipment, route=route, why=self.why.text().strip())
