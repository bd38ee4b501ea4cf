"""Changing one value in the text of a file, and nothing else."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.errors import BenchError
from benchapp.files.editing import replace_value
from benchapp.files.reader import parse_document

TEXT = """\
# The first line is a comment
equipment: tb-mu1   # its name
supply: {voltage: 240 V, frequency: '50 Hz'}  # as the plate says
note:
steps:
  - say: >  # folded
      Touch the case,
      then pin 1.

  - say: Look.   # short
    accept: 9.8 V ± 5 %
"""


def changed_lines(key, value, text=TEXT):
    after = replace_value(parse_document(text, "a.yaml"), key, value)
    pairs = zip(text.splitlines(), after.splitlines(), strict=True)
    return [new for old, new in pairs if new != old]


@pytest.mark.parametrize(
    ("key", "value", "line"),
    [
        (("equipment",), "tb-mu2", "equipment: tb-mu2   # its name"),
        (("equipment",), "no", "equipment: no   # its name"),
        (("equipment",), "true", 'equipment: "true"   # its name'),
        (("equipment",), "a # b", 'equipment: "a # b"   # its name'),
        (("equipment",), "a: b", 'equipment: "a: b"   # its name'),
        (("equipment",), "a\nb", 'equipment: "a\\nb"   # its name'),
        (("equipment",), "", 'equipment: ""   # its name'),
        (("equipment",), " a ", 'equipment: " a "   # its name'),
        (("equipment",), 12, "equipment: 12   # its name"),
        (("equipment",), 1e-9, "equipment: 1e-09   # its name"),
        (("equipment",), True, "equipment: true   # its name"),
        (("equipment",), None, "equipment: null   # its name"),
        (("supply", "voltage"), "230 V", "supply: {voltage: 230 V, frequency: '50 Hz'}  # as the plate says"),
        (("supply", "voltage"), "a, b", "supply: {voltage: \"a, b\", frequency: '50 Hz'}  # as the plate says"),
        (("supply", "frequency"), "60 Hz", "supply: {voltage: 240 V, frequency: 60 Hz}  # as the plate says"),
        (("note",), "kept dry", "note: kept dry"),
        (("steps", 1, "accept"), "at most 0.1 ohm", "    accept: at most 0.1 ohm"),
    ],
)
def test_one_value_changes_and_every_other_character_stays(key, value, line):
    assert changed_lines(key, value) == [line]


def test_a_text_of_several_lines_becomes_one_and_keeps_its_comment_and_the_line_after():
    after = replace_value(parse_document(TEXT, "a.yaml"), ("steps", 0, "say"), "Touch pin 2.")
    assert "  - say: Touch pin 2. # folded\n\n  - say: Look.   # short\n" in after


def test_a_text_of_several_lines_stays_one_when_the_new_has_several():
    after = replace_value(parse_document(TEXT, "a.yaml"), ("steps", 0, "say"), "Touch pin 2.\nWait.\n")
    assert "  - say: | # folded\n      Touch pin 2.\n      Wait.\n" in after


def test_an_empty_value_inside_brackets_is_filled():
    document = parse_document("{a: , b}", "a.yaml")
    assert parse_document(replace_value(document, ("a",), 1), "a.yaml").data == {"a": 1, "b": None}
    assert parse_document(replace_value(document, ("b",), 1), "a.yaml").data == {"a": None, "b": 1}


def test_a_value_that_is_not_written_cannot_be_changed():
    with pytest.raises(BenchError, match=r"a\.yaml: nothing is written under supply / power"):
        replace_value(parse_document(TEXT, "a.yaml"), ("supply", "power"), "8 VA")


def test_a_value_that_no_spelling_can_hold_in_place_is_refused():
    document = parse_document("a: 1", "a.yaml")
    with pytest.raises(BenchError, match=r"a\.yaml:1:4: .* cannot be put here in place\. Change it in the text"):
        replace_value(document, ("a",), float("inf"))


def test_a_group_of_values_cannot_be_changed_at_once():
    with pytest.raises(BenchError, match=r"a\.yaml:3:9: several values stand here\. Change them one by one"):
        replace_value(parse_document(TEXT, "a.yaml"), ("supply",), "8 VA")


SCALARS = (
    st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]) | st.just("\n"), max_size=12)
    | st.integers(-(10**9), 10**9)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.booleans()
    | st.none()
)
NAMES = st.text("abc xyz-é", min_size=1, max_size=6).map(str.strip).filter(bool)
DATA = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, min_size=1, max_size=3) | st.dictionaries(NAMES, inner, min_size=1, max_size=3),
    max_leaves=8,
)


def written(data, depth=0):
    """The data as a person might write it: blocks outside, brackets inside, a comment after each value."""
    if isinstance(data, dict) and depth < 2:
        return "".join(f"\n{'  ' * depth}{json.dumps(k)}: {written(v, depth + 1)}" for k, v in data.items())
    if isinstance(data, list) and depth < 2:
        return "".join(f"\n{'  ' * depth}- {written(item, depth + 1)}" for item in data)
    return f"{json.dumps(data, ensure_ascii=False)}  # comment"


def leaves(data, key=()):
    if isinstance(data, dict):
        return [leaf for name, inner in data.items() for leaf in leaves(inner, (*key, name))]
    if isinstance(data, list):
        return [leaf for location, inner in enumerate(data) for leaf in leaves(inner, (*key, location))]
    return [key]


@given(DATA, SCALARS, st.data())
def test_what_is_read_after_a_change_is_the_old_data_with_that_value_changed(data, value, choice):
    text = written({"top": data}) + "\n"
    document = parse_document(text, "a.yaml")
    assert document.data == {"top": data}
    key = choice.draw(st.sampled_from(leaves(document.data)))
    after = replace_value(document, key, value)
    again = parse_document(after, "a.yaml")
    expected = json.loads(json.dumps(document.data))
    inside = expected
    for part in key[:-1]:
        inside = inside[part]
    inside[key[-1]] = value
    assert again.data == expected
    line = document.location(key).line - 1
    before_lines, after_lines = text.splitlines(), after.splitlines()
    assert [*before_lines[:line], *before_lines[line + 1 :]] == [*after_lines[:line], *after_lines[line + 1 :]]
    assert after_lines[line].endswith("# comment")
