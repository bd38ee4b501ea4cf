"""Pictures as they are painted and read aloud, and where each comes from."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter, QRawFont

from benchapp.desktop.bench.picturing import _stated, core_colours, opened_plug, picture_of
from benchapp.desktop.pictures.clock import Clock
from benchapp.desktop.pictures.drawings import read_table
from benchapp.desktop.pictures.drawn import DrawingPicture, PairPicture
from benchapp.desktop.pictures.in_line import LinePicture
from benchapp.desktop.pictures.meter_picture import DIAL, EARTHED, MeterPicture
from benchapp.desktop.pictures.own_photo import read_at_most, with_own_photo
from benchapp.desktop.pictures.plate import PlatePicture
from benchapp.desktop.pictures.view import PictureView
from benchapp.judgement.meters.functions import Function
from tests.people import staffed
from tests.photos import claiming
from tests.sequences.bench import plan_of

PAIR = PairPicture(words="Good: whole. Bad: cut.", name="cord", good="whole", bad="cut")
LINE = LinePicture(
    words="In line from the wall.", things=(("wall", "wall"), ("rcd", "RCD"), ("item", "item")), marked="rcd"
)
METER = MeterPicture(
    words="A meter.", title="Meter", positions=("resistance", "AC voltage"), position="resistance", expects="1.36 ohm"
)
PLATE = PlatePicture(words="The plate.", lines=(("Voltage", "240 V ~"), ("Class", "")), double_insulated=True)


def painted(picture, look, width=500, height=400):
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(look.colour("sheet"))
    painter = QPainter(image)
    picture.paint(painter, QRectF(0, 0, width, height), look)
    painter.end()
    return image


@pytest.mark.parametrize("size", [(500, 400), (300, 420), (900, 240), (160, 120)])
@pytest.mark.parametrize("picture", [PAIR, LINE, METER, PLATE], ids=["pair", "line", "meter", "plate"])
def test_a_picture_is_painted_into_any_room(look, picture, size):
    empty = QImage(*size, QImage.Format.Format_RGB32)
    empty.fill(look.colour("sheet"))
    assert painted(picture, look, *size) != empty


@pytest.mark.parametrize(
    ("name", "part", "within"), [("opened-plug-gb", "body", "fuse"), ("opened-plug-eu", "body", "grip")]
)
def test_a_marked_part_that_holds_others_does_not_hide_them(look, name, part, within):
    whole = DrawingPicture(words="The drawing.", name=name)
    marked = painted(replace(whole, marks=((part, part),)), look)
    both = painted(replace(whole, marks=((part, part), (within, within))), look)
    sheet, area = look.colour("sheet").rgb(), marked.rect().adjusted(120, 80, -120, -120)

    def inked(image):
        points = ((x, y) for x in range(area.left(), area.right(), 4) for y in range(area.top(), area.bottom(), 4))
        return sum(image.pixelColor(x, y).rgb() != sheet for x, y in points)

    assert inked(marked) > 0.8 * inked(both)
    assert inked(marked) > 0.8 * inked(painted(whole, look))


def test_a_marked_thing_looks_otherwise_than_the_same_unmarked(look):
    assert painted(LINE, look) != painted(replace(LINE, marked=""), look)


def test_a_line_that_is_open_looks_otherwise(look):
    assert painted(LINE, look) != painted(replace(LINE, apart=1), look)


def test_the_dial_follows_the_function(look):
    assert painted(METER, look) != painted(replace(METER, position="AC voltage"), look)


def test_leads_have_no_colour_where_colours_mean_nothing(look):
    image = painted(replace(METER, polar=False, expects=""), look)
    red = look.colour("probe_red").rgb()
    assert not any(image.pixel(x, y) == red for x in range(500) for y in range(0, 400, 2))


def test_every_function_has_its_sign_at_a_dial():
    assert set(DIAL) == {str(one) for one in Function}


@pytest.fixture
def view(look, shown):
    return shown(PictureView(look), 400, 300)


def test_a_picture_is_read_aloud(view):
    view.show_picture(PAIR)
    assert view.accessibleName() == "Picture"
    assert view.accessibleDescription() == "Good: whole. Bad: cut."


def test_no_picture_takes_no_room(view):
    view.show_picture(PAIR)
    view.show_picture(None)
    assert view.isHidden()
    assert view.accessibleDescription() == ""


def test_a_picture_that_was_painted_is_kept_until_the_look_changes(view, look):
    view.show_picture(PAIR)
    first = view.grab().toImage()
    kept = view._rendered(PAIR)
    view.show_picture(LINE)
    view.grab()
    view.show_picture(PAIR)
    assert view._rendered(PAIR) is kept
    look.set_dark(True)
    assert view.grab().toImage() != first


@pytest.mark.parametrize("region", ["gb", "eu", "au", "nz", "us"])
def test_the_opened_plug_says_the_colours_of_its_region(region):
    plan = plan_of(workshop=replace(staffed(), region=region))
    picture = opened_plug(plan, "The plug")
    now, before = core_colours(plan)
    assert [core for core, _colour in now] == ["live", "neutral", "earth"]
    assert all(colour in picture.words for _core, colour in now)
    assert picture.before == before


def test_the_clock_says_how_much_has_passed(look, shown):
    clock = shown(Clock(look), 200, 200)
    clock.show_time(10, 40)
    assert clock.accessibleDescription() == "25 % of the time has passed"
    quarter = clock.grab().toImage()
    clock.show_time(40, 40)
    assert clock.grab().toImage() != quarter


def go_to(technician, page):
    """From the start of the unit to the first page of that name."""
    technician.take_unit("TB-001")
    while technician.page.name != page:
        technician.strike("y")


def test_the_picture_of_an_inspection_follows_the_row(technician):
    go_to(technician, "inspect")
    page, seen = technician.page, set()
    technician.mark_rows()
    technician.strike("1")
    assert technician.address == "visual-inspection.outside"
    for number, name in enumerate(page.names):
        page.list.go_to(number)
        seen.add(page.picture.picture().words)
        if name == "plate":
            assert page.picture.accessibleDescription().startswith("The rating plate should say: Voltage 240 V ~")
            assert "Class I" in page.picture.accessibleDescription()
    assert len(seen) > 5


def test_a_step_that_the_table_does_not_name_on_dead_supply_has_no_picture(every_step):
    assert picture_of(every_step.view) is None


def test_a_clock_counts_until_its_time_is_over_and_stops_when_it_is_hidden(look, shown):
    clock = shown(Clock(look), 200, 200)
    clock.count(30)
    assert clock.counting()
    for _half_second in range(60):
        clock._step()
    assert not clock.counting()
    assert clock.accessibleDescription() == "100 % of the time has passed"
    clock.count(30)
    clock.count(0)
    assert clock.isHidden()
    assert not clock.counting()


def own_photo(folder, name, width=40, height=30):
    (folder / "pictures").mkdir(exist_ok=True)
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(0xFF336699)
    assert image.save(str(folder / "pictures" / name))


def test_the_workshops_own_photo_stands_beside_the_drawing(look, tmp_path):
    own_photo(tmp_path, "plug-rewire.plug-inside.screws.png")
    found = with_own_photo(PAIR, tmp_path, "plug-rewire.plug-inside", "screws")
    assert found.words.endswith("Beside it this workshop's own photo.")
    assert any(painted(found, look).pixel(x, y) == 0xFF336699 for x in range(250, 500, 9) for y in range(0, 400, 9))
    assert with_own_photo(PAIR, tmp_path, "plug-rewire.plug-inside", "damage") is PAIR


def test_without_a_photo_the_drawing_stands_alone(tmp_path):
    assert with_own_photo(PAIR, tmp_path, "plug-rewire.plug-inside", "screws") is PAIR
    assert with_own_photo(None, tmp_path, "plug-rewire.plug-inside", "") is None


def test_what_is_no_photo_is_said_to_be_none(look, tmp_path):
    own_photo(tmp_path, "clean.clean.jpg")
    (tmp_path / "pictures" / "clean.clean.jpg").write_bytes(b"no picture")
    found = with_own_photo(None, tmp_path, "clean.clean", "")
    assert found.words == "This workshop's own photo."
    assert painted(found, look) is not None


def test_every_sign_at_a_dial_is_a_glyph_of_the_font_that_comes_with_the_program(look):
    font = QRawFont.fromFont(look.font())
    missing = {sign for words in DIAL.values() for sign in words if not font.supportsCharacter(ord(sign))}
    assert missing == set()
    assert set(DIAL) >= EARTHED


@pytest.mark.parametrize(
    ("region", "shown"), [("gb", "13 A plug"), ("eu", "The item from outside"), ("au", "The item from outside")]
)
def test_the_question_for_the_plug_shows_the_plug_that_is_right_here(region, shown):
    """A drawing with two pins beside the words "13 A plug" shows what is wrong."""
    plan = plan_of(workshop=staffed(region=region))
    assert shown in _stated(plan, read_table("pictures")["steps"]["visual-inspection.plug"]).words


def test_a_photo_of_the_workshop_that_claims_to_be_vast_is_not_decoded(tmp_path, monkeypatch):
    vast = tmp_path / "clean.clean.png"
    vast.write_bytes(claiming(60_000, 60_000))
    monkeypatch.setattr("benchapp.desktop.pictures.own_photo.QImageReader", None)  # none is made
    assert read_at_most(vast, QRectF(0, 0, 90, 90)) is None
