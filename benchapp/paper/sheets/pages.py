"""Pages of a long document: their size, margins, running head and foot with page x of y."""

from collections.abc import Callable
from io import BytesIO
from typing import Any

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate
from reportlab.platypus.doctemplate import LayoutError

from benchapp.paper.content import PaperKind
from benchapp.paper.drawing.document import AUTHOR, LANGUAGE, creator_of
from benchapp.paper.drawing.fonts import faces
from benchapp.paper.drawing.ink import draw_texts
from benchapp.paper.drawing.placed import Text
from benchapp.paper.drawing.style import GREY, HAIRLINE, MM, RECORD_MARGIN, RUNNING
from benchapp.paper.drawing.wrapping import one_line
from benchapp.paper.problems import PaperProblem
from benchapp.words import say

SIZES = {"A4": A4, "Letter": LETTER}
FOOT_ROOM = 6 * MM


def flowing_document(
    kind: PaperKind, title: str, running: str, foot: str, story: Callable[[float], list[Flowable]], page: str
) -> bytes:
    """A PDF of a story on A4 or Letter pages. `story` is given the width of a line and makes the flowables afresh.

    It is built twice: only then is the number of pages known that each page's foot states. Raises PaperProblem for an
    unknown paper and for a piece that no page can hold.
    """
    if page not in SIZES:
        raise PaperProblem(
            say("The paper “{page}” is not known. Choose one of: {listed}.", page=page, listed=", ".join(SIZES))
        )
    try:
        _, pages = _build(kind, title, running, foot, story, SIZES[page], total=0)
        return _build(kind, title, running, foot, story, SIZES[page], total=pages)[0]
    except LayoutError as error:
        raise PaperProblem(
            say(
                "“{title}” has a piece that fits no {page} page. Shorten the longest text in it. ({error})",
                title=title,
                page=page,
                error=error,
            )
        ) from error


def _build(
    kind: PaperKind,
    title: str,
    running: str,
    foot: str,
    story: Callable[[float], list[Flowable]],
    size: tuple[float, float],
    *,
    total: int,
) -> tuple[bytes, int]:
    stream = BytesIO()
    width, height = size
    document = BaseDocTemplate(
        stream,
        pagesize=size,
        title=title,
        author=AUTHOR,
        creator=creator_of(kind),
        subject=title,
        lang=LANGUAGE,
        invariant=1,
    )
    line = width - 2 * RECORD_MARGIN
    frame_height = height - 2 * RECORD_MARGIN - FOOT_ROOM
    frame = Frame(
        RECORD_MARGIN,
        RECORD_MARGIN + FOOT_ROOM,
        line,
        frame_height,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )

    def furnish(canvas: Canvas, _document: Any) -> None:  # noqa: ANN401 (reportlab hands itself over)
        number = canvas.getPageNumber()
        _draw_foot(canvas, width, foot, f"page {number} of {total or number}")
        if number > 1:
            _draw_running(canvas, width, height, running)

    document.addPageTemplates([PageTemplate(frames=[frame], onPage=furnish)])
    document.build(story(line))
    return stream.getvalue(), document.page


def _draw_foot(canvas: Canvas, width: float, foot: str, number: str) -> None:
    face = faces().regular
    y = RECORD_MARGIN
    canvas.setStrokeColorRGB(*GREY)
    canvas.setLineWidth(HAIRLINE)
    canvas.line(RECORD_MARGIN, y + FOOT_ROOM - 2 * MM, width - RECORD_MARGIN, y + FOOT_ROOM - 2 * MM)
    number_width = face.width(number) * RUNNING.size
    room = width - 2 * RECORD_MARGIN - number_width - 5 * MM
    _draw_line(canvas, RECORD_MARGIN, y, one_line(face.printable(foot), room / RUNNING.size, face))
    _draw_line(canvas, width - RECORD_MARGIN - number_width, y, number)


def _draw_running(canvas: Canvas, width: float, height: float, words: str) -> None:
    face, room = faces().regular, width - 2 * RECORD_MARGIN
    line = one_line(face.printable(words), room / RUNNING.size, face)
    _draw_line(canvas, RECORD_MARGIN, height - RECORD_MARGIN + 4 * MM, line)


def _draw_line(canvas: Canvas, x: float, y: float, words: str) -> None:
    draw_texts(canvas, [(x, y, Text(0.0, 0.0, words, RUNNING.size, False, RUNNING.ink))], faces())
