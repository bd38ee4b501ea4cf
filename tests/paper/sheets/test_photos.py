"""Photos of a record sheet, read back from the PDF."""

from io import BytesIO

import pytest
from PIL import Image
from pypdf import PdfReader

from benchapp.paper.content import RecordPhoto
from benchapp.paper.sheets.record import record_sheet
from tests.paper.making import all_text, make_record
from tests.photos import tiny_photo


def picture(kind, size=(400, 300)):
    made = BytesIO()
    Image.effect_noise(size, 60).convert("RGB").save(made, kind)
    return made.getvalue()


def sheet(*images):
    photos = tuple(RecordPhoto(words=f"{number}: front of it", image=image) for number, image in enumerate(images, 1))
    return record_sheet(make_record(photos=photos))


def drawn(pdf):
    return [image for page in PdfReader(BytesIO(pdf)).pages for image in page.images]


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_photo_is_drawn_with_its_entry_and_step(kind):
    pdf = sheet(picture(kind))
    assert [image.image.size for image in drawn(pdf)] == [(400, 300)]
    text = all_text(pdf)
    assert text.index("What this sheet rests on") < text.index("Photos") < text.index("1: front of it")


def test_twenty_photos_flow_over_pages():
    pdf = sheet(*[picture("JPEG", (300, 400 + number)) for number in range(20)])
    assert len(drawn(pdf)) == 20
    assert "20: front of it" in all_text(pdf)


@pytest.mark.parametrize(
    "image",
    [
        b"",
        b"no picture",
        picture("JPEG")[:2000],
        picture("PNG")[:2000],
        b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\nshowpage\n",
    ],
    ids=["none", "rubbish", "half a JPEG", "half a PNG", "a program"],
)
def test_a_photo_that_cannot_be_drawn_is_a_sentence_in_its_place(image):
    pdf = sheet(image, picture("JPEG"))
    assert len(drawn(pdf)) == 1
    assert "This photo cannot be drawn" in all_text(pdf)
    assert "1: front of it" in all_text(pdf)


def test_a_photo_of_enormous_size_is_not_unpacked():
    bomb = tiny_photo(width=1, height=1).replace(b"\0\0\0\1\0\0\0\1\x08\2", b"\0\1\0\0\0\1\0\0\x08\2")
    assert "This photo cannot be drawn" in all_text(sheet(bomb))


def test_a_sheet_without_photos_has_no_place_for_them():
    assert "Photos" not in all_text(record_sheet(make_record()))
