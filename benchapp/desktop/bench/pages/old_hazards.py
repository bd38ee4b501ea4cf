"""A hazard of old equipment was found, or a supervisor clears it: which, and where it is or how it left."""

from benchapp.actions.entries.hazards import clear_hazard, record_old_hazard
from benchapp.desktop.bench.pages.ways_out import ReasonPage
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.dates import shown_minute
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.words import tr

CHOSEN_ROW = "→"


class OldHazardPage(ReasonPage):
    """Those that were found first, to be cleared; then those that this design is asked about; then all others."""

    name = "old-hazard"
    title = "Hazards of old equipment"
    head_words = (
        "Where is it? Or, to clear one: how did it leave, or who saw that it never was there? Enter records it."
    )
    asked = "Where it is, or how it left"

    def fill(self, view: UnitView) -> None:
        self._ask(view)
        asked = [one.hazard for one in view.plan.hazards_asked]
        others = [name for name, one in view.plan.hazards.items() if name not in asked and not one.presumed]
        self._names = [*asked, *sorted(others)]
        open_ones = [one for one in view.state.faults if one.old_hazard and str(one.status) != "closed"]
        self._found = [one for one in open_ones if one.old_hazard in view.plan.hazards]
        cleared = [
            tr("Clear: {title}, found {when}").format(
                title=view.plan.hazards[one.old_hazard].title,
                when=shown_minute(self.context.bench.entries(view.mark)[one.entry - 1].at),
            )
            for one in self._found
        ]
        self.offer([*cleared, *(view.plan.hazards[name].title for name in self._names)])

    def _ask(self, view: UnitView) -> None:
        words = tr(
            "What was found in {unit}? It gets its do-not-use tag, and what its kind shuts stays shut until a repair "
            "or a supervisor lifts it."
        )
        self.say.setText(words.format(unit=view.mark))

    def _row(self, number: int, words: str) -> Row:
        assert self.view is not None
        name = self._hazard(number)
        hazard = self.view.plan.hazards[name]
        detail = hazard.advice if number in self._chosen else hazard.signs
        lead = f"{CHOSEN_ROW} " if number in self._chosen else ""
        return Row(words=f"{lead}{words}", detail=detail, key=str(number + 1))

    def _hazard(self, number: int) -> str:
        if number < len(self._found):
            return self._found[number].old_hazard
        return self._names[number - len(self._found)]

    def choose(self, number: int) -> None:
        if 0 <= number < len(self._words):
            self._chosen = {number}
            self._show_rows()
            self.why.setFocus()

    def record_it(self) -> None:
        if not self._chosen:
            self.complained.emit(tr("Choose which it is."))
            return
        number, said = self.chosen[0], self.why.text().strip()
        if number >= len(self._found):
            self.request(record_old_hazard, self._hazard(number), where=said)
        elif said:
            self.request(clear_hazard, self._hazard(number), self._found[number].entry, reason=said)
        else:
            self.complained.emit(
                tr("Say how it left the unit and who took it out, or who saw that it never was there.")
            )
