"""What the window looks like now: the set of colours, the text size, the fonts; and how a change of them is laid on.

Light or dark and strong contrast follow the system until a person says otherwise.
Text runs from 100 % to 200 % of the system's own size.
"""

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontInfo, QGuiApplication, QPalette, QRawFont
from PySide6.QtWidgets import QApplication

from benchapp.desktop.theme.style_sheet import style_sheet
from benchapp.desktop.theme.tokens import DARK, DARK_CONTRAST, LIGHT, LIGHT_CONTRAST, Tokens
from benchapp.files.shipped import shipped_folder

SIZES = (100, 115, 130, 150, 175, 200)
_CRAMPED = 150
SIGNS = "AΩµ°±≤–²"
"""what the font must be able to show"""
BASE_POINTS = 11.0
"""Text at 100 %, read at arm's length; a larger size of the system's own font is kept."""
_SETS = {(False, False): LIGHT, (True, False): DARK, (False, True): LIGHT_CONTRAST, (True, True): DARK_CONTRAST}
"""by whether they are dark, and of strong contrast"""


class Look(QObject):
    """Colours, fonts and text size of one application."""

    changed = Signal()

    def __init__(self, application: QApplication, percent: int = 100, *, dark: bool | None = None) -> None:
        super().__init__()
        self._application = application
        self._percent = percent
        self._dark = dark
        self._contrast: bool | None = None
        self._hints = QGuiApplication.styleHints()  # kept: what hangs on it goes with it
        self._wishes = self._hints.accessibility()
        self.tokens: Tokens = LIGHT
        self._fonts: dict[tuple[float, bool], QFont] = {}
        _be_sure_of_a_font(application)
        self._base = max(BASE_POINTS, application.font().pointSizeF())
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._follow_system)
        self._wishes.contrastPreferenceChanged.connect(self._follow_contrast)
        application.setStyle("Fusion")
        self.apply()

    @property
    def percent(self) -> int:
        """The text size, 100 to 200."""
        return self._percent

    @property
    def cramped(self) -> bool:
        """Whether text is so large that what is least needed gives way."""
        return self._percent >= _CRAMPED

    @property
    def dark(self) -> bool:
        """Whether the dark set is shown."""
        if self._dark is not None:
            return self._dark
        return QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark

    @property
    def contrast(self) -> bool:
        """Whether the sets of strong contrast are shown."""
        if self._contrast is not None:
            return self._contrast
        return self._wishes.contrastPreference() == Qt.ContrastPreference.HighContrast

    @property
    def contrast_chosen(self) -> str:
        """What a person chose: "strong" or "usual"; "system" where the system's wish is followed."""
        return "system" if self._contrast is None else "strong" if self._contrast else "usual"

    def set_contrast(self, contrast: str) -> None:
        """Show strong or usual contrast, or with any other word what the system wishes."""
        self._contrast = {"strong": True, "usual": False}.get(contrast)
        self.apply()

    @property
    def theme(self) -> str:
        """The set that a person chose: "light" or "dark"; "system" where the system's is followed."""
        return "system" if self._dark is None else "dark" if self._dark else "light"

    def set_theme(self, theme: str) -> None:
        """Show the set of that name, or with any other word what the system has."""
        self.set_dark({"dark": True, "light": False}.get(theme))

    def set_dark(self, dark: bool | None) -> None:
        """Show the dark or the light set whatever the system says; None follows the system again."""
        self._dark = dark
        self.apply()

    def set_percent(self, percent: int) -> None:
        """Set the text size to the nearest of `SIZES`."""
        self._percent = min(SIZES, key=lambda size: abs(size - percent))
        self.apply()

    def larger(self) -> None:
        """The next larger text size."""
        self.set_percent(next((size for size in SIZES if size > self._percent), SIZES[-1]))

    def smaller(self) -> None:
        """The next smaller text size."""
        self.set_percent(next((size for size in reversed(SIZES) if size < self._percent), SIZES[0]))

    def points(self, factor: float = 1.0) -> float:
        """The size of text that is `factor` times the running text."""
        return self._base * self._percent / 100 * factor

    def font(self, factor: float = 1.0, *, bold: bool = False) -> QFont:
        """A font `factor` times the running text."""
        made = self._fonts.get((factor, bold))
        if made is None:
            made = self._fonts[factor, bold] = QFont(self._application.font())
            made.setPointSizeF(self.points(factor))
            made.setBold(bold)
        return QFont(made)  # shares what was worked out of it, and is the caller's own

    def colour(self, token: str) -> QColor:
        """The colour of a token by name."""
        return QColor(getattr(self.tokens, token))

    def apply(self) -> None:
        """Lay colours and text size on the application and tell those who paint by themselves."""
        self.tokens = _SETS[self.dark, self.contrast]
        self._fonts.clear()
        font = self._application.font()
        font.setPointSizeF(self.points())
        self._application.setFont(font)
        self._application.setPalette(_palette(self.tokens))
        icons, which = shipped_folder("resources") / "icons", "dark" if self.dark else "light"
        arrow, tick = ((icons / f"{name}-{which}.png").as_posix() for name in ("open-list", "tick"))
        sheet = style_sheet(self.tokens, self.points(), arrow=arrow, tick=tick, cramped=self.cramped)
        self._application.setStyleSheet(sheet)
        self.changed.emit()

    def forget(self) -> None:
        """Stop following the system and take the style sheet away."""
        QGuiApplication.styleHints().colorSchemeChanged.disconnect(self._follow_system)
        self._wishes.contrastPreferenceChanged.disconnect(self._follow_contrast)
        self._percent = 100
        font = self._application.font()
        font.setPointSizeF(self._base)
        self._application.setFont(font)
        self._application.setStyleSheet("")

    def _follow_system(self) -> None:
        if self._dark is None:
            self.apply()

    def _follow_contrast(self) -> None:
        if self._contrast is None:
            self.apply()


def _palette(tokens: Tokens) -> QPalette:
    palette = QPalette()
    roles = QPalette.ColorRole
    for role, colour in (
        (roles.Window, tokens.ground),
        (roles.Base, tokens.sheet),
        (roles.AlternateBase, tokens.sheet),
        (roles.Button, tokens.raised),
        (roles.Mid, tokens.line),
        (roles.WindowText, tokens.ink),
        (roles.Text, tokens.ink),
        (roles.ButtonText, tokens.ink),
        (roles.ToolTipBase, tokens.sheet),
        (roles.ToolTipText, tokens.ink),
        (roles.PlaceholderText, tokens.quiet),
        (roles.Highlight, tokens.chosen),
        (roles.HighlightedText, tokens.on_chosen),
        (roles.Link, tokens.focus),
    ):
        palette.setColor(role, QColor(colour))
    palette.setColor(QPalette.ColorGroup.Disabled, roles.ButtonText, QColor(tokens.quiet))
    palette.setColor(QPalette.ColorGroup.Disabled, roles.Text, QColor(tokens.quiet))
    return palette


def _be_sure_of_a_font(application: QApplication) -> None:
    """Take the bundled font where the platform has none that can show the signs of the trade."""
    if QFontInfo(application.font()).family():  # empty where there is no font at all
        own = QRawFont.fromFont(application.font())
        if own.isValid() and all(own.supportsCharacter(ord(sign)) for sign in SIGNS):
            return
    families: list[str] = []
    for path in sorted((shipped_folder("resources") / "fonts").glob("*.ttf")):
        families += QFontDatabase.applicationFontFamilies(QFontDatabase.addApplicationFont(str(path)))
    if families:
        application.setFont(QFont(families[0], round(BASE_POINTS)))
