"""The pieces that flow down a page: set lines, and the head with the disposition. They know content and style, no page.

Every line is cut by the same rules as on a tag, so nothing runs over the edge of its column.
"""

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from benchapp.paper.content import TagContent
from benchapp.paper.drawing.fonts import Faces
from benchapp.paper.drawing.ink import draw_parts, draw_texts
from benchapp.paper.drawing.placed import Item, Text
from benchapp.paper.drawing.style import LEADING, TextStyle
from benchapp.paper.drawing.wrapping import set_paragraph
from benchapp.paper.tags.frame import lay_out_band, lay_out_head

HEAD_GAP = 4.0


class Lines(Flowable):
    """A paragraph or a cell: an optional bold lead and words, cut into lines that fit; splits between any two lines.

    `right` sets lines without a lead flush right.
    """

    def __init__(self, words: str, style: TextStyle, fonts: Faces, *, lead: str = "", right: bool = False) -> None:
        super().__init__()
        self._face = fonts.face(bold=style.bold)
        self._words, self._lead = self._face.printable(words), fonts.bold.printable(lead)
        self._style, self._fonts, self._right = style, fonts, right
        self._cut: tuple[Text, ...] | None = None
        self._is_part = False  # a part of a paragraph keeps its lines, whatever width it is offered
        self.width = self.height = 0.0

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        """Cut the words for a width; returns the width and the height they take."""
        if self._cut is None or (available_width != self.width and not self._is_part):
            self.width, self._cut = available_width, self._set(available_width)
            self.height = self._lines_below(self._cut) * self._style.size * LEADING
        return self.width, self.height

    def split(self, available_width: float, available_height: float) -> list[Flowable]:
        """The lines that fit, and the rest; nothing where not one line fits."""
        self.wrap(available_width, available_height)
        if available_height < self._style.size * LEADING:
            return []
        upper, lower = self._halves(available_height)
        return [upper] if lower is None else [upper, lower]

    def cut(self, width: float, height: float) -> tuple["Lines", "Lines | None"]:
        """The lines that fit a height (at least one), and the rest if there is one."""
        self.wrap(width, height)
        if self.height <= height:
            return self, None
        return self._halves(max(height, self._style.size * LEADING))

    def draw(self) -> None:
        """Draw at the origin that the page has set."""
        draw_texts(self.canv, ((0.0, self.height, text) for text in self._cut or ()), self._fonts)

    def _set(self, width: float) -> tuple[Text, ...]:
        size, ink = self._style.size, self._style.ink
        pieces = set_paragraph(self._lead, self._words, width / size, self._fonts.bold, self._face)
        return tuple(
            Text(
                width - self._face.width(piece.text) * size if self._right else piece.x * size,
                size * (1 + piece.line * LEADING),
                piece.text,
                size,
                self._style.bold or piece.is_lead,
                ink,
            )
            for piece in pieces
        )

    def _lines_below(self, cut: tuple[Text, ...]) -> int:
        return len({text.y for text in cut})

    def _halves(self, height: float) -> tuple["Lines", "Lines | None"]:
        leading = self._style.size * LEADING
        fits = int((height + 1e-6) / leading) * leading
        cut = self._cut or ()
        lower = tuple(_raised(text, fits) for text in cut if text.y > fits)
        return self._part(tuple(text for text in cut if text.y <= fits)), self._part(lower) if lower else None

    def _part(self, cut: tuple[Text, ...]) -> "Lines":
        part = Lines("", self._style, self._fonts)
        part._cut, part._is_part, part.width = cut, True, self.width
        part.height = self._lines_below(cut) * self._style.size * LEADING
        return part


class UnitHead(Flowable):
    """The head of a record: shelf mark, equipment, code and disposition, as they stand on the unit's tag."""

    def __init__(self, tag: TagContent, height: float, fonts: Faces) -> None:
        super().__init__()
        self._tag, self._fonts, self.height = tag, fonts, height
        self._parts: tuple[tuple[float, float, tuple[Item, ...]], ...] = ()

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        """Lay the head out over the whole width."""
        head, head_height = lay_out_head(self._tag, available_width, self.height * 1.6, self._fonts)
        band_height = self.height - head_height - HEAD_GAP
        band, _ = lay_out_band(self._tag, available_width, band_height, self._fonts)
        self._parts = ((0.0, 0.0, head), (0.0, head_height + HEAD_GAP, band))
        self.width = available_width
        return available_width, self.height

    def draw(self) -> None:
        """Draw at the origin that the page has set."""
        canvas: Canvas = self.canv
        draw_parts(canvas, self._parts, 0.0, self.height, self._fonts)


def _raised(text: Text, distance: float) -> Text:
    return Text(text.x, text.y - distance, text.text, text.size, text.bold, text.ink)
