"""On which side live is, seen from the mating side with the earth where it is named: absolute, for every mains face.

BS 1363-1: plug from its pins, earth up, live left (its socket-outlet has live on the right: confirmed, encyclopedia
copy). IEC 60320-1, C13 and C14; AS/NZS 3112; ANSI/NEMA WD 6: from memory, and each file says so.
"""

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.wiring.model.connectors import Connector

SIDES = {
    "gb-13a-plug": ("up", "left", "confirmed"),
    "iec-c14-inlet": ("up", "left", "from memory"),
    "iec-c13-connector": ("up", "right", "from memory"),
    "au-earthed-plug": ("down", "right", "from memory"),
    "us-earthed-plug": ("down", "left", "from memory"),
}
"""Where the earth is, where live is, how far that was confirmed."""
EITHER_WAY = ("eu-earthed-plug", "eu-flat-plug")
"""What goes in both ways round: no side is live by itself."""
NO_EARTH = ("au-two-pin-plug", "us-two-blade-plug")


def connector(name: str) -> Connector:
    return build_model(read_document(shipped_folder("resources") / "connectors" / f"{name}.yaml"), Connector)


@pytest.mark.parametrize("name", SIDES)
def test_live_is_on_the_side_that_the_standard_has(name):
    earth, live, status = SIDES[name]
    face = connector(name)
    pins = {pin.pin: pin for pin in face.pins}
    assert face.view == "from the mating side"
    assert ("up" if pins["E"].y > max(pins["L"].y, pins["N"].y) else "down") == earth
    assert ("left" if pins["L"].x < pins["N"].x else "right") == live
    assert status in face.status


@pytest.mark.parametrize("name", EITHER_WAY)
def test_a_plug_that_goes_in_both_ways_says_so(name):
    assert "how it is put in" in connector(name).notes


def test_the_wide_blade_is_neutral():
    pins = {pin.pin: pin for pin in connector("us-two-blade-plug").pins}
    assert pins["N"].height > pins["L"].height


def test_every_shipped_mains_face_has_its_side():
    folder = shipped_folder("resources") / "connectors"
    mains = {file.stem for file in folder.glob("*.yaml") if connector(file.stem).mains}
    assert mains == {*SIDES, *EITHER_WAY, *NO_EARTH}


@pytest.mark.parametrize(
    ("two", "three"), [("au-two-pin-plug", "au-earthed-plug"), ("us-two-blade-plug", "us-earthed-plug")]
)
def test_a_plug_without_earth_has_live_on_the_side_of_the_one_with_earth(two, three):
    def is_left(name: str) -> bool:
        pins = {pin.pin: pin for pin in connector(name).pins}
        return pins["L"].x < pins["N"].x

    assert is_left(two) is is_left(three)
