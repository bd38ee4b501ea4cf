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
NARROW, FROM_EDGE_OF_NARROW = 50.0, 10.0  # mm: a roll on which the words stand below the lines
LEAST_FOR_WORDS = 80.0  # mm: on a smaller label the words run over its neighbours
SCALE_LENGTHS = (150, 100, 50, 30)  # mm: the longest that the paper has room for
ROLL_LENGTH, NARROW_LENGTH = 125.0, 145.0  # mm of a roll that the page takes
SIZE = 8.0


def alignment_page(sheet: LabelSheet, *, shift: tuple[float, float] = (0.0, 0.0)) -> bytes:
    """One page for that sheet as PDF bytes, moved by `shift` millimetres to the right and down, as labels will be."""
    width, height = alignment_size(sheet)
    canvas, stream = new_canvas(
        say("Test print: {title}", title=sheet.title), (width * MM, height * MM), PaperKind.ALIGNMENT
    )
    canvas.translate(shift[0] * MM, (height - shift[1]) * MM)
    _draw_labels(canvas, sheet, height)
    canvas.setStrokeColorRGB(*BLACK)
    canvas.setLineWidth(0.6)
    edge, foot = _from_edge(sheet), _words_top(sheet) - 4 if _is_narrow(sheet) else height - 5
    canvas.line(edge * MM, -edge * MM, edge * MM, -foot * MM)
    canvas.line(edge * MM, -edge * MM, (width - 5) * MM, -edge * MM)
    fonts = faces()
    _draw_scale(canvas, width, edge, fonts)
    _draw_words(canvas, _words(sheet), sheet, fonts)
    canvas.save()
    return stream.getvalue()


def alignment_size(sheet: LabelSheet) -> tuple[float, float]:
    """Width and height of its paper in millimetres."""
    return sheet.page.width, sheet.page.height or (NARROW_LENGTH if _is_narrow(sheet) else ROLL_LENGTH)


def _draw_labels(canvas: Canvas, sheet: LabelSheet, height: float) -> None:
    canvas.setStrokeColorRGB(*GREY)
    canvas.setLineWidth(HAIRLINE)
    label_height = sheet.label_height or height
    for position in range(sheet.per_page):
        left, top = sheet.place(position)
        canvas.rect(left * MM, -(top + label_height) * MM, sheet.label_width * MM, label_height * MM)


def _is_narrow(sheet: LabelSheet) -> bool:
    return sheet.page.width < NARROW


def _from_edge(sheet: LabelSheet) -> float:
    return FROM_EDGE_OF_NARROW if _is_narrow(sheet) else FROM_EDGE


def _words_top(sheet: LabelSheet) -> float:
    return _from_edge(sheet) + 17


def _draw_scale(canvas: Canvas, width: float, edge: float, fonts: Faces) -> None:
    """A scale in millimetres below the upper line: longer strokes at 5 and 10."""
    room = width - edge - 5
    length = next((one for one in SCALE_LENGTHS if one <= room), 10)
    top = edge + 8
    numbers: list[tuple[float, float, Text]] = []
    canvas.line(edge * MM, -top * MM, (edge + length) * MM, -top * MM)
    for mark in range(length + 1):
        x, long = (edge + mark) * MM, 4 if mark % 10 == 0 else 3 if mark % 5 == 0 else 2
        canvas.line(x, -top * MM, x, -(top - long) * MM)
        if mark % 10 == 0 and mark:
            half = fonts.regular.width(str(mark)) * SIZE / 2
            numbers.append((x - half, -(top + 3.5) * MM, Text(0, 0, str(mark), SIZE)))
    draw_texts(canvas, numbers, fonts)


def _words(sheet: LabelSheet) -> tuple[str, ...]:
    edge = _from_edge(sheet)
    on_labels = say("Hold this page and a sheet of labels against the light: the grey frames should lie on the labels.")
    scale = say("The scale should be as long as it says. If not, switch off fitting and shrinking in its settings.")
    return (
        say("Test print: {title}", title=sheet.title),
        say(
            "Both black lines should stand {edge:.0f} mm from the paper's left and upper edge. Measure them.", edge=edge
        ),
        say(
            "Left line: if it stands {near} mm from the edge, add 1.5 to “Move right”; if it stands {far} mm, "
            "take 1 away.",
            near=f"{edge - 1.5:g}",
            far=f"{edge + 1:g}",
        ),
        "Upper line: the same with “Move down”.",
        scale,
        *(() if sheet.continuous else (on_labels,)),
    )


def _draw_words(canvas: Canvas, words: tuple[str, ...], sheet: LabelSheet, fonts: Faces) -> None:
    """Words within the first label; where it is small, across the page."""
    left, y = 3.0 if _is_narrow(sheet) else FROM_EDGE + 4, _words_top(sheet) * MM
    right = sheet.page.width - 2
    if sheet.label_width >= LEAST_FOR_WORDS:
        right = sheet.margins.left + sheet.label_width
    room = (right - left - 3) * MM / SIZE
    lines: list[tuple[float, float, Text]] = []
    for number, sentence in enumerate(words):
        face = fonts.face(bold=number == 0)
        for line in wrap(face.printable(sentence), room, face):
            lines.append((left * MM, -y, Text(0, 0, line, SIZE, number == 0)))
            y += SIZE * LEADING
        y += SIZE * 0.4
    draw_texts(canvas, lines, fonts)
