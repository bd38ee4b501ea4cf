"""The page of a test print: where a printer puts its ink on one kind of label sheet, to be measured with a ruler.

It shows the edge of every label, two lines at a stated distance from the paper's edges, and a scale.
"""

from reportlab.pdfgen.canvas import Canvas

from benchapp.paper.content import PaperKind
from benchapp.paper.drawing.document import new_canvas
from benchapp.paper.drawing.fonts import Faces, faces
from benchapp.paper.drawing.ink import draw_texts
from benchapp.paper.drawing.placed import Text
from benchapp.paper.drawing.style import BLACK, GREY, HAIRLINE, LEADING, MM
from benchapp.paper.drawing.wrapping import wrap
from benchapp.paper.tags.labels import LabelSheet
from benchapp.words import say

FROM_EDGE = 20.0  # mm: beyond what any printer leaves white at an edge, and short enough for a ruler
SCALE_LENGTHS = (150, 100, 50, 30)  # mm: the longest that the paper has room for
ROLL_LENGTH = 125.0  # mm of a roll that the page takes
SIZE = 8.0


def alignment_page(sheet: LabelSheet, *, shift: tuple[float, float] = (0.0, 0.0)) -> bytes:
    """One page for that sheet as PDF bytes, moved by `shift` millimetres to the right and down, as tags will be."""
    width, height = alignment_size(sheet)
    canvas, stream = new_canvas(
        say("Test print: {title}", title=sheet.title), (width * MM, height * MM), PaperKind.ALIGNMENT
    )
    canvas.translate(shift[0] * MM, (height - shift[1]) * MM)
    _draw_labels(canvas, sheet, height)
    canvas.setStrokeColorRGB(*BLACK)
    canvas.setLineWidth(0.6)
    canvas.line(FROM_EDGE * MM, -FROM_EDGE * MM, FROM_EDGE * MM, -(height - 5) * MM)
    canvas.line(FROM_EDGE * MM, -FROM_EDGE * MM, (width - 5) * MM, -FROM_EDGE * MM)
    fonts = faces()
    _draw_scale(canvas, width, fonts)
    _draw_words(canvas, _words(sheet), sheet.margins.left + sheet.label_width, fonts)
    canvas.save()
    return stream.getvalue()


def alignment_size(sheet: LabelSheet) -> tuple[float, float]:
    """Width and height of its paper in millimetres."""
    return sheet.page.width, sheet.page.height or ROLL_LENGTH


def _draw_labels(canvas: Canvas, sheet: LabelSheet, height: float) -> None:
    canvas.setStrokeColorRGB(*GREY)
    canvas.setLineWidth(HAIRLINE)
    label_height = sheet.label_height or height
    for position in range(sheet.per_page):
        left, top = sheet.place(position)
        canvas.rect(left * MM, -(top + label_height) * MM, sheet.label_width * MM, label_height * MM)


def _draw_scale(canvas: Canvas, width: float, fonts: Faces) -> None:
    """A scale in millimetres below the upper line: longer strokes at 5 and 10."""
    room = width - FROM_EDGE - 5
    length = next((one for one in SCALE_LENGTHS if one <= room), 10)
    top = FROM_EDGE + 8
    numbers: list[tuple[float, float, Text]] = []
    canvas.line(FROM_EDGE * MM, -top * MM, (FROM_EDGE + length) * MM, -top * MM)
    for mark in range(length + 1):
        x, long = (FROM_EDGE + mark) * MM, 4 if mark % 10 == 0 else 3 if mark % 5 == 0 else 2
        canvas.line(x, -top * MM, x, -(top - long) * MM)
        if mark % 10 == 0 and mark:
            half = fonts.regular.width(str(mark)) * SIZE / 2
            numbers.append((x - half, -(top + 3.5) * MM, Text(0, 0, str(mark), SIZE)))
    draw_texts(canvas, numbers, fonts)


def _words(sheet: LabelSheet) -> tuple[str, ...]:
    on_labels = say("Hold this page and a sheet of labels against the light: the grey frames should lie on the labels.")
    scale = say("The scale should be as long as it says. If not, switch off fitting and shrinking in its settings.")
    return (
        say("Test print: {title}", title=sheet.title),
        say(
            "Both black lines should stand {FROM_EDGE:.0f} mm from the paper's left and upper edge. Measure them.",
            FROM_EDGE=FROM_EDGE,
        ),
        "Left line: if it stands 18.5 mm from the edge, add 1.5 to “Move right”; if it stands 21 mm, take 1 away.",
        "Upper line: the same with “Move down”.",
        scale,
        *(() if sheet.continuous else (on_labels,)),
    )


def _draw_words(canvas: Canvas, words: tuple[str, ...], right: float, fonts: Faces) -> None:
    """Words within the first label, whose right edge stands at `right` millimetres."""
    left, y = FROM_EDGE + 4, (FROM_EDGE + 17) * MM
    room = (right - left - 3) * MM / SIZE
    lines: list[tuple[float, float, Text]] = []
    for number, sentence in enumerate(words):
        face = fonts.face(bold=number == 0)
        for line in wrap(face.printable(sentence), room, face):
            lines.append((left * MM, -y, Text(0, 0, line, SIZE, number == 0)))
            y += SIZE * LEADING
        y += SIZE * 0.4
    draw_texts(canvas, lines, fonts)
