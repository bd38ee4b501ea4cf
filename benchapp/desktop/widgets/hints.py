"""Which keys do what on this page, always in sight."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from benchapp.desktop.keys import KEYS, action_at_hand, key_text
from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr


@dataclass(frozen=True, slots=True, kw_only=True)
class Hint:
    """A key and what it does here."""

    key: str
    words: str
    id: str = ""
    """of the key in the table; empty for the number of a row"""
    minor: bool = False
    """gives way where text is large; F1 lists it still"""
    placed: bool = False
    """its cap stands on the control itself, so that the foot of the page need not say it"""


def hint(key: str, words: str = "", *, minor: bool = False, placed: bool = False) -> Hint:
    """The key of that id with what it does here, in the table's own words unless others are given."""
    return Hint(id=key, key=key_text(key), words=words or tr(KEYS[key].words), minor=minor, placed=placed)


def numbered(rows: Sequence[str]) -> tuple[Hint, ...]:
    """The key of each row of a list by its number, from 1, with the words of the row."""
    return tuple(Hint(key=str(number), words=words, placed=True) for number, words in enumerate(rows, 1))


class KeyHints(QLabel):
    """A line of keys that wraps when the text is large.

    Where it `clicks`, a click on a hint does what its key does: for screens whose hints are no answers.
    """

    def __init__(
        self, look: Look, name: str = "key-hints", parent: QWidget | None = None, *, clicks: bool = False
    ) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(tr("Keys"))
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self._look, self._clicks = look, clicks
        if clicks:
            self.setTextInteractionFlags(Qt.TextInteractionFlag.LinksAccessibleByMouse)
            self.linkActivated.connect(self._do)
        self._hints: tuple[Hint, ...] = ()
        look.changed.connect(self._render)

    def show_hints(self, hints: Sequence[Hint]) -> None:
        """Show these keys."""
        if tuple(hints) != self._hints:
            self._hints = tuple(hints)
            self._render()

    def hints(self) -> tuple[Hint, ...]:
        """The keys of the page: those shown here and those whose caps stand on their controls."""
        return self._hints

    def _render(self) -> None:
        tokens = self._look.tokens
        cap = f"background-color:{tokens.sheet};color:{tokens.ink};font-weight:bold"
        caps = [
            self._way(hint, f'<span style="{cap}">&nbsp;{_solid(hint.key)}&nbsp;</span>&nbsp;{_solid(hint.words)}')
            for hint in self._hints
            if not hint.placed
        ]
        self.setText(" &nbsp;&nbsp; ".join(caps))

    def _way(self, hint: Hint, drawn: str) -> str:
        """The hint, to be clicked where an action of the screen stands behind it."""
        if not self._clicks or not hint.id or KEYS[hint.id].typed:
            return drawn
        return f'<a href="{escape(hint.id)}" style="color:{self._look.tokens.ink}">{drawn}</a>'

    def _do(self, key: str) -> None:
        found = action_at_hand(self.window(), (key,))
        if found is not None:
            found[1]()


def _solid(words: str) -> str:
    """The words as markup that does not break within a hint."""
    return escape(words).replace(" ", "&nbsp;")
