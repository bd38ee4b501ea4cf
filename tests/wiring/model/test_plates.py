"""What stands on old plates and fuse caps is understood as the plain form of the same value."""

import pytest

from benchapp.files.locations import Mistake
from benchapp.quantities.dimensions import Kind
from benchapp.wiring.model.plates import read_frequency, read_fuse_rating
from benchapp.wiring.model.values import read_positive
from benchapp.wiring.model.written import read_supply_volts


@pytest.mark.parametrize(
    ("text", "lowest", "highest"),
    [
        ("220-240 V", 220.0, 240.0),
        ("220–240V", 220.0, 240.0),
        ("220 V to 240 V", 220.0, 240.0),
        ("220 to 240 volts", 220.0, 240.0),
        ("200-250 V A.C.", 200.0, 250.0),
        ("220-240 VAC", 220.0, 240.0),
        ("200/250 V", 200.0, 250.0),
        ("220/240 V~", 220.0, 240.0),
        ("240 V", 240.0, 240.0),
        ("240 V~", 240.0, 240.0),
        ("~240 V", 240.0, 240.0),
        ("240V AC", 240.0, 240.0),
        ("A.C. 240 volts", 240.0, 240.0),
    ],
)
def test_a_voltage_of_an_old_plate_is_read(text: str, lowest: float, highest: float) -> None:
    found = read_supply_volts(text)
    assert (found.lowest, found.highest) == (lowest, highest)


def test_a_choice_of_two_voltages_asks_for_the_one_that_is_set() -> None:
    with pytest.raises(Mistake) as told:
        read_supply_volts("110/220 V")
    assert told.value.what == '"110/220 V" is a choice of two voltages, which a selector makes'
    assert told.value.expected == "the one that the selector stands at, such as 220 V"


@pytest.mark.parametrize("text", ["240 V DC", "240 V AC/DC", "240", "240 A", "AC", "240 W AC"])
def test_what_is_no_alternating_voltage_is_still_refused(text: str) -> None:
    with pytest.raises(ValueError, match="V"):
        read_supply_volts(text)


@pytest.mark.parametrize("text", ["50 Hz", "50 c/s", "50 C/S", "50 c.p.s.", "50 cps", "50 cycles", "50~", "50 ~"])
def test_a_frequency_of_an_old_plate_is_read(text: str) -> None:
    assert read_frequency(text) == 50.0


@pytest.mark.parametrize("text", ["50/60 Hz", "40-60 c/s"])
def test_two_frequencies_ask_for_one(text: str) -> None:
    with pytest.raises(Mistake) as told:
        read_frequency(text)
    assert told.value.expected == "that of the mains where it is used: 50 Hz or 60 Hz"


@pytest.mark.parametrize("text", ["8 W", "8W", "8 W.", "8 WATTS", "8 watts", "8 VA", "8 V.A.", "8 volt-amps"])
def test_a_power_of_an_old_plate_is_read(text: str) -> None:
    assert read_positive(text, Kind.power) == 8.0


@pytest.mark.parametrize(
    ("text", "amperes"),
    [
        ("3 A", 3.0),
        ("T400mA", 0.4),
        ("T 400 mA", 0.4),
        ("400mA T", 0.4),
        ("400 mAT", 0.4),
        ("F1A", 1.0),
        ("FF 1 A", 1.0),
        ("T1.25A", 1.25),
        ("T1,25A", 1.25),
        ("T400mAL250V", 0.4),
        ("F1AH250V", 1.0),
        ("T 1A L 250 V", 1.0),
        ("1 A A/S", 1.0),
        ("500 mA/250 V", 0.5),
    ],
)
def test_a_fuse_is_read_as_its_cap_has_it(text: str, amperes: float) -> None:
    assert read_fuse_rating(text) == pytest.approx(amperes, rel=1e-12)


@pytest.mark.parametrize("text", ["T", "250 V", "F400", "400 mF", "T400"])
def test_what_is_no_current_is_refused_as_a_fuse(text: str) -> None:
    with pytest.raises(ValueError, match="A"):
        read_fuse_rating(text)
