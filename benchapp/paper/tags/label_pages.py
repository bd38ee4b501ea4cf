"""Pages of labels: each layout on the next free label of a sheet, or on a length of its own of a roll."""

from collections.abc import Callable, Sequence

from reportlab.pdfgen.canvas import Canvas

from benchapp.paper.content import PaperKind
from benchapp.paper.drawing.document import new_canvas
from benchapp.paper.drawing.fonts import Faces, faces
from benchapp.paper.drawing.ink import draw_parts
from benchapp.paper.drawing.placed import LabelLayout
from benchapp.paper.drawing.style import GREY, HAIRLINE, MM
from benchapp.paper.problems import PaperProblem
from benchapp.paper.tags.labels import LabelSheet
from benchapp.words import say

LayOut = Callable[[float, float | None, Faces], LabelLayout]
"""Lays one label out for a width and a height in points; with no height it is as long as it needs."""


def label_pages(
    labels: Sequence[LayOut],
    sheet: LabelSheet,
    *,
    kind: PaperKind,
    title: str,
    start_at: int = 1,
    shift: tuple[float, float] = (0.0, 0.0),
) -> bytes:
    """A document of labels, from label `start_at` (1 is the first) of the first page on, as many pages as they need.

    On a continuous roll each label is a page of its own. `shift` moves all to the right and down, in millimetres, for
    a printer that feeds its paper askew; the paper stays as large as it is. Raises PaperProblem for what does not fit,
    and for a label that the sheet does not have.
    """
    _refuse_start(sheet, start_at)
    canvas, stream = new_canvas(title, (sheet.page.width * MM, (sheet.page.height or sheet.page.width) * MM), kind)
    fonts = faces()
    for number, lay_out in enumerate(labels, start=start_at - 1):
        position = number % sheet.per_page
        if position == 0 and number >= start_at:
            canvas.showPage()
        _draw_on_sheet(canvas, lay_out(*_size(sheet), fonts), sheet, position, fonts, shift)
    canvas.save()
    return stream.getvalue()


def one_label(lay_out: LayOut, sheet: LabelSheet, *, kind: PaperKind, title: str) -> bytes:
    """One label on a page that is the label itself."""
    fonts = faces()
    layout = lay_out(*_size(sheet), fonts)
    canvas, stream = new_canvas(title, (layout.width, layout.height), kind)
    draw_parts(canvas, layout.parts, 0.0, layout.height, fonts)
    canvas.save()
    return stream.getvalue()


def _size(sheet: LabelSheet) -> tuple[float, float | None]:
    height = sheet.label_height
    return sheet.label_width * MM, None if height is None else height * MM


def _refuse_start(sheet: LabelSheet, start_at: int) -> None:
    if not 1 <= start_at <= sheet.per_page:
        raise PaperProblem(
            say(
                "The sheet “{title}” has labels 1 to {per_page}; printing cannot start at label {start_at}.",
                title=sheet.title,
                per_page=sheet.per_page,
                start_at=start_at,
            )
        )


def _draw_on_sheet(
    canvas: Canvas, layout: LabelLayout, sheet: LabelSheet, position: int, fonts: Faces, shift: tuple[float, float]
) -> None:
    left, top = ((length + by) * MM for length, by in zip(sheet.place(position), shift, strict=True))
    page_height = layout.height if sheet.page.height is None else sheet.page.height * MM
    if sheet.continuous:
        canvas.setPageSize((sheet.page.width * MM, page_height))
    if sheet.cut_lines:
        canvas.setStrokeColorRGB(*GREY)
        canvas.setLineWidth(HAIRLINE)
        canvas.rect(left, page_height - top - layout.height, layout.width, layout.height)
    draw_parts(canvas, layout.parts, left, page_height - top, fonts)
