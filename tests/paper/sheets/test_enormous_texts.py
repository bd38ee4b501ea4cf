"""A record with a word of 256,000 characters prints at once, cut with how much was left out, and over no edge."""

import time

import pytest

from benchapp.paper.drawing.fonts import LONGEST_PRINTED, faces
from benchapp.paper.drawing.wrapping import wrap
from benchapp.paper.problems import PaperProblem
from benchapp.paper.sheets.record import record_sheet
from tests.paper.making import all_text, letters, make_record, make_row, text_boxes

SIZE = 256_000
ENORMOUS = {
    "one word": "x" * SIZE,
    "words": "word " * (SIZE // 5),
    "hyphens": "a-" * (SIZE // 2),
    "Chinese": "電" * SIZE,
    "no font has it": "\U0001f50c" * SIZE,
    "right to left": "שלום" * (SIZE // 4),
    "accents": "e\u0301" * (SIZE // 2),
    "escape codes": "\x1b" * SIZE,
}
LONGEST = 5.0
"""Seconds of this thread's own processor time for one sheet."""


@pytest.mark.parametrize("kind", ENORMOUS)
def test_a_record_with_an_enormous_text_everywhere_prints_at_once_and_over_no_edge(kind: str) -> None:
    text = ENORMOUS[kind]
    row = make_row(step=text, reading=text, band=text)
    content = make_record(row, cautions=(text,), lot=text, printed=text)
    begun = time.thread_time()
    pdf = record_sheet(content)
    assert time.thread_time() - begun < LONGEST
    for _page, left, bottom, right, top, _text in text_boxes(pdf):
        assert left >= 0
        assert bottom >= 0
        assert right <= 596  # A4 in points
        assert top <= 842


def test_what_is_cut_says_how_much_is_left_out() -> None:
    pdf = record_sheet(make_record(make_row(), cautions=("x" * SIZE,)))
    said = f"… [cut: of {SIZE} characters, whole in the workbook]"
    assert letters(said) in letters(all_text(pdf))


def test_a_text_of_the_usual_length_is_printed_whole() -> None:
    text = "y" * LONGEST_PRINTED
    assert faces().regular.printable(text) == text


def test_an_enormous_mark_is_refused_with_a_sentence_at_once() -> None:
    begun = time.thread_time()
    with pytest.raises(PaperProblem):
        record_sheet(make_record(shelf_mark="x" * SIZE))
    assert time.thread_time() - begun < LONGEST


def test_a_word_costs_as_much_as_its_letters() -> None:
    face = faces().regular

    def seconds(size: int) -> float:
        begun = time.thread_time()
        assert "".join(wrap("x" * size, 60, face)) == "x" * size
        return time.thread_time() - begun

    small = min(seconds(20_000) for _ in range(3))
    assert seconds(200_000) < 40 * small  # ten times the letters; the square would be a hundred times
