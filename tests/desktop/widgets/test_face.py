"""The connector's face, drawn from its data."""

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF, QImage, QPainter

from benchapp.desktop.widgets.face import FaceView
from benchapp.desktop.widgets.face_painter import FacePainter
from benchapp.desktop.widgets.face_parts import FacePart, Touch
from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.faces import face
from tests.desktop.large import write_workshop
from tests.sequences.loaded import load_catalogue

CATALOGUE = load_catalogue()


@pytest.fixture
def view(look, shown):
    return shown(FaceView(look), 400, 400)


def outlet(*touches):
    return FacePart(title="Outlet", face=face(CATALOGUE.connectors["din-5-180"]), touches=touches)


def picture(view, parts):
    view.show_parts(parts)
    return view.grab().toImage()


@pytest.mark.parametrize("connector", CATALOGUE.connectors)
def test_every_shipped_connector_is_drawn_with_two_pins_lit(look, shown, connector):
    view = shown(FaceView(look), 400, 400)
    drawn = face(CATALOGUE.connectors[connector])
    names = [pin.name for pin in drawn.pins][:2]
    touches = tuple(Touch(spot=name, probe=probe) for name, probe in zip(names, ("black", "red"), strict=False))
    dark = picture(view, [FacePart(title=drawn.title, face=drawn, touches=())])
    lit = picture(view, [FacePart(title=drawn.title, face=drawn, touches=touches)])
    assert dark != lit
    assert len(view.words()) == len(touches)


def test_the_probes_are_told_apart_by_words_as_well_as_by_colour(view):
    view.show_parts([outlet(Touch(spot="1", probe="black"), Touch(spot="3", probe="red"))])
    assert view.words() == ["BLACK probe: Outlet, pin 1", "RED probe: Outlet, pin 3"]
    assert view.accessibleDescription() == "BLACK probe: Outlet, pin 1; RED probe: Outlet, pin 3"


def test_the_lit_pin_stands_where_the_data_say(look, view):
    """Pin 1 of a five-pin outlet lies right of the middle, pin 3 left of it (DIN 41524, as its file says)."""
    red = look.colour("probe_red")

    def middle(spot):
        image = picture(view, [outlet(Touch(spot=spot, probe="red"))])
        half = image.height() // 2
        points = [x for x in range(image.width()) for y in range(half) if image.pixelColor(x, y) == red]
        return sum(points) / len(points)

    assert middle("3") < view.width() / 2 < middle("1")


def test_bare_metal_is_a_plate_with_its_name(view):
    touch = Touch(spot="case", probe="red")
    view.show_parts([FacePart(title="bare metal of the case", face=None, touches=(touch,))])
    assert view.words() == ["RED probe: bare metal of the case"]


def test_a_step_that_touches_nothing_shows_no_face(view):
    view.show_parts([])
    assert not view.isVisible()


def test_a_call_without_room_names_the_probe_alone_and_is_never_cut(look, view):
    touch = Touch(spot="the bare metal of the case", probe="red")
    part = FacePart(title="the bare metal of the case", face=None, touches=(touch,))
    image = QImage(400, 400, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    drawn = FacePainter(painter, look, QRectF(0, 0, 400, 400), line=20)
    wide, _ = drawn._call_words(part, touch, 400)
    narrow, needed = drawn._call_words(part, touch, 120)
    painter.end()
    assert (wide, narrow) == ("RED probe: the bare metal of the case", "RED probe")
    assert needed <= 120


def painter_of(look, part, width, height):
    """What has painted that part into a box of that size."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    painter.setFont(look.font())
    drawn = FacePainter(painter, look, QRectF(0, 0, width, height))
    drawn.paint(part)
    painter.end()
    return drawn


@pytest.mark.parametrize("percent", [100, 200])
def test_from_where_a_face_is_seen_is_never_cut_off(look, percent):
    """Seen from the other side the pins change places: half a sentence would be worse than none."""
    look.set_percent(percent)
    part = outlet(Touch(spot="1", probe="black"))
    drawn = painter_of(look, part, 180, 260)
    lines = [words for words, _ in drawn._heads(part)]
    assert " ".join(lines).endswith(part.face.view)
    for words, bold in drawn._heads(part):
        assert drawn._width(words, 0.7 if bold else 0.63, bold=bold) <= 180 * 0.92


def test_a_title_without_room_is_said_in_its_short_words(look):
    look.set_percent(200)
    part = FacePart(
        title="DIN outlet, 5 contacts over 180°", face=None, touches=(Touch(spot="1", probe="red"),), short="outlet"
    )
    assert [words for words, _ in painter_of(look, part, 180, 260)._heads(part)] == ["outlet"]
    assert [words for words, _ in painter_of(look, part, 700, 260)._heads(part)] == [part.title]


@pytest.mark.parametrize("percent", [100, 200])
def test_the_labels_of_a_dense_connector_do_not_cover_each_other(look, tmp_path, percent):
    look.set_percent(percent)
    write_workshop(tmp_path / "own")
    dense = face(build_model(read_document(tmp_path / "own" / "connector.yaml"), Connector))
    drawn = painter_of(look, FacePart(title="Socket", face=dense, touches=()), 340, 200)
    assert drawn._label > 0
    spare = drawn._line  # a label is centred in a box with that much to spare at either side
    places = [drawn._beside(pin, one.label) for pin, one in zip(drawn._pins, dense.pins, strict=True)]
    boxes = [place.adjusted(spare, 0, -spare, 0) for place in places]
    for index, box in enumerate(boxes):
        assert not any(box.intersects(other) for other in boxes[index + 1 :])


def test_labels_too_small_to_read_are_left_out(look, tmp_path):
    write_workshop(tmp_path / "own")
    dense = face(build_model(read_document(tmp_path / "own" / "connector.yaml"), Connector))
    assert painter_of(look, FacePart(title="Socket", face=dense, touches=()), 100, 80)._label == 0


@pytest.mark.parametrize("percent", [100, 200])
def test_two_lit_pins_keep_a_face_large_enough_to_be_told_apart(look, percent):
    """In a box of eleven lines the calls would leave two lines for the face; without them it has six or more."""
    look.set_percent(percent)
    line = QFontMetricsF(look.font()).height()
    part = outlet(Touch(spot="2", probe="black"), Touch(spot="4", probe="red"))
    drawn = painter_of(look, part, int(line * 10), int(line * 11))
    assert drawn._middle(part).height() >= 6 * line
