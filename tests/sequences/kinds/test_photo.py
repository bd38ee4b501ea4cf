"""Photos are counted, and each is named by its SHA-256."""

import pytest

from benchapp.sequences.kinds.photo import PhotoAnswer
from tests.sequences.every_kind import tried

HASHES = tuple(f"{number:064x}" for number in range(21))


def given(each, *photos):
    return tried(each, "every-kind.plate", PhotoAnswer(photos=photos))


def test_photos_are_counted(each):
    assert "1 more" in given(each, HASHES[0]).complaint
    assert given(each, *HASHES[:2]).judgement == "pass"
    assert given(each, *HASHES[:20]).judgement == "pass"
    assert "21 photos are too many" in given(each, *HASHES).complaint


@pytest.mark.parametrize("name", ["plate-1", "", HASHES[0].upper().replace("0", "A"), HASHES[0] + "\n", "0" * 63])
def test_a_name_is_no_photo(each, name):
    assert "is a name and no photo: choose the photo itself" in given(each, HASHES[0], name).complaint


def test_the_same_photo_counts_once(each):
    assert "the same photo is there twice" in given(each, HASHES[0], HASHES[0]).complaint.lower()
