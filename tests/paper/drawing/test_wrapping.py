"""Cutting text into lines."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.paper.drawing.fonts import faces
from benchapp.paper.drawing.wrapping import largest_block, largest_size, set_paragraph, wrap

FACE = faces().regular
plain = st.text("abcdefghijklm ./-0123456789ΩÄ", max_size=200)


@given(text=plain, width=st.floats(1.5, 60))
def test_no_line_is_wider_than_its_room(text, width):
    for line in wrap(text, width, FACE):
        assert FACE.width(line) <= width + 1e-9 or len(line) == 1


@given(text=plain, width=st.floats(1.5, 60), indent=st.floats(0, 20))
def test_wrapping_loses_no_letter_and_keeps_the_order(text, width, indent):
    lines = wrap(text, width, FACE, first_indent=indent)
    assert "".join("".join(lines).split()) == "".join(text.split())


@given(text=plain, width=st.floats(8, 60), indent=st.floats(0, 8))
def test_the_first_line_leaves_the_room_already_taken(text, width, indent):
    first = wrap(text, width, FACE, first_indent=indent)[0]
    assert FACE.width(first) <= width - indent + 1e-9 or not first


def test_a_number_and_its_unit_stay_together():
    width = FACE.width("at most 0.15")
    assert wrap("at most 0.15 Ω", width, FACE) == ("at most", "0.15 Ω")


def test_a_long_word_breaks_after_a_mark_in_it_where_it_can():
    assert wrap("sequence/continuity-outlet", FACE.width("sequence/contin"), FACE) == (
        "sequence/",
        "continuity-",
        "outlet",
    )


def test_a_line_that_fits_is_set_as_large_as_allowed():
    assert largest_size("TB-014", 1000, FACE, largest=30, smallest=10) == 30


def test_a_line_too_long_shrinks_to_its_room():
    size = largest_size("TB-014", 50, FACE, largest=30, smallest=10)
    assert 10 <= size < 30
    assert FACE.width("TB-014") * size <= 50


def test_a_line_that_would_be_too_small_is_given_up():
    assert largest_size("TB-014" * 10, 50, FACE, largest=30, smallest=10) is None


def test_a_block_takes_the_largest_size_that_fits_without_tearing_a_word():
    size, lines = largest_block("quarantine shelf", 60, 100, FACE, (30, 20, 10))
    assert size == 10
    assert lines == ("quarantine", "shelf")


def test_a_block_that_fits_at_no_size_is_given_up():
    assert largest_block("many words here", 20, 10, FACE, (8, 6)) is None


@pytest.mark.parametrize(("hanging", "second"), [(True, "clear of the lead"), (False, "at the left")])
def test_later_lines_of_a_paragraph_stand(hanging, second):
    pieces = set_paragraph("⚠", "one two three", 5, FACE, FACE, hanging=hanging)
    assert (pieces[-1].x > 0) == (second == "clear of the lead")


def test_chinese_breaks_between_any_two_signs_and_fills_the_line_after_its_lead():
    pieces = set_paragraph("⚠", "注意高電壓注意高電壓", 6.5, FACE, FACE)
    assert pieces[0].line == pieces[1].line == 0
    assert "".join(piece.text for piece in pieces[1:]) == "注意高電壓注意高電壓"
