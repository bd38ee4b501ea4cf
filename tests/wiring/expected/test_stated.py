"""Voltages behind a rectifier: what authors state adds up, and what nobody states is never called none."""

from collections.abc import Callable

import pytest

from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.model.circuit import Circuit, WiringProblem

SUPPLY = """
- {winding: primary, between: [in.1, in.2], rated: 240 V supply, resistance: 150 ohm}
- {winding: secondary, between: [ac.1, ac.2], rated: 30 V off load, resistance: 1.6 ohm,
   taps: [{at: out.2, rated: 15 V off load}]}
- {diode: upper-1, between: [ac.1, out.1]}
- {diode: upper-2, between: [ac.2, out.1]}
- {diode: lower-1, between: [out.3, ac.1]}
- {diode: lower-2, between: [out.3, ac.2]}
- {resistor: bleeder, between: [out.1, out.3], resistance: 4.7 kohm}
"""
PLUS = "{output: plus, between: [out.1, out.2], volts: 22 V ± 10 %, source: rating plate}"
MINUS = "{output: minus, between: [out.2, out.3], volts: 20 V ± 10 %, source: rating plate}"
MAINS = KnownQuantity(value_si=240.0, standard_uncertainty=0.0, what="mains", source="plug-in meter")
HALF_WAVE = """
- {winding: primary, between: [in.1, in.2], rated: 240 V supply, resistance: 150 ohm}
- {winding: secondary, between: [ac, out.2], rated: 12 V off load, resistance: 1 ohm}
- {diode: rectifier, between: [ac, out.1]}
- {resistor: bleeder, between: [out.1, out.2], resistance: 4.7 kohm}
"""


def test_two_stated_halves_add_up_over_the_whole(written: Callable[..., Circuit]) -> None:
    # Kirchhoff's voltage law: the whole is the sum of what follows on each other; elementary
    band = expected_voltage(written(SUPPLY, more=f"outputs: [{PLUS}, {MINUS}]\n"), "out.3", "out.1", mains=MAINS)
    assert (band.lower, band.expected, band.upper) == pytest.approx((37.8, 42.0, 46.2))
    assert [line.what for line in band.derivation[:2]] == ["output plus", "output minus"]


def test_behind_a_diode_what_nobody_states_is_not_judged(written: Callable[..., Circuit]) -> None:
    hum = "{output: hum, between: [out.3, out.2], volts: at most 1 V, current: AC, source: made up}"
    band = expected_voltage(written(SUPPLY, more=f"outputs: [{PLUS}, {hum}]\n"), "out.1", "out.3", mains=MAINS)
    assert (band.lower, band.expected, band.upper) == (None, None, None)
    assert "not judged" in band.cautions[0]


def test_a_bleeder_does_not_hide_that_a_diode_feeds_the_output(written: Callable[..., Circuit]) -> None:
    with pytest.raises(WiringProblem, match=r"out\.1 is fed through a diode, and no voltage is stated for it"):
        written(HALF_WAVE)


@pytest.mark.parametrize(
    ("between", "wrong"), [("[out.2, out.1]", "makes 'out.1' positive against 'out.2'"), ("[out.1, out.2]", "")]
)
def test_the_pin_called_positive_is_the_one_the_rectifier_feeds(
    written: Callable[..., Circuit], between: str, wrong: str
) -> None:
    # current leaves a rectifier at its cathode; elementary
    more = f"outputs: [{{output: dc, between: {between}, volts: 17 V ± 10 %, source: rating plate}}]\n"
    if not wrong:
        assert written(HALF_WAVE, more=more).outputs
        return
    with pytest.raises(WiringProblem, match=wrong):
        written(HALF_WAVE, more=more)
