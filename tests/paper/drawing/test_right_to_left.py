"""Hebrew and Arabic on a line that otherwise runs from left to right.

Orders after UAX #9 (Unicode Bidirectional Algorithm), sample lines of our own; the page is read back by pdfium, which
puts drawn letters into reading order by code of its own.
"""

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.paper.drawing.right_to_left import drawn_order, joined_letters
from benchapp.paper.tags.sheets import single_tag
from tests.paper.making import make_tag


@pytest.mark.parametrize(
    ("typed", "drawn"),
    [
        ("Amp 9 V", "Amp 9 V"),
        ("אבג", "גבא"),
        ("unit אבג here", "unit גבא here"),
        ("אבג דהו", "והד גבא"),
        ("אב 220 גד", "דג 220 בא"),
        ("אב (גד)", "(דג) בא"),
        ("אב, unit", "בא, unit"),
    ],
)
def test_letters_are_drawn_in_the_order_that_reads_right(typed, drawn):
    assert drawn_order(typed) == drawn


@pytest.mark.parametrize(
    ("typed", "forms"),
    [
        ("ب", "\ufe8f"),  # alone
        ("بب", "\ufe91\ufe90"),  # initial, final
        ("ببب", "\ufe91\ufe92\ufe90"),  # initial, medial, final
        ("اب", "\ufe8d\ufe8f"),  # alef joins nothing after it
        ("لا", "\ufefb"),  # lam with alef is one sign
        ("بلا", "\ufe91\ufefc"),  # its final form
    ],
)
def test_arabic_letters_take_the_forms_that_join_them(typed, forms):
    assert joined_letters(typed) == forms


@given(st.text(st.characters(codec="utf-8"), max_size=40))
def test_turning_about_loses_no_character(text):
    turned = drawn_order(text)
    mirrors = str.maketrans(")]}><»«≥≤", "([{<>«»≤≥")
    pairs = "()[]{}<>«»≤≥"
    assert sorted(c for c in turned if c not in pairs) == sorted(c for c in text if c not in pairs)
    assert len(turned.translate(mirrors)) == len(text)


@given(st.text("abc 123.-/ΩÄж", max_size=40))
def test_text_without_such_letters_is_left_alone(text):
    assert drawn_order(text) == text
    assert joined_letters(text) == text


@pytest.mark.parametrize("title", ["מגבר ישן", "مكبر صوت", "電子管放大器", "真空管アンプ", "진공관 앰프"])
def test_another_reader_finds_the_words_as_they_were_typed(a4, title):
    document = pypdfium2.PdfDocument(single_tag(make_tag(title=title), a4))
    page = document[0].get_textpage()
    text = page.get_text_range()
    page.close()
    document.close()
    assert title in text
