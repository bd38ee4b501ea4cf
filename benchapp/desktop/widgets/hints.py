"""Which keys do what on this page, always in sight."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QAccessible, QFont, QFontMetrics, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QStyle, QWidget

from benchapp.desktop.keys import KEYS, action_at_hand, key_text
from benchapp.desktop.theme.look import Look
from benchapp.desktop.widgets.kept_painting import KeptPaintings
from benchapp.desktop.words import tr

_EDGE = 2
"""pixels above, below and between the lines"""
_KEPT = 32
"""layouts of hints that are kept"""


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


class KeyHints(QWidget):
    """Lines of keys, as many as the width asks for, each with a cap and what it does.

    Where it `clicks`, a click on a hint does what its key does: for screens whose hints are no answers.
    """

    spoken_role = QAccessible.Role.StaticText

    def __init__(
        self, look: Look, name: str = "key-hints", parent: QWidget | None = None, *, clicks: bool = False
    ) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(tr("Keys"))
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setMouseTracking(clicks)
        self._look, self._clicks = look, clicks
        self._hints: tuple[Hint, ...] = ()
        self._painted = KeptPaintings(self, look)
        self._laid_out: dict[object, tuple[Placed, ...]] = {}
        look.changed.connect(self.updateGeometry)

    def show_hints(self, hints: Sequence[Hint]) -> None:
        """Show these keys."""
        if tuple(hints) != self._hints:
            self._hints = tuple(hints)
            self.setAccessibleDescription("; ".join(f"{hint.key}: {hint.words}" for hint in self._shown()))
            self.updateGeometry()
            self.update()

    def hints(self) -> tuple[Hint, ...]:
        """The keys of the page: those shown here and those whose caps stand on their controls."""
        return self._hints

    def place_of(self, key: str) -> QRect:
        """Where the hint of the key with that id stands; nowhere where it is not shown."""
        return next((one.cap.united(one.words) for one in self._places(self.width()) if one.hint.id == key), QRect())

    def _shown(self) -> tuple[Hint, ...]:
        return tuple(hint for hint in self._hints if not hint.placed)

    # room
    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        places = self._places(width)
        return (max(one.cap.united(one.words).bottom() for one in places) + _EDGE + 1) if places else 0

    def sizeHint(self) -> QSize:
        width = self.width()
        return QSize(self.fontMetrics().height() * 20, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        return QSize(0, self.sizeHint().height())

    def _places(self, width: int) -> tuple["Placed", ...]:
        shown, plain = self._shown(), self.font()
        key = (shown, width, plain.key())
        if key not in self._laid_out:
            if len(self._laid_out) >= _KEPT:
                self._laid_out.clear()
            bold = QFont(plain)
            bold.setBold(True)
            self._laid_out[key] = tuple(_flow(shown, width, QFontMetrics(bold), QFontMetrics(plain)))
        return self._laid_out[key]

    # painting
    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._painted.of(self._shown(), self.size(), self._paint))
        painter.end()

    def _paint(self, painter: QPainter) -> None:
        plain, bold = self.font(), self.font()
        bold.setBold(True)
        ink = self._look.colour("ink")
        for one in self._places(self.width()):
            cap, words = (QStyle.visualRect(self.layoutDirection(), self.rect(), box) for box in (one.cap, one.words))
            painter.fillRect(cap, self._look.colour("sheet"))
            painter.setPen(ink)
            painter.setFont(bold)
            painter.drawText(cap, Qt.AlignmentFlag.AlignCenter, one.hint.key)
            painter.setFont(plain)
            wraps = Qt.TextFlag.TextWordWrap if one.wraps else Qt.TextFlag.TextSingleLine
            painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter | wraps), one.hint.words)

    # mouse
    def _way_at(self, place: QPoint) -> str:
        """The id of the key whose hint is there, where an action of the screen stands behind it; else empty."""
        if not self._clicks:
            return ""
        mirrored = QStyle.visualPos(self.layoutDirection(), self.rect(), place)
        found = (one.hint.id for one in self._places(self.width()) if one.cap.united(one.words).contains(mirrored))
        return next((key for key in found if key and not KEYS[key].typed), "")

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The hand says what can be clicked."""
        found = self._way_at(event.position().toPoint())
        self.setCursor(Qt.CursorShape.PointingHandCursor if found else Qt.CursorShape.ArrowCursor)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click on a hint is its key."""
        if event.button() != Qt.MouseButton.LeftButton:
            return
        found = action_at_hand(self.window(), (self._way_at(event.position().toPoint()),))
        if found is not None:
            found[1]()


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A hint with the places of its cap and of its words, read from the left."""

    hint: Hint
    cap: QRect
    words: QRect
    wraps: bool = False


def _flow(hints: Sequence[Hint], width: int, bold: QFontMetrics, plain: QFontMetrics) -> Iterator[Placed]:
    """Each hint whole on a line where it fits; words that are wider than a line wrap beside their cap."""
    line = plain.height()
    left, top, tall = 0, _EDGE, line
    for hint in hints:
        cap = bold.horizontalAdvance(hint.key) + line // 2
        gap, room = line // 3, max(width - cap - line // 3, line)
        words = plain.boundingRect(QRect(0, 0, room, 10000), Qt.TextFlag.TextWordWrap, hint.words)
        wide = plain.horizontalAdvance(hint.words) + 1
        if left and left + cap + gap + wide > width:
            left, top, tall = 0, top + tall + _EDGE, line
        wide, high = (wide, line) if wide <= room else (room, words.height())
        tall = max(tall, high)
        box = QRect(left + cap + gap, top, wide, high)
        yield Placed(hint=hint, cap=QRect(left, top, cap, line), words=box, wraps=high > line)
        left += cap + gap + wide + line
