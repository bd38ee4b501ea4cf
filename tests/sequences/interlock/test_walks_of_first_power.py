"""What no lamp can judge goes to mains by its element's resistance, and by nothing less."""

import pytest

from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.limiters import goes_by_resistance
from tests.sequences.bench import Refused
from tests.sequences.interlock.heater import HEATER
from tests.sequences.interlock.walking import assert_open, go_back, make_ready, take, withdraw
from tests.sequences.interlock.watched import Edit, EntryKind, Watched, make_workplace

NAME = "resources/equipment/tb-ht1.yaml"
MAINS = "first-power-by-resistance.plug-in"


def heater(route: str = "mains-heater", *edits: Edit) -> Watched:
    return Watched.of(make_workplace(route, "tb-ht1", edits, more=((NAME, HEATER),)))


def test_a_heater_goes_to_its_sale_without_a_lamp():
    unit = heater()
    unit.finish()
    assert unit.state.may_sell == ""


def test_an_element_of_another_power_keeps_mains_away():
    # 140 ohm is 378 W at 230 V, where the plate says 500 W; the file allows it, the plate does not
    unit = heater("mains-heater", ("resources/equipment/tb-ht1", "106 ohm ± 10 %", "106 ohm ± 60 %"))
    unit.go_to(MAINS)
    assert_open(unit, MAINS)
    withdraw(unit, "continuity.primary")
    go_back(unit)
    take(unit, "continuity.primary", "140 ohm")
    rows = {row.id: row for row in unit.state.interlock[Supply.full]}
    assert not rows["element"].holds
    assert "378 W" in rows["element"].why


def test_a_lamp_is_refused_on_the_usual_route_and_the_way_on_is_named():
    unit = heater("mains-item")
    unit.go_to("first-power.lamp-watts")
    with pytest.raises(Refused, match=r"No lamp can judge a heater.*variable transformer, or the route"):
        unit.answer("first-power.lamp-watts", unit.good(unit.plan.step("first-power.lamp-watts")))


def test_nothing_is_plugged_in_before_it_is_said_what_limits():
    unit = Watched.of(make_workplace())
    unit.go_to("first-power.plug-in")
    withdraw(unit, "first-power.limiter")
    with pytest.raises(Refused, match="Say first what limits the current"):
        take(unit, "first-power.plug-in")


def test_a_heater_that_drew_too_much_gets_no_power_before_its_element_was_found():
    unit = heater()
    unit.go_to("first-power-by-resistance.current")
    entry = unit.reads("first-power-by-resistance.current", "4 A")
    unit.go(lambda due: due.kind.value == "repair")
    assert not unit.state.energised
    assert "no power again before the cause is found" in unit.due.words
    unit.record(EntryKind.repair, part="knob", done="tightened", opened=[], fault=entry.number)
    make_ready(unit)
    assert not {row.id: row.holds for row in unit.state.interlock[Supply.full]}["cause"]


def test_what_a_lamp_can_judge_is_never_taken_by_resistance():
    assert goes_by_resistance(make_workplace("mains-heater", "tb-ht1", more=((NAME, HEATER),)).plan)
    lamp = HEATER.replace("kind of load: heater", "kind of load: transformer")
    plan = make_workplace("mains-heater", "tb-ht1", more=((NAME, lamp),)).plan
    assert not goes_by_resistance(plan)


def test_a_unit_cannot_say_that_it_is_a_heater():
    unit = Watched.of(make_workplace())
    with pytest.raises(Refused, match="would ask for less"):
        unit.record(EntryKind.fact, "", "KT", facts={"kind of load": "heater"})


def test_what_smelt_at_first_power_gets_no_second_try_before_a_part_was_mended():
    unit = Watched.of(make_workplace())
    unit.go_to("first-power.signs")
    entry = unit.answer("first-power.signs", AskAnswer(answer="yes, and it is off"))
    unit.go(lambda due: due.kind.value == "repair")
    unit.record(EntryKind.repair, part="knob", done="tightened", opened=[], fault=entry.number)
    assert not {row.id: row.holds for row in unit.state.interlock[Supply.limited]}["cause"]
    unit.record(EntryKind.repair, part="primary", done="rewound", opened=["enclosure"], fault=None)
    assert {row.id: row.holds for row in unit.state.interlock[Supply.limited]}["cause"]
