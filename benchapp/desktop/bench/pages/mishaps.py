"""The pages that a key calls up when something happens: smoke and smell, a fall, damp."""

from collections.abc import Sequence

from benchapp.actions.entries.faults import record_event, record_hazard
from benchapp.desktop.app_context import AppContext
from benchapp.desktop.bench.fire import fire_words
from benchapp.desktop.bench.pages.rows import RowsPage
from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.widgets.choices import Row
from benchapp.desktop.widgets.hints import Hint, hint, numbered
from benchapp.desktop.widgets.texts import label
from benchapp.desktop.words import tr

PAGES = ("opened", "false-alarm", "design", "old-hazard")
"""Choices that ask for more on a page of their own."""
WHEN_DEAD = ("opened", "false-alarm")
"""Choices for which the way back is gone first: hands and eyes come near."""


class ChoicePage(RowsPage):
    """One of a few things, each with its key; Esc goes back and records nothing."""

    title = "Choices"
    of_answers = True
    of_a_step = False
    choices: Sequence[tuple[str, str]] = ()

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.body.addStretch(1)

    def fill(self, view: UnitView) -> None:  # noqa: ARG002 - the choices are the same for all units
        self.list.set_rows(())
        self.list.set_rows(
            [Row(words=tr(words), key=str(number)) for number, (_key, words) in enumerate(self.choices, 1)]
        )

    def choose(self, number: int) -> None:
        if 0 <= number < len(self.choices):
            self.record_mishap(self.choices[number][0])

    def record_mishap(self, key: str) -> None:
        """Record the choice."""

    def hints(self) -> Sequence[Hint]:
        names = [tr(key.replace("-", " ")) for key, _words in self.choices]
        return (*numbered(names), hint("back", tr("back, nothing is recorded")))


class HazardPage(ChoicePage):
    """Off at the wall first; then what it was."""

    name = "hazard"
    choices = (
        ("smoke", "Smoke"),
        ("smell", "A smell of burning or of hot varnish"),
        ("hum", "A loud or growing hum"),
        ("heat", "Heat: too hot to touch"),
        ("RCD or fuse tripped", "The RCD or a fuse tripped: no second try before the part is found"),
    )

    def __init__(self, context: AppContext) -> None:
        super().__init__(context)
        self.off = label("hazard-off", "off", tr("OFF AT THE WALL, now, or plug out. Then let it stand, plug out."))
        self.body.insertWidget(0, self.off)
        self.body.addWidget(label("hazard-fire", "say", fire_words()))

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        self.say.setText(tr("When it is off: what was it? The unit is held and gets a do-not-use tag."))

    def record_mishap(self, key: str) -> None:
        self.request(record_hazard, key)


class EventPage(ChoicePage):
    """What befell the unit, or was done to it beside its steps; those in `PAGES` have a page of their own."""

    name = "event"
    choices = (
        ("fall", "It fell or was knocked"),
        ("damp", "It got damp"),
        ("wet cleaning", "It was cleaned wet"),
        ("opened", "Its plug, cord or case was opened to look"),
        ("false-alarm", "Smoke, smell, hum or heat was a false alarm: the key was struck by mistake"),
        ("design", "It is another design, or begins anew with the files and meters of today"),
        ("old-hazard", "A hazard of old equipment was found, or is cleared: asbestos, PCB oil, mercury ..."),
        ("under power lately", "It was plugged in or charged outside its steps"),
    )

    def fill(self, view: UnitView) -> None:
        super().fill(view)
        self.say.setText(
            tr("What happened to {unit}? What it can have changed is then tested again.").format(unit=view.mark)
        )

    def record_mishap(self, key: str) -> None:
        if key in WHEN_DEAD and self.view is not None and self.view.state.energised:
            self.complained.emit(tr("This unit may still be live: the way back first, then come here again."))
        elif key in PAGES:
            self.going.emit(key)
        else:
            self.request(record_event, key)
