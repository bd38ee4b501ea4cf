"""What this unit has and its design has not: cord, plug, fuse, class. It overrides the equipment's file."""

from collections.abc import Sequence

from PySide6.QtWidgets import QLineEdit

from benchapp.actions.entries.conditions import record_fact
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.pages.rows import RowsPage
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.keys import with_key
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.widgets.texts import beside, field, key_button, label
from benchapp.desktop.words import tr
from benchapp.errors import BenchError


class FactsPage(RowsPage):
    """A fact per row; Enter goes to the field, and there it records the new value of the fact at hand."""

    field: QLineEdit
    name = "facts"
    title = "Facts of this unit"
    numbered = False
    of_a_step = False

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.head = label("facts-head", "head")
        self.field = field("facts-field", tr("What this unit has"))
        self.body.addWidget(self.head)
        self.record = key_button("facts-record", with_key("enter", tr("record")), "main")
        self.record.clicked.connect(self._record)
        self.body.addLayout(beside(self.field, self.record))
        self.body.addStretch(1)
        self._names: list[str] = []
        self.list.selectionModel().currentChanged.connect(lambda _now, _before: self._name_fact())
        self.field.returnPressed.connect(self._record)

    def fill(self, view: UnitView) -> None:
        self.say.setText(tr("What does {unit} have that its design has not?").format(unit=view.mark))
        designed = view.plan.facts
        self._names = list(dict.fromkeys([*designed, *view.state.facts]))
        self.list.set_rows([_row(name, view.state.facts.get(name), designed.get(name)) for name in self._names])
        self.field.setText("")
        self._name_fact()

    def choose(self, _number: int) -> None:
        self.field.setFocus()

    def _name_fact(self) -> None:
        number = self.list.row_at_hand()
        if 0 <= number < len(self._names):
            self.head.setText(tr("{fact} of this unit").format(fact=self._names[number]))

    def _record(self) -> None:
        from benchapp.sequences.planning.facts import fact_value

        number, typed = self.list.row_at_hand(), self.field.text().strip()
        if not 0 <= number < len(self._names) or not typed:
            self.complained.emit(tr("Choose a fact, type what this unit has, then Enter."))
            return
        name = self._names[number]
        try:
            value = fact_value(name, typed)
        except BenchError as problem:
            self.complained.emit(problem.sentence)
            return
        self.request(record_fact, {name: value})

    def hints(self) -> Sequence[Hint]:
        return (hint("rows", tr("which fact")), hint("enter", tr("to the field, then record")), hint("back"))


def _row(name: str, now: object, designed: object) -> Row:
    differs = tr("the design: {value}").format(value=_said(name, designed)) if now != designed else ""
    return Row(words=f"{name}: {_said(name, now)}", detail=differs)


def _said(name: str, value: object) -> str:
    """A fact in words: yes and no, and numbers with the unit that a rating plate shows."""
    from benchapp.quantities.display import show
    from benchapp.sequences.planning.facts import MEASURED

    if isinstance(value, bool):
        return tr("yes") if value else tr("no")
    if value is None:
        return tr("not said")
    return show(value, MEASURED[name][0]) if isinstance(value, float) and name in MEASURED else str(value)
