"""The shipped drawings: each can be painted, and has the parts that the table of pictures marks."""

import pytest
from PySide6.QtCore import QRectF

from benchapp.desktop.pictures.drawings import drawing, has_drawing, named_colours, place_of, read_table
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.language.models import id_of
from tests.sequences.loaded import load_catalogue

CATALOGUE = load_catalogue()
NAMES = sorted(path.stem for path in (shipped_folder("resources") / "pictures").glob("*.svg"))
REGIONS = ("gb", "eu", "au", "nz", "us")
CORES = ("live", "neutral", "earth")


def opened(region: str) -> str:
    plug = CATALOGUE.limits[region].plug
    return "opened-plug-" + plug.connectors[0].partition("-")[0]


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_every_drawing_can_be_painted(qapp, name, dark):
    assert drawing(name, dark=dark).isValid()


def test_every_row_of_the_table_names_what_there_is(qapp):
    table = read_table("pictures")
    for address, row in {**table["steps"], **table["set_up"]}.items():
        if "pair" in row:
            assert has_drawing(f"pair-{row['pair']}"), address
            assert len(table["pairs"][row["pair"]]) == 2, address
        elif "drawing" in row:
            name = opened("gb") if row["drawing"] == "opened-plug" else row["drawing"]
            for part in row.get("mark", ()):
                assert drawing(name).elementExists(part), f"{address}: {part}"
                assert part in table["parts"]


def test_every_address_in_the_table_is_of_a_shipped_step():
    table = read_table("pictures")
    for address in (*table["steps"], *table["clocks"]):
        where, _, row = address.partition("/")
        sequence, _, step = where.partition(".")
        steps = {id_of(one): one for one in CATALOGUE.sequences[sequence].steps}
        assert step in steps, address
        if row.isdecimal():
            assert 1 <= int(row) <= len(steps[step].do), address
        elif row:
            model = steps[step]
            asked = set(CATALOGUE.hazards) if model.old_hazards else {point.check for point in model.checkpoints}
            assert row in asked, address


@pytest.mark.parametrize("name", [name for name in NAMES if name.startswith("pair-")])
def test_a_pair_has_a_good_and_a_bad_one(qapp, name):
    assert all(drawing(name).elementExists(part) for part in ("good", "bad"))


@pytest.mark.parametrize("name", NAMES)
def test_a_core_of_two_colours_is_drawn_in_both(name):
    """Earth is green and yellow: a core that is drawn has its stripe wherever it is drawn."""
    text = (shipped_folder("resources") / "pictures" / f"{name}.svg").read_text(encoding="utf-8")
    if "$earth" in text:
        assert text.count('"$earth"') == text.count('"$earth_stripe"')


@pytest.mark.parametrize("region", REGIONS)
def test_each_region_has_its_opened_plug_with_every_core_at_its_terminal(qapp, region):
    made = drawing(opened(region))
    area = QRectF(0, 0, 300, 350)
    for core in CORES:
        wire, terminal = (place_of(made, f"{part}-{core}", area) for part in ("core", "terminal"))
        assert wire.intersects(terminal), core
        others = [place_of(made, f"terminal-{other}", area) for other in CORES if other != core]
        assert not any(terminal.intersects(other) for other in others)


@pytest.mark.parametrize("region", ["gb", "au", "nz", "us"])
def test_live_is_drawn_where_the_connector_has_it_seen_from_behind(qapp, region):
    """The connector's face is seen from its pins; the opened plug from the other side: left and right change places."""
    made, area = drawing(opened(region)), QRectF(0, 0, 300, 350)
    pins = {str(pin.pin): pin for pin in CATALOGUE.connectors[CATALOGUE.limits[region].plug.connectors[0]].pins}
    live, neutral, earth = (place_of(made, f"terminal-{core}", area).center() for core in CORES)
    assert (live.x() > neutral.x()) == (pins["L"].x < pins["N"].x)
    assert (earth.y() < neutral.y()) == (pins["E"].y > pins["N"].y)


@pytest.mark.parametrize("region", REGIONS)
def test_every_core_colour_of_every_region_can_be_drawn(region):
    for colour in CATALOGUE.limits[region].core_colours:
        assert named_colours(colour.new), colour.new
        assert not colour.old or named_colours(colour.old), colour.old


def test_green_and_yellow_is_two_colours_and_light_blue_is_one():
    assert len(named_colours("green and yellow")) == 2
    assert named_colours("light blue") != named_colours("blue")
