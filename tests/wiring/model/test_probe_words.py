"""Red and black are named only where they say which way round."""

from benchapp.wiring.model.probe_words import are_coloured, say_probes
from tests.sequences.bench import plan_of

CIRCUIT = plan_of().circuit


def test_a_resistance_at_the_outputs_names_black_and_red():
    said = say_probes(CIRCUIT, "outlet.1", "outlet.2")
    assert said == "Black probe on pin 1 of the outlet, red probe on pin 2 of the outlet."


def test_on_ac_neither_probe_has_a_colour():
    said = say_probes(CIRCUIT, "outlet.1", "outlet.2", alternating=True)
    assert said == "One probe on pin 1 of the outlet, the other on pin 2 of the outlet."


def test_on_mains_pins_neither_probe_has_a_colour():
    assert not are_coloured(CIRCUIT, "plug.L", "plug.N")
    assert not are_coloured(CIRCUIT, "outlet.1", "plug.E")
