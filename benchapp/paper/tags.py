"""Tags on label sheets, and one tag on a page of its own: layout, then ink.

The text of a tag is drawn as one text object (real, searchable text); see tag_layout for where it stands and codes for
the QR code.
"""

from collections.abc import Iterable, Sequence

from reportlab.pdfgen.canvas import Canvas

from benchapp.paper.codes import code_path
from benchapp.paper.content import TagContent
from benchapp.paper.document import new_canvas
from benchapp.paper.fonts import Faces, faces
from benchapp.paper.labels import LabelSheet
from benchapp.paper.placed import Box, Code, Item, Rule, Sign, Text
from benchapp.paper.problems import PaperProblem
from benchapp.paper.signs import draw_sign
from benchapp.paper.style import GREY, HAIRLINE, MM, Ink
from benchapp.paper.tag_layout import TagLayout, lay_out_tag


def tag_sheet(tags: Sequence[TagContent], sheet: LabelSheet, *, start_at: int = 1) -> bytes:
    """The tags of a lot on as many pages as they need, from label `start_at` (1 is the first) of the first page on.

    On a continuous roll each tag is a page of its own. Raises PaperProblem for a tag that does not fit, for no tags at
    all, and for a label that the sheet does not have.
    """
    _check(tags, sheet, start_at)
    canvas, stream = new_canvas(_title(tags), _page_size(sheet))
    fonts = faces()
    for number, tag in enumerate(tags, start=start_at - 1):
        position = number % sheet.per_page
        if position == 0 and number >= start_at:
            canvas.showPage()
        _draw_on_sheet(canvas, tag, sheet, position, fonts)
    canvas.save()
    return stream.getvalue()


def single_tag(tag: TagContent, sheet: LabelSheet) -> bytes:
    """One tag on a page that is the label itself."""
    width, height = sheet.label_width, sheet.label_height
    fonts = faces()
    layout = lay_out_tag(tag, width * MM, None if height is None else height * MM, fonts)
    canvas, stream = new_canvas(_title([tag]), (layout.width, layout.height))
    _draw_tag(canvas, layout, 0.0, layout.height, fonts)
    canvas.save()
    return stream.getvalue()


def _check(tags: Sequence[TagContent], sheet: LabelSheet, start_at: int) -> None:
    if not tags:
        raise PaperProblem("There are no tags to print. Choose at least one unit.")
    if not 1 <= start_at <= sheet.per_page:
        raise PaperProblem(
            f"The sheet “{sheet.title}” has labels 1 to {sheet.per_page}; printing cannot start at label {start_at}."
        )


def _title(tags: Sequence[TagContent]) -> str:
    if len(tags) == 1:
        return f"Tag {tags[0].shelf_mark}"
    return f"Tags {tags[0].shelf_mark} to {tags[-1].shelf_mark}"


def _page_size(sheet: LabelSheet) -> tuple[float, float]:
    return sheet.page.width * MM, (sheet.page.height or sheet.page.width) * MM


def _draw_on_sheet(canvas: Canvas, tag: TagContent, sheet: LabelSheet, position: int, fonts: Faces) -> None:
    height = sheet.label_height
    layout = lay_out_tag(tag, sheet.label_width * MM, None if height is None else height * MM, fonts)
    left, top = (length * MM for length in sheet.place(position))
    page_height = layout.height if sheet.page.height is None else sheet.page.height * MM
    if sheet.continuous:
        canvas.setPageSize((sheet.page.width * MM, page_height))
    if sheet.cut_lines:
        canvas.setStrokeColorRGB(*GREY)
        canvas.setLineWidth(HAIRLINE)
        canvas.rect(left, page_height - top - layout.height, layout.width, layout.height)
    _draw_tag(canvas, layout, left, page_height - top, fonts)


def _draw_tag(canvas: Canvas, layout: TagLayout, left: float, top: float, fonts: Faces) -> None:
    """Draw a laid out tag with its upper left corner at left, top (page coordinates, y upwards)."""
    texts: list[tuple[float, float, Text]] = []
    for x, y, items in layout.parts:
        for item in items:
            if isinstance(item, Text):
                texts.append((left + x, top - y, item))
            else:
                _draw_shape(canvas, item, left + x, top - y)
    _draw_texts(canvas, texts, fonts)


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


def _draw_texts(canvas: Canvas, texts: Iterable[tuple[float, float, Text]], fonts: Faces) -> None:
    """All texts in one text object, changing ink and font only where they change."""
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
