"""What the screen draws is what the pin card prints: one description of every face."""

import pytest

from benchapp.actions.pin_cards import pin_card_content
from benchapp.desktop.bench.touching import parts_touched
from tests.sequences.bench import catalogue, plan_of

SHIPPED = (("mains-unit", "tb-mu1"), ("mains-unit", "tb-mu2"), ("recorder", "tb-rec1"), ("loudspeaker", "tb-ls1"))


@pytest.mark.parametrize(("route", "equipment"), SHIPPED)
def test_screen_and_pin_card_draw_one_description_of_the_face(route, equipment):
    plan = plan_of(route, equipment)
    for name, plug in plan.circuit.connectors.items():
        a, b = plug.terminals[:2]
        (part,) = parts_touched(plan, (a, b))
        card = pin_card_content(plan.circuit, name, plan.connectors[name])
        assert part.face == card.face
        assert part.face is not None
        drawn = catalogue().connectors[plan.equipment.connectors[name]]
        assert [(pin.name, pin.x, pin.y) for pin in part.face.pins] == [
            (str(pin.pin), float(pin.x), float(pin.y)) for pin in drawn.pins
        ]
        assert [(touch.spot, touch.probe) for touch in part.touches] == [
            (a.partition(".")[2], "black"),
            (b.partition(".")[2], "red"),
        ]
