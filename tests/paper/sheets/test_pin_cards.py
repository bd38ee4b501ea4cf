"""Pin cards: measured on the rendered page with a ruler of pixels, read back as text."""

from collections import Counter
from io import BytesIO

import pytest
from PIL import Image

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.paper.content import PinCard, PinReading
from benchapp.paper.drawing.faces import LABEL_BESIDE, _outward, beside
from benchapp.paper.drawing.fonts import faces
from benchapp.paper.drawing.pictures import page_count, page_image
from benchapp.paper.drawing.style import RECORD_MARGIN
from benchapp.paper.problems import PaperProblem
from benchapp.paper.sheets.pin_cards import pin_card
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.faces import face
from tests.paper.making import all_text, letters

CONNECTORS = sorted((shipped_folder("resources") / "connectors").glob("*.yaml"))
DOTS_PER_MM = 20


def shipped(name):
    path = shipped_folder("resources") / "connectors" / f"{name}.yaml"
    return build_model(read_document(path), Connector)


def make_card(connector, **changes):
    content = {
        "equipment": "Mains unit, two AC outputs",
        "face": face(connector),
        "groups": ("1 and 4 are one end of the low winding",),
        "readings": (
            PinReading(between="1 and 3", what="voltage, no load", expected="10.3 V", band="9.6 V to 10.9 V"),
        ),
        "conditions": ("Voltages without load, at 240 V mains.",),
        "cautions": ("Dead readings with the plug out and in sight.",),
    }
    return PinCard(**(content | changes))


def picture(pdf):
    return Image.open(BytesIO(page_image(pdf, 0, 25.4 * DOTS_PER_MM))).convert("L")


def dark_runs(row):
    """(first, last) of each run of dark dots in a row of grey values."""
    runs, start = [], None
    for x, value in enumerate([*row, 255]):
        if value < 100 and start is None:
            start = x
        elif value >= 100 and start is not None:
            runs.append((start, x - 1))
            start = None
    return runs


@pytest.mark.parametrize("path", CONNECTORS, ids=lambda path: path.stem)
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_shipped_connector_has_its_card_of_one_page(path, paper):
    connector = build_model(read_document(path), Connector)
    pdf = pin_card(make_card(connector), paper)
    assert page_count(pdf) == 1
    text = all_text(pdf)
    for pin in face(connector).pins:
        assert pin.label in text
    for words in (connector.title, f"seen {connector.view}", "true size", "50 mm on your ruler?", "10.3 V", "⚠ Dead"):
        assert letters(words) in letters(text)


def test_the_same_card_gives_the_same_bytes():
    card = make_card(shipped("din-5-180"))
    assert pin_card(card) == pin_card(card)


def test_the_scale_bar_is_fifty_millimetres_long():
    image = picture(pin_card(make_card(shipped("din-5-180"))))
    width = image.size[0]
    lengths = set()
    for y in range(0, image.size[1], 4):
        runs = dark_runs(image.crop((0, y, width, y + 1)).get_flattened_data())
        tens = [(a, b) for a, b in runs if abs((b - a) / DOTS_PER_MM - 10) < 0.2]
        if len(tens) == 3:
            lengths.add((tens[2][1] - tens[0][0] + 1) / DOTS_PER_MM)
    assert lengths
    for length in lengths:
        assert length == pytest.approx(50, abs=0.1)


def test_pins_lie_at_true_size_where_the_connector_file_puts_them():
    """Pins 1 and 3 lie 7.0 mm apart, 4 and 5 4.95 mm, each 1.45 mm wide (source in the connector's file)."""
    image = picture(pin_card(make_card(shipped("din-5-180"))))
    reach = int((RECORD_MARGIN / 72 * 25.4 + 30) * DOTS_PER_MM)
    rows = Counter()
    for y in range(image.size[1] // 2):
        runs = dark_runs(image.crop((0, y, reach, y + 1)).get_flattened_data())
        pins = [(a + b + 1) / 2 / DOTS_PER_MM for a, b in runs if 1.2 < (b - a + 1) / DOTS_PER_MM < 1.5]
        if len(pins) == 2:
            rows[round(pins[1] - pins[0], 1)] += 1
    distances = {distance for distance, count in rows.items() if count > 0.4 * DOTS_PER_MM and 4 < distance < 8}
    assert distances & {6.9, 7.0, 7.1}
    assert distances & {4.9, 5.0}
    assert len(distances) == 2


def rows_of(number, *, pitch=2.77):
    """Contacts of 1 mm in two staggered rows, as on a 37-way trapezoid (DIN 41652 / IEC 60807-2, from memory)."""
    pin = shipped("din-5-180").pins[0]
    first = (number + 1) // 2
    places = [((i - (first - 1) / 2) * pitch, 1.42) for i in range(first)]
    places += [((i - (number - first - 1) / 2) * pitch, -1.42) for i in range(number - first)]
    pins = tuple(
        pin.model_copy(update={"pin": str(i), "x": x, "y": y, "width": 1.0, "height": 1.0})
        for i, (x, y) in enumerate(places, 1)
    )
    outline = shipped("binding-posts-2").outline[0].model_copy(update={"width": 60.0, "height": 10.0})
    return shipped("din-5-180").model_copy(update={"outline": (outline,), "pins": pins})


def test_on_a_crowded_face_no_number_covers_a_pin():
    """Along the middle of a row of contacts nothing is dark but the contacts, each 1 mm wide, and the outline."""
    pdf = pin_card(make_card(rows_of(37)))
    assert "3 times as large" in all_text(pdf)
    image = picture(pdf)
    reach = int((RECORD_MARGIN / 72 * 25.4 + 61) * DOTS_PER_MM)
    rows = [
        [(b - a + 1) / DOTS_PER_MM for a, b in dark_runs(image.crop((0, y, reach, y + 1)).get_flattened_data())]
        for y in range(image.size[1] // 3)
    ]
    full = [row for row in rows if sum(0.9 < run < 1.1 for run in row) in (18, 19)]
    assert full
    assert all(len(row) in (20, 21) for row in full)


def test_a_face_wider_than_the_paper_is_a_sentence():
    connector = shipped("din-5-180")
    wide = connector.model_copy(update={"outline": (connector.outline[0].model_copy(update={"diameter": 250.0}),)})
    with pytest.raises(
        PaperProblem, match="is 250 mm wide and the paper leaves 180 mm: it cannot be printed at true size"
    ):
        pin_card(make_card(wide))


@pytest.mark.parametrize("path", CONNECTORS, ids=lambda path: path.stem)
def test_a_label_beside_its_pin_neither_covers_it_nor_is_covered(path):
    bold = faces().bold
    for pin in face(build_model(read_document(path), Connector)).pins:
        width, height = pin.width / 25.4 * 72, pin.height / 25.4 * 72
        label = bold.width(pin.label) * LABEL_BESIDE
        across, up = beside(_outward(pin), width, height, label, LABEL_BESIDE)
        apart_across = abs(across) - (width + label) / 2
        apart_up = abs(up) - (height + 0.72 * LABEL_BESIDE) / 2  # digits and capitals are 0.72 of the size high
        assert max(apart_across, apart_up) >= 0


def test_notes_have_a_column_only_where_there_are_any():
    noted = PinReading(between="1 and 3", what="voltage", expected="10.3 V", band="9 V to 11 V", note="warm winding")
    assert "Note" not in all_text(pin_card(make_card(shipped("din-5-180")))).split()
    text = all_text(pin_card(make_card(shipped("din-5-180"), readings=(noted,))))
    assert "Note" in text.split()
    assert "warm" in text
