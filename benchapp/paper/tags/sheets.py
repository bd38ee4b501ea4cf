"""Tags on label sheets, and one tag on a page of its own: layout, then ink.

The text of a tag is drawn as one text object (real, searchable text); see tag_layout for where it stands and codes for
the QR code.
"""

from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas

from benchapp.paper.content import PaperKind, TagContent
from benchapp.paper.drawing.document import new_canvas
from benchapp.paper.drawing.fonts import Faces, faces
from benchapp.paper.drawing.ink import draw_parts
from benchapp.paper.drawing.style import GREY, HAIRLINE, MM
from benchapp.paper.problems import PaperProblem
from benchapp.paper.tags.labels import LabelSheet
from benchapp.paper.tags.layout import lay_out_tag
from benchapp.words import say


def tag_sheet(
    tags: Sequence[TagContent], sheet: LabelSheet, *, start_at: int = 1, shift: tuple[float, float] = (0.0, 0.0)
) -> bytes:
    """The tags of a lot on as many pages as they need, from label `start_at` (1 is the first) of the first page on.

    On a continuous roll each tag is a page of its own. `shift` moves all to the right and down, in millimetres, for a
    printer that feeds its paper askew; the paper stays as large as it is. Raises PaperProblem for a tag that does not
    fit, for no tags at all, and for a label that the sheet does not have.
    """
    _check(tags, sheet, start_at)
    canvas, stream = new_canvas(_title(tags), _page_size(sheet), PaperKind.TAGS)
    fonts = faces()
    for number, tag in enumerate(tags, start=start_at - 1):
        position = number % sheet.per_page
        if position == 0 and number >= start_at:
            canvas.showPage()
        _draw_on_sheet(canvas, tag, sheet, position, fonts, shift)
    canvas.save()
    return stream.getvalue()


def single_tag(tag: TagContent, sheet: LabelSheet) -> bytes:
    """One tag on a page that is the label itself."""
    width, height = sheet.label_width, sheet.label_height
    fonts = faces()
    layout = lay_out_tag(tag, width * MM, None if height is None else height * MM, fonts)
    canvas, stream = new_canvas(_title([tag]), (layout.width, layout.height), PaperKind.TAGS)
    draw_parts(canvas, layout.parts, 0.0, layout.height, fonts)
    canvas.save()
    return stream.getvalue()


def _check(tags: Sequence[TagContent], sheet: LabelSheet, start_at: int) -> None:
    if not tags:
        raise PaperProblem(say("There are no tags to print. Choose at least one unit."))
    if not 1 <= start_at <= sheet.per_page:
        raise PaperProblem(
            say(
                "The sheet “{title}” has labels 1 to {per_page}; printing cannot start at label {start_at}.",
                title=sheet.title,
                per_page=sheet.per_page,
                start_at=start_at,
            )
        )


def _title(tags: Sequence[TagContent]) -> str:
    if len(tags) == 1:
        return f"Tag {tags[0].shelf_mark}"
    return f"Tags {tags[0].shelf_mark} to {tags[-1].shelf_mark}"


def _page_size(sheet: LabelSheet) -> tuple[float, float]:
    return sheet.page.width * MM, (sheet.page.height or sheet.page.width) * MM


def _draw_on_sheet(
    canvas: Canvas, tag: TagContent, sheet: LabelSheet, position: int, fonts: Faces, shift: tuple[float, float]
) -> None:
    height = sheet.label_height
    layout = lay_out_tag(tag, sheet.label_width * MM, None if height is None else height * MM, fonts)
    left, top = ((length + by) * MM for length, by in zip(sheet.place(position), shift, strict=True))
    page_height = layout.height if sheet.page.height is None else sheet.page.height * MM
    if sheet.continuous:
        canvas.setPageSize((sheet.page.width * MM, page_height))
    if sheet.cut_lines:
        canvas.setStrokeColorRGB(*GREY)
        canvas.setLineWidth(HAIRLINE)
        canvas.rect(left, page_height - top - layout.height, layout.width, layout.height)
    draw_parts(canvas, layout.parts, left, page_height - top, fonts)
