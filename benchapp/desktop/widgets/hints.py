"""Which keys do what on this page, always in sight."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr


@dataclass(frozen=True, slots=True, kw_only=True)
class Hint:
    """A key and what it does here."""

    key: str
    words: str
    minor: bool = False
    """gives way where text is large; F1 lists it still"""


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
        """What is shown now."""
        return self._hints

    def _render(self) -> None:
        tokens = self._look.tokens
        cap = f"background-color:{tokens.sheet};color:{tokens.ink};font-weight:bold"
        caps = [
            f'<span style="{cap}">&nbsp;{_solid(hint.key)}&nbsp;</span>&nbsp;{_solid(hint.words)}'
            for hint in self._hints
        ]
        self.setText(" &nbsp;&nbsp; ".join(caps))


def _solid(words: str) -> str:
    """The words as markup that does not break within a hint."""
    return escape(words).replace(" ", "&nbsp;")
