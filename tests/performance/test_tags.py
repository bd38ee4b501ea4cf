"""The cost of 200 tags against a bare reportlab canvas that draws the same text and codes at the same places.

The bare canvas knows every place already and wraps, shrinks and decides nothing. Its codes are drawn as one rectangle
for each run of modules. Codes take most of the time and would hide a slow layout, so both are also measured without.
"""

import time
from io import BytesIO

import pytest
import segno
from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.pdfgen.canvas import Canvas

from benchapp.paper.drawing.codes import code_path
from benchapp.paper.drawing.fonts import faces
from benchapp.paper.drawing.placed import Code, Text
from benchapp.paper.drawing.style import MM
from benchapp.paper.tags.labels import read_label_sheet
from benchapp.paper.tags.layout import lay_out_tag
from benchapp.paper.tags.sheets import tag_sheet
from tests.paper.making import make_tag

pytestmark = pytest.mark.performance

ROUNDS = 5


@pytest.fixture(scope="module")
def sheet():
    return read_label_sheet("a4-2-by-4")


@pytest.fixture(scope="module")
def tags():
    return [make_tag(shelf_mark=f"TB-{n:03d}", record_hash=f"{n * 2654435761:064x}"[::-1]) for n in range(200)]


def bare(placed, sheet, draw_code):
    """The texts (and codes) of laid out tags, drawn one by one at their known places."""
    fonts = faces()
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=(sheet.page.width * MM, sheet.page.height * MM), invariant=1)
    for number, layout in enumerate(placed):
        if number and number % sheet.per_page == 0:
            canvas.showPage()
        left, top = (length * MM for length in sheet.place(number % sheet.per_page))
        top = sheet.page.height * MM - top
        for x, y, items in layout.parts:
            for item in items:
                if isinstance(item, Text):
                    canvas.setFont(fonts.face(bold=item.bold).name, item.size)
                    canvas.drawString(left + x + item.x, top - y - item.y, item.text)
                elif isinstance(item, Code) and draw_code:
                    draw_code(canvas, item.text, left + x + item.x, top - y - item.y - item.size, item.size)
    canvas.save()
    return stream.getvalue()


def rectangles(canvas, text, x, y, side):
    """Runs of dark modules, each a rectangle of its own."""
    matrix = segno.make_qr(text, error="q", boost_error=False).matrix
    module = side / (len(matrix) + 8)
    for number, row in enumerate(matrix):
        start = 0
        while start < len(row):
            end = start
            while end < len(row) and row[end]:
                end += 1
            if end > start:
                bottom = y + side - (number + 5) * module
                canvas.rect(x + (start + 4) * module, bottom, (end - start) * module, module, stroke=0, fill=1)
            start = end + 1


def widget(canvas, text, x, y, side):
    """The library's own way."""
    drawing = Drawing(side, side)
    drawing.add(QrCodeWidget(text, barLevel="Q", barWidth=side, barHeight=side))
    renderPDF.draw(drawing, canvas, x, y)


def one_path(canvas, text, x, y, side):
    """As tags are drawn: one path for the whole code."""
    canvas.addLiteral(code_path(text, x, y, side))


def best_of_each(**ways):
    """Least seconds of each way, all taken in turn so that the machine's mood meets all alike."""
    least = dict.fromkeys(ways, float("inf"))
    for _ in range(ROUNDS):
        for name, way in ways.items():
            start = time.perf_counter()
            way()
            least[name] = min(least[name], time.perf_counter() - start)
    return least


def laid_out(tags, sheet):
    return [lay_out_tag(tag, sheet.label_width * MM, sheet.label_height * MM, faces()) for tag in tags]


def test_two_hundred_tags_cost_at_most_1_4_times_a_bare_canvas(tags, sheet):
    placed = laid_out(tags, sheet)
    least = best_of_each(ours=lambda: tag_sheet(tags, sheet), bare=lambda: bare(placed, sheet, rectangles))
    ratio = least["ours"] / least["bare"]
    print(f"\n200 tags: {ratio:.2f} × a bare canvas ({least['ours'] * 1e3:.0f} ms, bare {least['bare'] * 1e3:.0f} ms)")
    assert ratio <= 1.4


def test_two_hundred_tags_without_codes_cost_at_most_3_times_a_bare_canvas(tags, sheet):
    plain = [make_tag(shelf_mark=tag.shelf_mark, record_hash=tag.record_hash, code="") for tag in tags]
    placed = laid_out(plain, sheet)
    least = best_of_each(ours=lambda: tag_sheet(plain, sheet), bare=lambda: bare(placed, sheet, None))
    ratio = least["ours"] / least["bare"]
    print(f"\n200 tags, no codes: {ratio:.2f} × bare ({least['ours'] * 1e3:.0f} ms, bare {least['bare'] * 1e3:.0f} ms)")
    assert ratio <= 3.0


def test_a_code_as_one_path_is_the_fastest_way(tags, sheet):
    placed = laid_out(tags[:40], sheet)
    least = best_of_each(
        nothing=lambda: bare(placed, sheet, None),
        path=lambda: bare(placed, sheet, one_path),
        rectangles=lambda: bare(placed, sheet, rectangles),
        widget=lambda: bare(placed, sheet, widget),
    )
    cost = {name: seconds - least["nothing"] for name, seconds in least.items()}
    print(
        f"\na code as one path: 1; as rectangles: {cost['rectangles'] / cost['path']:.2f};"
        f" by the library's widget: {cost['widget'] / cost['path']:.2f} (encoding included)"
    )
    assert cost["path"] < cost["rectangles"] < cost["widget"]
