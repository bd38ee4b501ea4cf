"""Tags, read back from the PDF as a buyer's or a supervisor's program would."""

from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from benchapp.errors import BenchError
from benchapp.paper.content import TagReading, Tone
from benchapp.paper.drawing.pictures import page_count, page_sizes
from benchapp.paper.drawing.style import MM
from benchapp.paper.problems import PaperProblem
from benchapp.paper.tags.labels import read_label_sheet
from benchapp.paper.tags.sheets import single_tag, tag_sheet
from tests.paper.making import LONG_WORD, all_text, letters, make_tag, pages_text, text_boxes

SHEETS = ("a4-2-by-4", "a4-plain-2-by-4", "letter-2-by-3", "roll-62")


@pytest.mark.parametrize("name", SHEETS)
def test_the_same_tags_give_the_same_bytes(name):
    tags = [make_tag(), make_tag(shelf_mark="TB-015", tone=Tone.FORBIDDEN)]
    sheet = read_label_sheet(name)
    assert tag_sheet(tags, sheet) == tag_sheet(tags, sheet)


@pytest.mark.parametrize("name", SHEETS)
def test_a_tag_carries_everything_a_buyer_needs(name):
    tag = make_tag(repaired=("the joint at pin 4",))
    text = all_text(single_tag(tag, read_label_sheet(name)))
    carried = (
        tag.shelf_mark,
        tag.title,
        tag.disposition_words,
        tag.fuse,
        tag.initials,
        tag.price,
        *tag.cautions,
        *tag.repaired,
    )
    for words in carried:
        assert words in text
    for words in ("Tested on 25 November 2026:", *tag.tested[:1], "NOT tested: running on load", "3f9a2c41"):
        assert words in text
    for reading in tag.readings:
        assert letters(reading.what) in letters(text)
        assert reading.value in text
        assert letters(reading.band) in letters(text)


def test_a_tag_promises_nothing_and_names_no_expiry():
    text = all_text(tag_sheet([make_tag()], read_label_sheet("a4-2-by-4"))).lower()
    for word in ("safe", "guarantee", "valid", "expires", "next test", "due"):
        assert word not in text


def test_a_lot_fills_page_after_page(a4):
    tags = [make_tag(shelf_mark=f"TB-{n:03d}") for n in range(1, 18)]
    pages = pages_text(tag_sheet(tags, a4))
    assert [sum(f"TB-{n:03d}" in page for n in range(1, 18)) for page in pages] == [8, 8, 1]


def test_printing_starts_at_the_label_asked_for(a4):
    pdf = tag_sheet([make_tag()], a4, start_at=4)
    mark = next(box for box in text_boxes(pdf) if "TB-014" in box[5])
    left, top = a4.place(3)
    height = PdfReader(BytesIO(pdf)).pages[0].mediabox.height
    assert left * MM < mark[1] < (left + 15) * MM
    assert float(height) - (top + 15) * MM < mark[4] < float(height) - top * MM


def test_a_full_sheet_from_the_last_label_goes_on_at_the_first(a4):
    pages = pages_text(tag_sheet([make_tag(), make_tag(shelf_mark="TB-015")], a4, start_at=8))
    assert len(pages) == 2
    assert "TB-014" in pages[0]
    assert "TB-015" in pages[1]


@pytest.mark.parametrize("start", [0, 9, -1])
def test_a_label_that_the_sheet_does_not_have_is_refused(a4, start):
    with pytest.raises(PaperProblem, match=f"labels 1 to 8; printing cannot start at label {start}"):
        tag_sheet([make_tag()], a4, start_at=start)


def test_no_tags_at_all_is_refused_with_what_to_do(a4):
    with pytest.raises(PaperProblem, match=r"no tags to print\. Choose at least one unit"):
        tag_sheet([], a4)


def test_a_single_tag_is_a_page_as_large_as_its_label(a4):
    box = PdfReader(BytesIO(single_tag(make_tag(), a4))).pages[0].mediabox
    assert (float(box.width) / MM, float(box.height) / MM) == pytest.approx((99.1, 67.7), abs=0.01)


def test_on_a_roll_each_label_is_as_long_as_its_tag_needs():
    roll = read_label_sheet("roll-62")
    pages = PdfReader(BytesIO(tag_sheet([make_tag(), make_tag(readings=(), tested=())], roll))).pages
    assert [float(page.mediabox.width) / MM for page in pages] == pytest.approx([62, 62], abs=0.01)
    assert pages[0].mediabox.height > pages[1].mediabox.height


def test_the_document_names_itself_its_author_and_its_language(a4):
    reader = PdfReader(BytesIO(tag_sheet([make_tag(), make_tag(shelf_mark="TB-020")], a4)))
    assert reader.metadata.title == "Tags TB-014 to TB-020"
    assert reader.metadata.author == "Bench workbook"
    assert reader.root_object["/Lang"] == "en-GB"


def test_every_font_is_embedded_as_a_subset(a4):
    fonts = PdfReader(BytesIO(tag_sheet([make_tag()], a4))).pages[0]["/Resources"]["/Font"]
    used = [font.get_object() for font in fonts.values() if font.get_object()["/Subtype"] == "/TrueType"]
    assert used
    for font in used:
        assert "+DejaVuSansCondensed" in font["/BaseFont"]
        assert "/FontFile2" in font["/FontDescriptor"]


@pytest.mark.parametrize(
    "words", ["Усилитель ламповый", "Ενισχυτής λυχνιών", "zesilovač lampový ě š č ř ž", "µΩ ≤ ½ €", "真空管アンプ"]
)
def test_other_scripts_print_as_text(a4, words):
    assert letters(words) in letters(all_text(tag_sheet([make_tag(title=words)], a4)))


def test_a_letter_and_its_accent_print_as_one_letter(a4):
    assert "Verstärker" in all_text(tag_sheet([make_tag(title="Versta\u0308rker")], a4))


def test_a_character_that_no_font_has_prints_as_its_code_point(a4):
    assert "[U+1F50C] unit" in all_text(tag_sheet([make_tag(title="\U0001f50c unit")], a4))


def test_the_last_readings_give_way_to_a_line_that_counts_them(a4):
    readings = tuple(TagReading(what=f"Reading {n}", value=f"{n}.5 V", band="1 V to 9 V") for n in range(20))
    text = all_text(tag_sheet([make_tag(readings=readings)], a4))
    shown = sum(f"Reading {n} " in text for n in range(20))
    assert 0 < shown < 20
    assert f"… and {20 - shown} more readings on the record sheet." in text
    assert "For use indoors, in the dry." in text


@pytest.mark.parametrize("readings", [(), make_tag().readings], ids=["no readings", "readings"])
def test_cautions_that_cannot_fit_are_a_sentence_never_a_cut_text(a4, readings):
    tag = make_tag(
        readings=readings, cautions=tuple(f"{number}. The case is hot: let it cool first." for number in range(40))
    )
    with pytest.raises(BenchError) as caught:
        tag_sheet([tag], a4)
    assert "The tag of TB-014 does not fit its label" in caught.value.sentence
    assert "Print it on a larger label, or shorten the cautions." in caught.value.sentence


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.parametrize("part", ["shelf_mark", "title", "disposition_words", "fuse", "initials", "price", "date"])
def test_a_word_longer_than_the_label_is_broken_and_whole(name, part):
    text = all_text(single_tag(make_tag(**{part: LONG_WORD, "readings": (), "code": "X"}), read_label_sheet(name)))
    assert LONG_WORD in letters(text)


def test_a_tag_for_sale_without_a_price_keeps_room_to_write_one(a4):
    assert "Price" in all_text(tag_sheet([make_tag(price="")], a4))
    assert "Price" not in all_text(tag_sheet([make_tag(price="", tone=Tone.WAITING)], a4))


words = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc", "Co", "Cn")), max_size=60)


@given(
    tag=st.builds(
        make_tag,
        shelf_mark=st.text("ABCxyz-0189 /", min_size=1, max_size=40),
        title=words,
        disposition_words=words,
        tone=st.sampled_from(Tone),
        tested=st.lists(words, max_size=6).map(tuple),
        readings=st.lists(st.builds(TagReading, what=words, value=words, band=words), max_size=6).map(tuple),
        fuse=words,
        date=words,
        initials=words,
        price=words,
        cautions=st.lists(words, max_size=3).map(tuple),
        not_tested=st.lists(words, max_size=3).map(tuple),
        repaired=st.lists(words, max_size=4).map(tuple),
        code=st.just("TB-014 3F9A2C41"),
    ),
    name=st.sampled_from(SHEETS),
)
def test_no_text_ever_leaves_its_label(tag, name):
    try:
        pdf = single_tag(tag, read_label_sheet(name))
    except PaperProblem:
        return  # said in a sentence, so not silent
    page = PdfReader(BytesIO(pdf)).pages[0].mediabox
    for _page, left, bottom, right, top, _text in text_boxes(pdf):
        assert left >= -0.5
        assert bottom >= -0.5
        assert right <= float(page.width) + 0.5
        assert top <= float(page.height) + 0.5
    assert page_count(pdf) == 1


@pytest.mark.parametrize("name", SHEETS)
def test_an_offset_moves_every_tag_and_leaves_the_paper_as_large_as_it_is(name):
    sheet = read_label_sheet(name)
    plain, moved = (tag_sheet([make_tag()], sheet, shift=shift) for shift in ((0.0, 0.0), (1.5, -2.0)))
    assert page_sizes(plain) == page_sizes(moved)
    for (_, left, bottom, *_), (_, x, y, *_) in zip(text_boxes(plain), text_boxes(moved), strict=True):
        assert (x - left, bottom - y) == pytest.approx((1.5 * MM, -2 * MM), abs=0.01)
