"""A plate that says two voltages is never judged by one of them alone."""

from collections.abc import Callable
from decimal import Decimal

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.limits.mains_fit import Range, VoltageFit, voltage_fit
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.wiring.assembly.selecting import supply_fit
from benchapp.wiring.expected.sound_current import sound_current
from benchapp.wiring.model.circuit import Circuit, State, WiringProblem
from benchapp.wiring.model.written import read_supply_volts

LOADED = """
- {resistor: board, between: [in.1, in.2], resistance: 10 kohm}
- {resistor: load, between: [out.1, out.2], resistance: 10 kohm}
"""
WOUND = """
- {winding: first, between: [in.1, in.2], RATED resistance: 400 ohm}
- {winding: second, between: [out.1, out.2], rated: 9 V at 0.6 A on load, regulation: 14 %, resistance: 1.2 ohm}
"""
LIMITS = shipped_folder("resources") / "limits"
GB, US = (build_model(read_document(LIMITS / f"{region}.yaml"), LimitProfile) for region in ("gb", "us"))
AT_230 = Range(lowest=Decimal("216.2"), highest=Decimal(253))


AS_PLATES_WRITE_IT = ["100-240 V", "100 - 240 V", "100–240 V", "100 V to 240 V", "100V-240V", "100 to 240 V"]


@pytest.mark.parametrize("text", AS_PLATES_WRITE_IT)
def test_a_range_is_read_as_plates_write_it(text: str) -> None:
    assert (read_supply_volts(text).lowest, read_supply_volts(text).highest) == (100.0, 240.0)
    assert read_supply_volts(text).words == "100 V to 240 V"


@pytest.mark.parametrize("text", ["240-100 V", "240 V to 240 V", "100-240", "0-240 V", "100-240 A"])
def test_what_is_no_range_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"100 V to 240 V|0 V"):
        read_supply_volts(text)


@pytest.mark.parametrize(
    ("lowest", "highest", "fit"),
    [
        (100, 240, VoltageFit.fits),
        (220, 240, VoltageFit.fits),
        (100, 127, VoltageFit.burns),
        (200, 220, VoltageFit.to_accept),
        (380, 415, VoltageFit.starved),
        (250, 440, VoltageFit.weak),
    ],
)
def test_the_highest_voltage_bears_the_mains_and_the_lowest_is_enough(
    lowest: float, highest: float, fit: VoltageFit
) -> None:
    assert voltage_fit(AT_230, lowest, highest) is fit


def test_the_same_plate_fits_two_places_and_the_sentence_names_both_voltages(written: Callable[..., Circuit]) -> None:
    wide, american = (written(LOADED, voltage=one) for one in ("100-240 V", "100-127 V"))
    assert supply_fit(wide, State(), GB).fit is supply_fit(wide, State(), US).fit is VoltageFit.fits
    assert supply_fit(american, State(), GB).sentence.startswith("It is made for 100 V to 127 V, and mains here is")


def test_its_current_is_that_of_the_mains_at_hand(written: Callable[..., Circuit]) -> None:
    circuit = written(LOADED, voltage="100-240 V, kind of load: transformer with circuits behind it")
    at_120, at_230, at_240, at_250 = (sound_current(circuit, mains).high for mains in (120.0, 230.0, 240.0, 250.0))
    assert at_120 / at_230 == pytest.approx(230 / 120)
    assert at_250 > at_240


def test_a_fuse_is_held_against_the_current_at_the_lowest_voltage(written: Callable[..., Circuit]) -> None:
    fused = """
    - {fuse: inside, between: [in.1, a], rating: 50 mA, place: inside}
    - {resistor: board, between: [a, in.2], resistance: 10 kohm}
    """
    written(fused, voltage="240 V")  # 8 VA at 240 V: 33 mA
    with pytest.raises(WiringProblem, match=r"smaller than the rated current of 0\.08 A"):
        written(fused, voltage="100-240 V")


def test_a_transformer_says_at_which_of_them_its_outputs_are_as_rated(written: Callable[..., Circuit]) -> None:
    with pytest.raises(WiringProblem, match="nothing says at which of them the outputs are as they are"):
        written(WOUND.replace("RATED", ""), voltage="220-240 V")
    assert written(WOUND.replace("RATED", "rated: 230 V supply,"), voltage="220-240 V").supply is not None
