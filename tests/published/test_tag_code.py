"""The code of a tag and of a sticker, read from the rendered page by an independent reader.

Source: ISO/IEC 18004 (QR code symbology), read with zxing-cpp, a general-purpose reader that shares no code with the
writer. Error correction level Q restores about 25 % of the codewords (ISO/IEC 18004, error correction levels; from
memory).
"""

from io import BytesIO

import pytest
import zxingcpp
from PIL import Image, ImageDraw

from benchapp.paper.content import Tone, unit_code
from benchapp.paper.drawing.pictures import page_count, page_image
from benchapp.paper.sheets.record import record_sheet
from benchapp.paper.tags.labels import read_label_sheet
from benchapp.paper.tags.sheets import single_tag, sticker_sheet, tag_sheet
from tests.paper.making import make_record, make_sticker, make_tag

SHEETS = ("a4-2-by-4", "a4-plain-2-by-4", "letter-2-by-3", "roll-62")


def picture(pdf: bytes, page: int, dpi: float) -> Image.Image:
    return Image.open(BytesIO(page_image(pdf, page, dpi))).convert("L")


def codes(image: Image.Image) -> list[str]:
    return [code.text for code in zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)]


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.parametrize("dpi", [150, 300])
def test_every_code_of_a_lot_is_read_from_the_page(name, dpi):
    tags = [
        make_tag(shelf_mark=f"TB-{n:03d}", record_hash=f"{n * 7919:064x}"[::-1], tone=list(Tone)[n % 5])
        for n in range(1, 12)
    ]
    pdf = tag_sheet(tags, read_label_sheet(name))
    found = [text for page in range(page_count(pdf)) for text in codes(picture(pdf, page, dpi))]
    assert sorted(found) == sorted(tag.code for tag in tags)


@pytest.mark.parametrize(
    "mark",
    ["TB-014", "tb-014", "ARCHIVE/SHELF 12/LOWER-0007", "Tärnbäck-14", "Полка-14", "TARNBECK-SOUND-ARCHIVE-2026-0001"],
)
def test_whatever_the_shelf_mark_the_code_types_it(mark):
    code = unit_code(mark, "3f9a2c41d0")
    pdf = single_tag(make_tag(shelf_mark=mark, code=code), read_label_sheet("roll-62"))
    assert codes(picture(pdf, 0, 300)) == [f"{mark} 3F9A2C41"]


@pytest.mark.parametrize("name", [*SHEETS, "a4-3-by-8", "a4-4-by-10", "letter-3-by-10", "roll-29"])
@pytest.mark.parametrize("dpi", [203, 300])
def test_every_code_of_a_sheet_of_stickers_is_read_from_the_page(name, dpi):
    """203 dots an inch are those of a label printer (8 a millimetre; common practice, no source)."""
    stickers = [make_sticker(shelf_mark=mark) for mark in ("TB-001", "tb-002", "Полка-3", "7", "HALL-0004")]
    pdf = sticker_sheet(stickers, read_label_sheet(name))
    found = [text for page in range(page_count(pdf)) for text in codes(picture(pdf, page, dpi))]
    assert sorted(found) == sorted(sticker.code for sticker in stickers)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_record_sheet_carries_the_same_code(paper):
    assert codes(picture(record_sheet(make_record(), paper), 0, 200)) == ["TB-014 3F9A2C41"]


def test_a_code_scratched_in_places_is_still_read():
    """A stroke over the data area covers about a tenth of the modules; level Q restores it."""
    image = picture(single_tag(make_tag(), read_label_sheet("a4-2-by-4")), 0, 300)
    (code,) = zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)
    corner = code.position
    left, top = corner.top_left.x, corner.top_left.y
    side = corner.top_right.x - left
    draw = ImageDraw.Draw(image)
    draw.rectangle([left + side * 0.45, top + side * 0.45, left + side * 0.75, top + side * 0.62], fill=255)
    assert codes(image) == ["TB-014 3F9A2C41"]


def test_a_mark_in_capitals_needs_the_smallest_code():
    """21 modules a side hold 16 alphanumeric characters at level Q (ISO/IEC 18004, capacity table; from memory)."""
    from benchapp.paper.drawing.codes import code_matrix

    assert len(code_matrix(unit_code("TB-0014", "3f9a2c41"))) == 21
    assert len(code_matrix(unit_code("tb-0014", "3f9a2c41"))) == 25
