"""What the screen draws is what the pin card prints: one description of every face."""

import pytest

from benchapp.actions.papers.pin_cards import pin_card_content
from benchapp.desktop.bench.touching import face_parts, parts_touched
from tests.sequences.bench import catalogue, plan_of

SHIPPED = (("mains-unit", "tb-mu1"), ("mains-unit", "tb-mu2"), ("recorder", "tb-rec1"), ("loudspeaker", "tb-ls1"))


@pytest.mark.parametrize(("route", "equipment"), SHIPPED)
def test_screen_and_pin_card_draw_one_description_of_the_face(route, equipment):
    plan = plan_of(route, equipment)
    for name, plug in plan.circuit.connectors.items():
        a, b = plug.terminals[:2]
        (part,) = parts_touched(plan, (a, b), ())
        card = pin_card_content(plan.circuit, name, plan.connectors[name])
        assert part.face == card.face
        assert part.face is not None
        drawn = catalogue().connectors[plan.equipment.connectors[name]]
        assert [(pin.name, pin.x, pin.y) for pin in part.face.pins] == [
            (str(pin.pin), float(pin.x), float(pin.y)) for pin in drawn.pins
        ]
        first, second = ("one", "other") if plug.mains else ("black", "red")  # on mains pins a colour would mislead
        assert [(touch.spot, touch.probe) for touch in part.touches] == [
            (a.partition(".")[2], first),
            (b.partition(".")[2], second),
        ]


@pytest.mark.parametrize(
    ("route", "equipment", "far"), [("mains-unit", "tb-mu1", "mains.L"), ("recorder", "tb-rec1", "inlet.L")]
)
def test_the_far_end_of_a_lead_in_the_hand_is_said_and_never_drawn_as_the_inlet(route, equipment, far):
    plan = plan_of(route, equipment)
    plug, end = face_parts(plan, plan.step(f"continuity.lead/plug.L-{far}"))
    assert [(touch.spot, touch.probe) for touch in plug.touches] == [("L", "one")]
    assert end.face is None
    assert end.title == "the live contact at the far end of the lead"
    assert [(touch.spot, touch.probe) for touch in end.touches] == [(end.title, "other")]
