"""A finished document, read back as lines, letters and pictures."""

import pytest

from benchapp.paper.content import RecordPhoto
from benchapp.paper.drawing.marks import Outline, Picture, Words
from benchapp.paper.drawing.page_reader import drawn_pages
from benchapp.paper.drawing.style import MM, RED
from benchapp.paper.sheets.record import record_sheet
from benchapp.paper.tags.labels import read_label_sheet
from benchapp.paper.tags.sheets import tag_sheet
from tests.paper.making import make_record, make_tag
from tests.paper.tags.test_sheets import SHEETS
from tests.photos import tiny_photo


def of(kind, page):
    return [mark for mark in page.marks if isinstance(mark, kind)]


@pytest.mark.parametrize("name", SHEETS)
def test_a_tag_sheet_is_words_and_outlines_on_its_own_paper(name):
    sheet = read_label_sheet(name)
    pages = drawn_pages(tag_sheet([make_tag()] * 9, sheet))
    assert len(pages) == {"a4-2-by-4": 2, "a4-plain-2-by-4": 2, "letter-2-by-3": 2, "roll-62": 9}[name]
    for page in pages:
        assert page.width == pytest.approx(sheet.page.width * MM, abs=0.01)
        assert not of(Picture, page)
        words = {mark.text for mark in of(Words, page)}
        assert {"TB-014", "Mains unit, two AC outputs", "£12.50"} <= words
        assert {mark.font for mark in of(Words, page)} == {"DejaVuSansCondensed", "DejaVuSansCondensed-Bold"}


def test_a_mark_stands_where_the_document_has_it(a4):
    (page,) = drawn_pages(tag_sheet([make_tag()], a4, start_at=4))
    mark = next(mark for mark in of(Words, page) if mark.text == "TB-014")
    assert mark.x == pytest.approx((4.65 + 99.1 + 2.5 + 3) * MM, abs=0.01)
    assert (13.1 + 67.7) * MM < mark.y < (13.1 + 67.7 + 20) * MM
    assert mark.size == pytest.approx(30)


def test_strokes_and_fillings_keep_their_ink_and_their_width(a4):
    from benchapp.paper.content import Tone

    (page,) = drawn_pages(tag_sheet([make_tag(tone=Tone.FORBIDDEN, disposition_words="Do not use")], a4))
    filled = [mark for mark in of(Outline, page) if mark.fill is not None and mark.fill == pytest.approx(RED, abs=0.01)]
    assert filled
    stroked = [mark for mark in of(Outline, page) if mark.stroke is not None]
    assert all(0 < mark.line < 8 for mark in stroked)


def test_words_from_right_to_left_are_handed_over_as_a_picture_where_they_stand(a4):
    (page,) = drawn_pages(tag_sheet([make_tag(title="שלום")], a4))
    (picture,) = of(Picture, page)
    assert picture.png.startswith(b"\x89PNG")
    assert picture.x == pytest.approx((4.65 + 3) * MM, abs=1)
    assert 5 < picture.width < 60


def test_a_photo_of_a_record_stands_in_its_box():
    photos = (RecordPhoto(words="3: front of it", image=tiny_photo(width=40, height=20)),)
    pages = drawn_pages(record_sheet(make_record(photos=photos)))
    (picture,) = [mark for page in pages for mark in of(Picture, page)]
    assert picture.width == pytest.approx(2 * picture.height, rel=0.01)
    assert picture.y > 0
