"""A PDF from its first byte to its last: the same content gives the same bytes, and the document says what it is."""

from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

AUTHOR = "Bench workbook"
LANGUAGE = "en-GB"


def new_canvas(title: str, size: tuple[float, float]) -> tuple[Canvas, BytesIO]:
    """A canvas for pages of `size` points, with title, author and language set and no date in it."""
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=size, invariant=1, lang=LANGUAGE)
    describe(canvas, title)
    return canvas, stream


def describe(canvas: Canvas, title: str) -> None:
    """Write title, author and subject into the document."""
    canvas.setTitle(title)
    canvas.setAuthor(AUTHOR)
    canvas.setCreator(AUTHOR)
    canvas.setSubject(title)
