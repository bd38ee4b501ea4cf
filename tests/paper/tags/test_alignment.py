"""The page of a test print says where it stands, and stands there."""

from io import BytesIO

import pytest
from PIL import Image
from pypdf import PdfReader

from benchapp.paper.drawing.pictures import page_image
from benchapp.paper.tags.alignment import alignment_page
from benchapp.paper.tags.labels import read_label_sheet
from tests.paper.making import all_text, text_boxes
from tests.paper.tags.test_sheets import SHEETS
from tests.printers.measuring import upright_lines


@pytest.fixture(params=SHEETS)
def sheet(request):
    return read_label_sheet(request.param)


def test_its_paper_is_the_sheets_own(sheet):
    box = PdfReader(BytesIO(alignment_page(sheet))).pages[0].mediabox
    assert float(box.width) / 72 * 25.4 == pytest.approx(sheet.page.width, abs=0.01)
    assert sheet.page.height is None or float(box.height) / 72 * 25.4 == pytest.approx(sheet.page.height, abs=0.01)


def test_its_line_stands_twenty_millimetres_from_the_edge_and_moves_with_the_offset(sheet, tmp_path):
    for shift in (0.0, 1.5, -2.0):
        path = tmp_path / "page.pdf"
        path.write_bytes(alignment_page(sheet, shift=(shift, 0.0)))
        lines = [line.left + line.width / 2 for line in upright_lines(path)]
        assert any(abs(x - 20 - shift) < 0.1 for x in lines)


def test_it_says_what_to_do(sheet):
    text = all_text(alignment_page(sheet))
    assert "Test print" in text
    assert "20 mm" in text
    assert "Move right" in text
    assert ("against the light" in text) is not sheet.continuous


def test_on_a_narrow_roll_the_line_stands_ten_millimetres_from_the_edge_and_the_words_below_it():
    pdf = alignment_page(read_label_sheet("roll-29"))
    page = Image.open(BytesIO(page_image(pdf, 0, 254))).convert("L")  # ten dots a millimetre
    dark = [x / 10 for x in range(page.width) if page.getpixel((x, 120)) < 128]
    assert dark
    assert all(abs(x - 10) < 0.2 for x in dark)
    box = PdfReader(BytesIO(pdf)).pages[0].mediabox
    for _page, left, bottom, right, _top, _text in text_boxes(pdf):
        assert left >= 0
        assert bottom >= 0
        assert right <= float(box.width)
    text = all_text(pdf)
    assert "10 mm from the paper's left" in text
    assert "if it stands 8.5 mm" in text
