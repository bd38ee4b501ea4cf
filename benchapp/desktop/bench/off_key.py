"""The two large keys of every live page: smoke, smell, hum or heat, then off at the wall; and the calm way off it."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from benchapp.desktop.keys import KEYS, key_text, with_key
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.texts import tip
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
        full = tr("{key}   Smoke, smell, hum, heat, or it tripped:  OFF OR PLUG OUT").format(key=key)
        self.setToolTip(tip(f"{full}  ({' / '.join(KEYS['hazard'].sequences)})"))
        short = tr("{key} Smoke, smell, heat: OFF NOW").format(key=key)
        self.setText(short if self._look.cramped else full)
        self.setAccessibleName(full)


class StopKey(QPushButton):
    """Leaves a live page by the way back; says less where text is large."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.setObjectName("stop-here")
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self._look = look
        self._by_key = True
        self._name_it()
        look.changed.connect(self._name_it)

    def show_key(self, *, leads_here: bool) -> None:
        """Name its key, or not: on a page that was called up that key leads back to the page before."""
        self._by_key = leads_here
        self._name_it()

    def _name_it(self) -> None:
        full, short = tr("Stop here, make it safe"), tr("Stop")
        if self._by_key:
            full, short = with_key("back", full), with_key("back", short)
        self.setText(short if self._look.cramped else full)
        self.setAccessibleName(full)
        self.setToolTip(tip(full))
