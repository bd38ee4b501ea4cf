"""YAML 1.2.2, chapter 10.3.2 (core schema): what a plain word stands for. Examples from that chapter and its traps."""

import math

import pytest

from benchapp.files.reader import parse_document
from benchapp.files.scalars import read_plain


@pytest.mark.parametrize("word", ["no", "No", "NO", "off", "on", "yes", "y", "n", "Yes"])
def test_words_that_older_readers_take_for_truth_are_text(word):
    assert read_plain(word) == word


@pytest.mark.parametrize(
    "word", ["12:30", "1:30:00", "2026-03-31", "1_000", "1,5", "0b11", "0o8", "0xg", "1.2.3", "+", ".", "-x"]
)
def test_words_that_only_look_like_numbers_are_text(word):
    assert read_plain(word) == word


@pytest.mark.parametrize(
    ("word", "value"),
    [
        ("1e6", 1e6),
        ("1E-3", 1e-3),
        (".5", 0.5),
        ("5.", 5.0),
        ("-0.0", 0.0),
        ("+12", 12),
        ("0o14", 12),
        ("0xC", 12),
        ("010", 10),
    ],
)
def test_numbers_of_the_core_schema_are_numbers(word, value):
    read = read_plain(word)
    assert read == value
    assert isinstance(read, type(value))


def test_a_leading_nought_does_not_make_octal():
    assert read_plain("010") == 10


@pytest.mark.parametrize("word", ["", "~", "null", "Null", "NULL"])
def test_nothing_is_none(word):
    assert read_plain(word) is None


@pytest.mark.parametrize(("word", "value"), [("true", True), ("TRUE", True), ("False", False), ("false", False)])
def test_truth_is_written_in_english(word, value):
    assert read_plain(word) is value


@pytest.mark.parametrize("word", [".inf", "-.Inf", "+.INF", ".nan", ".NaN"])
def test_infinity_and_not_a_number_are_refused(word):
    with pytest.raises(ValueError, match="no number that can be measured"):
        read_plain(word)


def test_a_number_too_large_is_refused():
    with pytest.raises(ValueError, match="1e999 is too large"):
        read_plain("1e999")


def test_a_number_too_long_is_refused_without_being_read():
    with pytest.raises(ValueError, match="5000 characters is too long"):
        read_plain("9" * 5000)


@pytest.mark.parametrize("word", ["010", "4.70", "1e6", "+5", "0x1F", ".5"])
def test_a_number_remembers_how_it_was_written(word):
    assert str(read_plain(word)) == word


def test_quoted_words_are_always_text():
    assert parse_document('["1", \'true\', "", \'~\', "1e6"]', "a.yaml").data == ["1", "true", "", "~", "1e6"]


def test_block_text_is_text():
    assert parse_document("a: |\n  12\n  13\n", "a.yaml").data == {"a": "12\n13\n"}


def test_small_numbers_do_not_vanish():
    assert math.isclose(read_plain("0.000001"), 1e-6)
