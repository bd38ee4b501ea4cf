"""Stickers, read back from the PDF and measured: a shelf mark that is read from afar, and nothing that promises."""

from io import BytesIO

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from benchapp.paper.content import PaperKind
from benchapp.paper.drawing.document import creator_of
from benchapp.paper.drawing.pictures import page_image, page_sizes
from benchapp.paper.drawing.style import MM
from benchapp.paper.problems import PaperProblem
from benchapp.paper.tags.labels import read_label_sheet
from benchapp.paper.tags.sheets import sticker_sheet
from tests.paper.making import LONG_WORD, all_text, letters, make_sticker, pages_text, text_boxes
from tests.paper.tags.test_labels import SHIPPED

SHEETS = tuple(path.stem for path in SHIPPED)
SMALL = ("a4-4-by-10", "letter-3-by-10", "roll-29")
WARNING = "Shelf mark only: no test says this is safe"
NO_TALLER_THAN_X = "xuvwz"
LONG_TITLE = "Loudspeaker with two drivers, a crossover and a cabinet of walnut veneer " * 3


def sheet_of(sticker, name):
    return sticker_sheet([sticker], read_label_sheet(name))


def heights_of_small_letters(pdf):
    """The height in millimetres of each letter that is as tall as an x, as drawn, with its line."""
    document = pypdfium2.PdfDocument(pdf)
    text = document[0].get_textpage()
    whole = text.get_text_range()
    for at, letter in enumerate(whole):
        if letter in NO_TALLER_THAN_X:
            _, bottom, _, top = text.get_charbox(at)
            line = whole[: at + 1].count("\n")
            yield whole.splitlines()[line], (top - bottom) / MM


@pytest.mark.parametrize("name", SHEETS)
def test_a_sticker_says_which_unit_it_is_and_nothing_else(name):
    text = letters(all_text(sheet_of(make_sticker(), name)))
    for words in ("TB-014", "Mains unit, two AC outputs", "Taken in 2026-05-04, lot Attic shelves", WARNING):
        assert letters(words) in text
        text = text.replace(letters(words), "", 1)
    assert text == ""


@pytest.mark.parametrize("name", SHEETS)
def test_the_mark_is_three_millimetres_tall_in_small_letters_and_the_rest_one_point_four(name):
    sticker = make_sticker(shelf_mark="TB-0x4", title="Mixer in a box " * 9, lot="Six boxes under the stairs " * 5)
    heights = list(heights_of_small_letters(sheet_of(sticker, name)))
    marks = [height for line, height in heights if line.startswith("TB-0x4")]
    assert marks
    assert min(marks) >= 3.0
    assert len(heights) > len(marks) + 4
    assert min(height for _, height in heights) >= 1.4


@pytest.mark.parametrize("name", SHEETS)
def test_a_sticker_is_black_on_white(name):
    picture = Image.open(BytesIO(page_image(sheet_of(make_sticker(), name), 0, 150))).convert("RGB")
    assert all(red == green == blue for _, (red, green, blue) in picture.getcolors(100_000))


@pytest.mark.parametrize("name", ["a4-3-by-8", *SMALL])
def test_a_long_name_gives_way_and_what_must_be_read_does_not(name):
    text = letters(all_text(sheet_of(make_sticker(title=LONG_TITLE, lot=LONG_WORD * 3), name)))
    assert "…" in text or name == "roll-29"
    for words in ("TB-014", "Loudspeaker", "Taken in 2026-05-04", WARNING):
        assert letters(words) in text


@pytest.mark.parametrize("name", ["a4-2-by-4", "roll-62", "roll-29"])
def test_a_mark_longer_than_the_label_is_broken_and_whole(name):
    mark = "TARNBECK-SOUND-ARCHIVE-2026-0001"
    assert mark in letters(all_text(sheet_of(make_sticker(shelf_mark=mark), name)))


def test_a_mark_that_a_small_label_cannot_hold_is_a_sentence():
    with pytest.raises(PaperProblem, match=r"The sticker of “TARNBECK-SOUND-0001” does not fit .*Shorten the mark, or"):
        sheet_of(make_sticker(shelf_mark="TARNBECK-SOUND-0001"), "a4-4-by-10")


words = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc", "Co", "Cn")), max_size=60)


@given(
    sticker=st.builds(
        make_sticker,
        shelf_mark=st.text("ABCxyz-0189 /", min_size=1, max_size=40),
        title=words,
        lot=words,
        taken_in=st.sampled_from(["2026-05-04", "04/05/2026"]),
        code=st.just("TB-014 3F9A2C41"),
    ),
    name=st.sampled_from(SHEETS),
)
def test_no_text_ever_leaves_its_label(sticker, name):
    sheet = read_label_sheet(name)
    try:
        pdf = sheet_of(sticker, name)
    except PaperProblem:
        return  # said in a sentence, so not silent
    ((width, height),) = page_sizes(pdf)
    left, top = (length * MM for length in sheet.place(0))
    right = left + sheet.label_width * MM
    low = 0.0 if sheet.label_height is None else height - top - sheet.label_height * MM
    for _page, x, bottom, end, upper, _text in text_boxes(pdf):
        assert x >= left - 0.5
        assert end <= right + 0.5
        assert bottom >= low - 0.5
        assert upper <= height - top + 0.5
    assert right <= width + 0.1


def test_stickers_fill_page_after_page_from_the_first_free_label_on():
    stickers = [make_sticker(shelf_mark=f"TB-{number:03d}") for number in range(1, 31)]
    pages = pages_text(sticker_sheet(stickers, read_label_sheet("a4-3-by-8"), start_at=20))
    assert [page.count(WARNING) for page in pages] == [5, 24, 1]


def test_on_a_roll_each_sticker_is_as_long_as_it_needs():
    pdf = sticker_sheet([make_sticker(), make_sticker(title=LONG_TITLE)], read_label_sheet("roll-29"))
    (width, short), (other, long) = page_sizes(pdf)
    assert width == other == pytest.approx(29 * MM, abs=0.01)
    assert short < 70 * MM < long


def test_the_document_says_that_it_holds_stickers():
    document = pypdfium2.PdfDocument(sheet_of(make_sticker(), "roll-62"))
    assert document.get_metadata_value("Title") == "Sticker TB-014"
    assert document.get_metadata_value("Creator") == creator_of(PaperKind.STICKERS) == "Bench workbook: sticker sheet"


def test_no_stickers_at_all_is_refused_with_what_to_do():
    with pytest.raises(PaperProblem, match=r"no stickers to print\. Choose at least one unit"):
        sticker_sheet([], read_label_sheet("roll-62"))
