"""Ink on a page: draws what a layout has placed. Nothing is decided here."""

from collections.abc import Iterable

from reportlab.pdfgen.canvas import Canvas

from benchapp.paper.drawing.codes import code_path
from benchapp.paper.drawing.fonts import Faces
from benchapp.paper.drawing.placed import Box, Code, Item, Rule, Sign, Text
from benchapp.paper.drawing.signs import draw_sign
from benchapp.paper.drawing.style import Ink


def draw_parts(
    canvas: Canvas, parts: Iterable[tuple[float, float, Iterable[Item]]], left: float, top: float, fonts: Faces
) -> None:
    """Draw parts (each with its origin from the upper left corner) with that corner at left, top of the page."""
    texts: list[tuple[float, float, Text]] = []
    for x, y, items in parts:
        for item in items:
            if isinstance(item, Text):
                texts.append((left + x, top - y, item))
            else:
                _draw_shape(canvas, item, left + x, top - y)
    draw_texts(canvas, texts, fonts)


def _draw_shape(canvas: Canvas, item: Item, left: float, top: float) -> None:
    match item:
        case Box():
            _draw_box(canvas, item, left + item.x, top - item.y - item.height)
        case Rule():
            canvas.setStrokeColorRGB(*item.ink)
            canvas.setLineWidth(item.line)
            canvas.line(left + item.x, top - item.y, left + item.x + item.width, top - item.y)
        case Sign():
            y = top - item.y - item.size
            draw_sign(canvas, item.tone, left + item.x, y, item.size, on_dark=item.on_dark)
        case Code():
            canvas.addLiteral(code_path(item.text, left + item.x, top - item.y - item.size, item.size))


def _draw_box(canvas: Canvas, box: Box, x: float, y: float) -> None:
    if box.filled:
        canvas.setFillColorRGB(*box.ink)
        canvas.rect(x, y, box.width, box.height, stroke=0, fill=1)
    else:
        inset = box.line / 2
        canvas.setStrokeColorRGB(*box.ink)
        canvas.setLineWidth(box.line)
        canvas.rect(x + inset, y + inset, box.width - box.line, box.height - box.line, stroke=1, fill=0)


def draw_texts(canvas: Canvas, texts: Iterable[tuple[float, float, Text]], fonts: Faces) -> None:
    """Draw texts, each from its own origin (page coordinates, y upwards), in one text object."""
    page_text = canvas.beginText()
    ink: Ink | None = None
    for left, top, text in texts:
        if text.ink != ink:
            ink = text.ink
            page_text.setFillColorRGB(*ink)
        page_text.setTextOrigin(left + text.x, top - text.y)
        for font, part in fonts.face(bold=text.bold).runs(text.text):
            page_text.setFont(font, text.size)
            page_text.textOut(part)
    canvas.drawText(page_text)
