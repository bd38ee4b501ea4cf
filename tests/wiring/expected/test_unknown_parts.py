"""Never a voltage that cannot be: a coil nobody rated, a capacitor in the path, a supply that is no mains."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.acceptance.acceptance import KnownQuantity
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.judgement.statements.band import Band
from benchapp.wiring.expected.live import expected_voltage
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.network.live import supply_of

MAINS = KnownQuantity(value_si=243.0, standard_uncertainty=0.0, what="mains", source="made up")


def primary(name: str = "primary", between: str = "in.1, in.2") -> str:
    """A winding that states no rating."""
    return f"- {{winding: {name}, between: [{between}], resistance: 300 ohm}}\n"


PRIMARY = primary()
SECONDARY = "- {winding: secondary, between: [out.1, out.2], rated: 12 V off load, resistance: 1 ohm}\n"
BLEED = "- {resistor: bleed, between: [out.3, out.2], resistance: 10 kohm}\n"


@pytest.fixture(scope="session")
def gb() -> LimitProfile:
    return build_model(read_document(shipped_folder("resources") / "limits" / "gb.yaml"), LimitProfile)


def band(circuit: Circuit, a: str, b: str) -> Band:
    return expected_voltage(circuit, a, b, mains=MAINS)


def assert_not_judged(found: Band, *words: str) -> None:
    assert (found.lower, found.upper, found.expected) == (None, None, None)
    assert all(word in " ".join((*found.cautions, found.derivation[0].value)) for word in words), found


def test_a_tape_head_drawn_as_an_unrated_winding_is_not_judged(written: Callable[..., Circuit]) -> None:
    # it was taken for a primary and gave the mains, 243 V, between the pins of the line socket
    head = "- {winding: head, between: [out.3, out.4], resistance: 100 ohm, say: the tape head}\n"
    circuit = written(PRIMARY + SECONDARY + head)
    assert_not_judged(band(circuit, "out.3", "out.4"), "the tape head", "not judged")
    assert band(circuit, "out.1", "out.2").expected == pytest.approx(12 * 243 / 240, rel=1e-3)


def test_a_motor_in_the_path_of_an_output_is_not_judged(written: Callable[..., Circuit]) -> None:
    motor = "- {winding: motor, between: [out.1, out.3], resistance: 100 ohm, say: the motor}\n"
    circuit = written(PRIMARY + SECONDARY + motor + BLEED)
    assert_not_judged(band(circuit, "out.3", "out.2"), "the motor")
    assert band(circuit, "out.1", "out.2").expected == pytest.approx(12 * 243 / 240, rel=1e-2)


def test_an_output_behind_a_capacitor_is_not_judged(written: Callable[..., Circuit]) -> None:
    coupling = "- {capacitor: coupling, between: [out.1, out.3], capacitance: 10 µF, say: the output capacitor}\n"
    circuit = written(PRIMARY + SECONDARY + coupling + BLEED)
    assert_not_judged(band(circuit, "out.3", "out.2"), "the output capacitor")
    assert band(circuit, "out.1", "out.2").expected == pytest.approx(12 * 243 / 240, rel=1e-2)


@pytest.mark.parametrize("primaries", [PRIMARY, primary("one", "in.1, in.2") + primary("two", "in.1, in.2")])
def test_unrated_windings_across_the_supply_stay_its_primaries(written: Callable[..., Circuit], primaries: str) -> None:
    assert (band(written(primaries + SECONDARY), "out.1", "out.2").expected or 0.0) > 5


def test_what_nothing_feeds_has_no_voltage(written: Callable[..., Circuit]) -> None:
    loose = "- {resistor: loose, between: [out.3, out.4], resistance: 10 kohm}\n"
    found = band(written(PRIMARY + SECONDARY + loose), "out.3", "out.4")
    assert (found.lower, found.expected) == (None, 0.0)
    assert (found.upper or 0.0) <= 0.1


def test_an_item_on_a_battery_is_not_fed_by_the_mains(written: Callable[..., Circuit], gb: LimitProfile) -> None:
    # the region's legal range gave 234 V at its output
    circuit = written("- {resistor: r, between: [in.1, in.2], resistance: 100 ohm}\n")
    fed = replace(supply_of(circuit), voltage=9.0, stated="9 V")
    found = expected_voltage(replace(circuit, supply=fed), "in.1", "in.2", mains=None, profile=gb)
    assert_not_judged(found, "9 V", "No mains feeds this")
