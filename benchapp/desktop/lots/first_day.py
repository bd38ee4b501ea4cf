"""A workbook without a lot: what a workshop says of itself before its first one, each with the key that says it."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from benchapp.desktop.keys import action_at_hand, key_text, with_key
from benchapp.desktop.widgets.texts import button, label
from benchapp.desktop.words import tr

STEPS = (
    ("people", "Who works here, and what each may do"),
    ("workshop", "Where: region, mains, the bench's name"),
    ("meters", "Your meters, as their data sheets state them"),
    ("new lot", "The first lot: what came in"),
    ("opening", "The bench opening: prove the meters"),
)
"""rows of the table of keys, in the order in which a new workshop needs them"""


class FirstDay(QWidget):
    """A button for each step, beside its key."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("first-day")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        none_yet = tr("No lot yet. {key} takes in the first one.").format(key=key_text("new lot"))
        layout.addWidget(label("lots-empty", "say", none_yet))
        for row, words in STEPS:
            made = button(f"first-day-{row.replace(' ', '-')}", with_key(row, tr(words)))
            made.clicked.connect(lambda _checked=False, row=row: self._do(row))
            layout.addWidget(made)
        own = tr(
            "A design of your own is a text file in a folder “equipment” beside the workbook; until there is one, its "
            "units are taken in as not known yet. README, “For trainers”, says how."
        )
        layout.addWidget(label("first-day-designs", "quiet", own))
        layout.addStretch(1)

    def _do(self, row: str) -> None:
        found = action_at_hand(self.window(), (row,))
        if found is not None:
            found[1]()
