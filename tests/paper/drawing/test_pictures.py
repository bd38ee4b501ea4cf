"""Pages as pictures, for the preview."""

from concurrent.futures import ThreadPoolExecutor
from io import BytesIO

import pytest
from PIL import Image

from benchapp.paper.drawing.pictures import page_count, page_image
from benchapp.paper.problems import PaperProblem
from benchapp.paper.tags.labels import read_label_sheet
from benchapp.paper.tags.sheets import tag_sheet
from tests.paper.making import make_tag


@pytest.fixture(scope="module")
def pdf():
    return tag_sheet([make_tag(shelf_mark=f"TB-{n}") for n in range(9)], read_label_sheet("a4-2-by-4"))


def test_a_page_is_a_picture_of_its_size(pdf):
    image = Image.open(BytesIO(page_image(pdf, 0, 50)))
    assert image.format == "PNG"
    assert image.size == pytest.approx((210 / 25.4 * 50, 297 / 25.4 * 50), abs=1)
    assert image.convert("L").getextrema()[0] < 60  # there is ink on it
    assert image.convert("RGB").getpixel((1, 1)) == (255, 255, 255)


def test_the_green_of_a_tag_for_sale_is_green_on_the_picture(pdf):
    image = Image.open(BytesIO(page_image(pdf, 0, 60))).convert("RGB")
    colours = {colour for _count, colour in image.getcolors(1 << 20)}
    assert any(green > red + 40 and green > blue + 20 for red, green, blue in colours)


def test_a_page_that_is_not_there_is_refused(pdf):
    assert page_count(pdf) == 2
    with pytest.raises(PaperProblem, match="There is no page 3: the document has 2"):
        page_image(pdf, 2)


def test_pictures_asked_for_by_several_threads_at_once_are_all_right(pdf):
    expected = page_image(pdf, 0, 40)
    with ThreadPoolExecutor(4) as threads:
        assert set(threads.map(lambda _number: page_image(pdf, 0, 40), range(24))) == {expected}
