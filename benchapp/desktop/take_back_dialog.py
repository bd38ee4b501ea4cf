"""Asked before anything is taken back: it is named, with what it makes due, and with the reason where one is asked."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QDialogButtonBox, QWidget

from benchapp.desktop.keys import add_action, key_text, with_key
from benchapp.desktop.widgets.asking_dialog import AskingDialog
from benchapp.desktop.widgets.texts import button, field, label
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.actions.entries.taking_back import TakingBack

_WIDE = 34


class TakeBackDialog(AskingDialog):
    """Names what would be taken back and what follows; hands the reason, empty where none is asked, to `then`."""

    def __init__(self, parent: QWidget, seen: "TakingBack", then: Callable[[str], object]) -> None:
        super().__init__(parent, "take-back", tr("Take back"), QDialogButtonBox.StandardButton.Ok)
        self._seen, self._then = seen, then
        self.why = field("take-back-why", tr("Why"))
        self.why.setVisible(bool(seen.asks_why))
        self.again = button("take-back-again", with_key("answer again", tr("Answer it again")))
        self.again.hide()
        self.yes = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.yes.setText(tr("Take it back"))
        self.yes.setVisible(not seen.refused)
        what = label("take-back-what", "head", tr("take back: {what}").format(what=seen.words))
        self.lay_out(what, label("take-back-follows", "", follows(seen)), self.why, self.again, wide=_WIDE)
        (self.why if seen.asks_why else self.yes).setFocus()

    def offer_again(self, answer: Callable[[], object]) -> None:
        """Offer to answer that step again, with what it read before left on record."""

        def go() -> None:
            self.accept()
            answer()

        self.again.clicked.connect(go)
        add_action(self, "answer again", go)
        self.again.show()
        self.fit()

    def go(self) -> None:
        why = self.why.text().strip()
        if self._seen.refused:
            self.reject()
        elif self._seen.asks_why and not why:
            self.complain(tr("Say why: it stays on the record beside what was there."))
            self.why.setFocus()
        else:
            self.accept()
            self._then(why)


def follows(seen: "TakingBack") -> str:
    """What taking it back would do, in sentences."""
    if seen.refused:
        return seen.refused
    lines = [tr("It stays in the record, marked as taken back.")]
    if seen.of_search:
        lines.append(tr("The search is weighed again without it."))
    if seen.becomes:
        lines.append(tr("What stands then: {words}.").format(words=seen.becomes))
    if seen.stays:
        lines.append(
            tr("It stays open until somebody has looked again: {dangers}").format(dangers=" ".join(seen.stays))
        )
    if seen.hazards:
        words = tr("A supervisor alone clears what was found, with {key}: {hazards}")
        lines.append(words.format(key=key_text("event"), hazards=" ".join(seen.hazards)))
    if seen.again:
        lines.append(tr("Asked again then: {steps}.").format(steps="; ".join(seen.again)))
    if seen.asks_why:
        lines.append(seen.asks_why)
    return "\n".join(lines)
