"""Reading the text of files: data, places, and every refusal with its line and column."""

import pytest

from benchapp.errors import BenchError
from benchapp.files.locations import FileProblems, Location
from benchapp.files.reader import parse_document, read_document

TEXT = """\
equipment: tb-mu1   # a comment
title: Mains unit
supply: {voltage: 240 V, frequency: 50 Hz}
circuit:
  - fuse: plug-fuse
    between: [plug.L, mains.L]
"""


def complaints_of(text: str) -> list[str]:
    with pytest.raises(FileProblems) as caught:
        parse_document(text, "a.yaml")
    return [str(complaint) for complaint in caught.value.complaints]


def test_data_is_plain_dicts_lists_and_words():
    assert parse_document(TEXT, "a.yaml").data == {
        "equipment": "tb-mu1",
        "title": "Mains unit",
        "supply": {"voltage": "240 V", "frequency": "50 Hz"},
        "circuit": [{"fuse": "plug-fuse", "between": ["plug.L", "mains.L"]}],
    }


def test_every_value_has_its_place():
    document = parse_document(TEXT, "a.yaml")
    assert document.location(("supply", "frequency")) == Location(file="a.yaml", line=3, column=37)
    assert document.location(("circuit", 0, "between", 1)) == Location(file="a.yaml", line=6, column=23)


def test_a_value_that_is_not_written_has_the_place_of_what_holds_it():
    document = parse_document(TEXT, "a.yaml")
    assert document.location(("circuit", 0, "rated")) == document.location(("circuit", 0))
    assert document.location(("nowhere", 3)) == Location(file="a.yaml", line=1, column=1)


def test_a_key_has_a_place_of_its_own():
    document = parse_document(TEXT, "a.yaml")
    assert str(document.key_location(("supply", "frequency"))) == "a.yaml:3:26"


def test_spans_hold_the_text_of_each_value():
    document = parse_document(TEXT, "a.yaml")
    start, end = document.spans["supply", "voltage"]
    assert TEXT[start:end] == "240 V"
    start, end = document.spans["supply",]
    assert TEXT[start:end] == "{voltage: 240 V, frequency: 50 Hz}"


def test_columns_count_characters_not_bytes():
    document = parse_document("{µ: Ω, b: 1}", "a.yaml")
    assert document.location(("b",)).column == 11


@pytest.mark.parametrize("line_break", ["\r\n", "\r", "\n"], ids=["CRLF", "CR", "LF"])
def test_lines_are_counted_whatever_ends_them(line_break):
    document = parse_document(TEXT.replace("\n", line_break), "a.yaml")
    start, end = document.spans["title",]
    assert document.text[start:end] == "Mains unit"
    assert document.location(("title",)).line == 2


def test_a_key_given_twice_is_refused_with_the_line_of_the_first():
    assert complaints_of("a: 1\nb: 2\na: 3\n") == [
        'a.yaml:3:1: "a" was already given on line 1; expected each key once'
    ]


def test_aliases_anchors_and_tags_are_refused_together():
    assert complaints_of("a: &x 1\nb: *x\nc: !!str d\ne: !mine [1]\n") == [
        "a.yaml:1:4: &x marks a value for reuse; expected the value alone",
        "a.yaml:2:4: *x points to another place; expected the value itself, written again",
        "a.yaml:3:4: the tag tag:yaml.org,2002:str stands here; expected the value alone",
        "a.yaml:4:4: the tag !mine stands here; expected the value alone",
    ]


def test_tabs_are_refused_wherever_they_stand():
    assert complaints_of("a:\n\tb: 1\nc: 'x\ty'\n# a\tcomment\n") == [
        "a.yaml:2:1: a tab stands here; expected spaces",
        "a.yaml:3:6: a tab stands here; expected spaces",
        "a.yaml:4:4: a tab stands here; expected spaces",
    ]


def test_a_list_as_a_key_is_refused():
    assert complaints_of("? [a, {b: c}]\n: d\ne: 1\n") == [
        "a.yaml:1:3: a list or mapping stands where a key's name should be; expected a name, a colon and a space"
    ]


def test_a_key_without_a_name_is_refused():
    assert complaints_of('a: 1\n"": 2\n') == ["a.yaml:2:1: a key has no name; expected a name before the colon"]


def test_a_second_document_is_refused():
    assert complaints_of("a: 1\n---\nb: 2\n") == [
        "a.yaml:2:1: a second document begins here; expected one document in a file"
    ]


def test_keys_are_words_even_when_they_look_like_numbers_or_truth():
    assert parse_document("1: a\nno: b\ntrue: c\n", "a.yaml").data == {"1": "a", "no": "b", "true": "c"}


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        (
            "a: 1\nb: c: d\n",
            "2:5: this colon makes no key here; expected quotes round a text that holds a colon and a ",
        ),
        ("a: 1\n b: 2", "2:3: this colon makes no key here; expected quotes round"),
        (
            "a:\n  - b\n c: 1",
            "3:2: this does not fit what stands before it; expected the indentation of the keys above",
        ),
        (
            "a: 'b' c",
            "1:8: this does not fit what stands before it; expected the indentation of the keys above, or quotes",
        ),
        ("- a\nb: 1", "2:1: this line does not fit the list above; expected the indentation of its entries"),
        ("a: [1,", "2:1: a value is missing here; expected a value or a closing bracket"),
        ("a: [1, 2\nb: 3", "2:2: the list in brackets goes on wrongly here; expected a comma or ]"),
        ("a: {b: 1]", "1:9: the keys in braces go on wrongly here; expected a comma or }"),
        ("a: 'x", "1:6: the file ends inside a quoted text; expected the closing quote"),
        ("a: @x", "1:4: this character cannot begin a value; expected quotes round a text that begins with"),
        ("- - a\n  b", "3:1: a key without a colon stands here; expected a colon and a space after the name"),
        ('a: "\\q"', "1:5: this backslash means nothing in double quotes; expected single quotes"),
        ("a: - b", "1:4: a list cannot begin here; expected - on a line of its own"),
        ("a: |x\n", "1:5: text stands after | or >; expected the text on the next line"),
        ("  a: 1\nb: 2", "2:1: this stands outside the data above; expected the indentation of the lines above"),
        ("a: *", "1:5: * and & cannot begin a value; expected quotes round it"),
        ("%YAML 3.0\n---\na", "1:1: the text cannot be read from here on (found incompatible YAML document)"),
    ],
)
def test_a_syntax_error_stands_alone_with_its_cure(text, complaint):
    (found,) = complaints_of(text)
    assert found.startswith(f"a.yaml:{complaint}")


def test_nesting_is_bounded():
    assert complaints_of("[" * 60 + "]" * 60) == ["a.yaml:1:41: this is nested more than 40 levels deep"]


def test_a_number_that_is_none_is_refused_where_it_stands():
    assert complaints_of("a: [1, .inf]") == ["a.yaml:1:8: .inf is no number that can be measured; expected a number"]


def test_characters_that_cannot_be_shown_are_refused():
    assert complaints_of("a: \x07") == ["a.yaml:1:4: the character U+0007 cannot be shown; expected plain text"]
    assert complaints_of("a: \ud800") == ["a.yaml:1:4: the character U+D800 cannot be shown; expected plain text"]


def test_an_empty_file_holds_nothing():
    assert parse_document("", "a.yaml").data is None
    assert parse_document("# only a comment\n", "a.yaml").data is None


def test_a_text_too_long_is_refused():
    assert "2000001 characters" in complaints_of("a" * 2_000_001)[0]


def test_a_file_is_read_as_utf_8_with_or_without_its_mark(tmp_path):
    path = tmp_path / "a.yaml"
    path.write_bytes("\ufeffa: Ω\n".encode())
    assert read_document(path).data == {"a": "Ω"}


def test_a_file_in_another_encoding_is_refused_at_the_character(tmp_path):
    path = tmp_path / "a.yaml"
    path.write_bytes(b"a: 1\nb: \xe9t\xe9\n")
    with pytest.raises(FileProblems, match=r"a\.yaml:2:4: this character is not UTF-8 text; expected"):
        read_document(path)


def test_a_missing_file_and_a_folder_are_refused_with_a_sentence(tmp_path):
    with pytest.raises(BenchError, match=r"gone\.yaml cannot be read: no such file or directory\. Check the name"):
        read_document(tmp_path / "gone.yaml")
    with pytest.raises(BenchError, match="cannot be read: is a directory"):
        read_document(tmp_path)
