"""The one large key of every live page: smoke, smell, hum or heat, then off at the wall."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from benchapp.desktop.keys import key_text
from benchapp.desktop.theme.look import Look
from benchapp.desktop.words import tr


class OffKey(QPushButton):
    """Says less where text is large, so that the window still fits on a small screen."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("off-at-the-wall")
        self.setProperty("kind", "off")
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self._look = look
        self._name_it()
        look.changed.connect(self._name_it)

    def _name_it(self) -> None:
        key = key_text("hazard")
        full = tr("{key}   Smoke, smell, hum, heat, or it tripped:  OFF AT THE WALL").format(key=key)
        short = tr("{key} Smoke, smell, hum, heat: OFF AT WALL").format(key=key)
        self.setText(short if self._look.cramped else full)
        self.setAccessibleName(full)
