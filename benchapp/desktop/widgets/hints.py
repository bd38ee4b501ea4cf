"""Which keys do what on this page, always in sight."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from benchapp.desktop.keys import KEYS, key_text
from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr


@dataclass(frozen=True, slots=True, kw_only=True)
class Hint:
    """A key and what it does here."""

    key: str
    words: str
    minor: bool = False
    """gives way where text is large; F1 lists it still"""
    placed: bool = False
    """its cap stands on the control itself, so that the foot of the page need not say it"""


def hint(key: str, words: str = "", *, minor: bool = False, placed: bool = False) -> Hint:
    """The key of that id with what it does here, in the table's own words unless others are given."""
    return Hint(key=key_text(key), words=words or tr(KEYS[key].words), minor=minor, placed=placed)


def numbered(rows: Sequence[str]) -> tuple[Hint, ...]:
    """The key of each row of a list by its number, from 1, with the words of the row."""
    return tuple(Hint(key=str(number), words=words, placed=True) for number, words in enumerate(rows, 1))


class KeyHints(QLabel):
    """A line of keys that wraps when the text is large."""

    def __init__(self, look: Look, name: str = "key-hints", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(tr("Keys"))
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self._look = look
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
            f'<span style="{cap}">&nbsp;{_solid(hint.key)}&nbsp;</span>&nbsp;{_solid(hint.words)}'
            for hint in self._hints
            if not hint.placed
        ]
        self.setText(" &nbsp;&nbsp; ".join(caps))


def _solid(words: str) -> str:
    """The words as markup that does not break within a hint."""
    return escape(words).replace(" ", "&nbsp;")
