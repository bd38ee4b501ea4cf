"""The size of a picture by its header, against what another program wrote; nothing is decoded."""

from io import BytesIO

import pytest
from PIL import Image

from benchapp.files.picture_size import MOST_PIXELS, is_too_large, megapixels, picture_size
from tests.photos import claiming

WAYS = {
    "plain jpeg": ("JPEG", {}),
    "progressive jpeg": ("JPEG", {"progressive": True}),
    "jpeg with a long note": ("JPEG", {"exif": b"Exif\0\0" + bytes(60_000), "comment": b"x" * 9000}),
    "png": ("PNG", {}),
    "lossy webp": ("WEBP", {"quality": 50}),
    "lossless webp": ("WEBP", {"lossless": True}),
    "webp with a note": ("WEBP", {"exif": b"Exif\0\0" + bytes(400)}),
}


def written(size, way):
    kind, more = WAYS[way]
    file = BytesIO()
    Image.new("RGB", size, "red").save(file, kind, **more)
    return file.getvalue()


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("size", [(1, 1), (641, 33), (300, 4097)])
def test_the_size_is_the_one_that_was_written(way, size):
    assert picture_size(BytesIO(written(size, way))) == size


@pytest.mark.parametrize("way", WAYS)
def test_any_beginning_of_a_picture_is_its_size_or_none(way):
    whole = written((641, 33), way)
    for end in range(min(len(whole), 700)):
        assert picture_size(BytesIO(whole[:end])) in {None, (641, 33)}


@pytest.mark.parametrize("rubbish", [b"", b"%PDF", b"\xff\xd8" + b"\xff" * 9000, b"\xff\xd8\xff\xe0\0\0\0", bytes(99)])
def test_rubbish_has_no_size(rubbish):
    assert picture_size(BytesIO(rubbish)) is None


def test_a_header_that_claims_two_hundred_megapixels_is_too_large():
    size = picture_size(BytesIO(claiming(16_320, 12_240)))
    assert size == (16_320, 12_240)
    assert is_too_large(size)
    assert megapixels(size) == "199.8"
    assert not is_too_large((8000, 8000))
    assert MOST_PIXELS == 64_000_000
