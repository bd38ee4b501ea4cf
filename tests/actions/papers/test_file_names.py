"""Names of files made from shelf marks."""

from urllib.parse import unquote

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.actions.papers.file_names import LONGEST, name_of_mark, names_of_marks


@pytest.mark.parametrize(
    ("mark", "name"),
    [
        ("TB-001", "TB-001"),
        ("A/1", "A%2F1"),
        ("A_1", "A_1"),
        ("50 % off", "50 %25 off"),
        ("Regal Ä 3", "Regal Ä 3"),
        ("../../etc", "%2E.%2F..%2Fetc"),
        (".hidden", "%2Ehidden"),
        ("-rf", "%2Drf"),
        ("ends.", "ends%2E"),
        ("NUL", "%4EUL"),
        ("com1.x", "%63om1.x"),
        ("a\nb\x1b[31m", "a%0Ab%1B%5B31m"),
    ],
)
def test_a_mark_can_be_read_in_the_name_of_its_file(mark, name):
    assert name_of_mark(mark) == name
    assert unquote(name) == mark


def test_marks_that_a_file_system_may_take_for_one_are_told_apart():
    names = names_of_marks(["tb-1", "TB-1", "é", "e\u0301", "TB-2"])
    assert names["TB-2"] == "TB-2"
    assert len({name.casefold() for name in names.values()}) == 5
    assert names["tb-1"].startswith("tb-1 (")


def test_a_very_long_mark_has_a_name_that_fits():
    one, other = name_of_mark("x" * 256_000), name_of_mark("x" * 255_999 + "y")
    assert len(one.encode()) <= LONGEST
    assert one != other


@given(st.sets(st.text(alphabet=st.characters(), min_size=1), max_size=8))
def test_no_two_marks_share_a_file_and_none_leaves_the_folder(marks):
    names = names_of_marks(marks).values()
    assert len({name.casefold() for name in names}) == len(marks)
    for name in names:
        assert not set(name) & set('/\\:*?"<>|\0')
        assert name not in {"", ".", ".."}
        assert len(name.encode()) <= LONGEST + 20
