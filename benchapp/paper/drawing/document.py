"""A PDF from its first byte to its last: the same content gives the same bytes, and the document says what it is."""

from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

from benchapp.paper.content import PaperKind

AUTHOR = "Bench workbook"
LANGUAGE = "en-GB"


def creator_of(kind: PaperKind) -> str:
    """What a document of that kind names as its creator (ISO 32000-1, table 317)."""
    return f"{AUTHOR}: {kind}"


def new_canvas(title: str, size: tuple[float, float], kind: PaperKind) -> tuple[Canvas, BytesIO]:
    """A canvas for pages of `size` points, with title, author and language set and no date in it."""
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=size, invariant=1, lang=LANGUAGE)
    describe(canvas, title, kind)
    return canvas, stream


def describe(canvas: Canvas, title: str, kind: PaperKind) -> None:
    """Write title, author, creator and subject into the document."""
    canvas.setTitle(title)
    canvas.setAuthor(AUTHOR)
    canvas.setCreator(creator_of(kind))
    canvas.setSubject(title)
