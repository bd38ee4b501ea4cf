"""Every shipped route plays a sound unit of every design that fits it to its sale, with either kind of plug."""

import pytest

from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import DueKind, StageStatus
from tests.sequences.bench import Refused, Unit, catalogue, plan_of

CORES = "visual-inspection.unused-earth-core"
"""the step that asks where an earth core of a double insulated item ends"""
PLUG = "visual-inspection.plug"
"""the step that asks which plug is on the unit"""


LIMITER = "first-power.limiter"
"""the step that asks what limits first power"""
UNKNOWN = "unknown-mains-item"
"""the design, and the route of it, of what nobody knows the inside of"""


def played() -> list[tuple[str, str, str]]:
    """Route, design and kind of plug; no plug is asked for where nothing takes mains."""
    found = []
    for name, route in catalogue().routes.items():
        for design, equipment in catalogue().equipment.items():
            facts = equipment.facts()
            if design not in route.equipment and not (route.fits and applies(route.fits, facts)[0]):
                continue
            if not equipment.design_known:
                continue
            plugs = ("rewirable", "moulded") if facts["mains fed"] else ("none",)
            found += [(name, design, plug) for plug in plugs]
    return found


@pytest.mark.parametrize(("route", "design", "plug"), played())
def test_a_sound_unit_goes_all_the_way_to_its_sale(route, design, plug):
    unit = Unit(plan_of(route, design))
    if plug == "moulded":
        unit.go_to(PLUG)
        unit.answer(PLUG, AskAnswer(answer=plug))
        unit.record(EntryKind.fact, "", "AB", facts={"plug": plug})
    if unit.plan.facts.get("kind of load") == "heater" and LIMITER in unit.plan.by_address:
        unit.go_to(LIMITER)
        unit.answer(LIMITER, AskAnswer(answer="variable transformer"))  # no lamp can judge a heater
    unit.finish()
    assert unit.state.complete
    assert unit.state.faults == ()
    assert unit.state.facts.get("plug", "none") == plug
    assert {stage.status for stage in unit.state.stages} <= {StageStatus.done, StageStatus.skipped}
    unit.record(EntryKind.disposition, disposition="for sale")
    assert unit.state.disposition == "for sale"


def test_every_shipped_route_and_every_shipped_design_is_played():
    unknown = {design for design, equipment in catalogue().equipment.items() if not equipment.design_known}
    assert unknown == {UNKNOWN}
    assert {route for route, _, _ in played()} == set(catalogue().routes) - unknown
    assert {design for _, design, _ in played()} == set(catalogue().equipment) - unknown


def test_a_sound_unit_whose_design_nobody_knows_ends_with_a_way_on_that_is_no_sale():
    unit = Unit(plan_of(UNKNOWN, UNKNOWN))
    unit.finish()
    with pytest.raises(Refused, match="it goes for spares, is scrapped, or stays here"):
        unit.record(EntryKind.disposition, disposition="for sale")
    unit.record(EntryKind.plug_destroyed, note="of unknown design")
    unit.record(EntryKind.disposition, disposition="spares or repair")
    assert unit.state.disposition == "spares or repair"


def test_of_a_moulded_plug_the_outside_and_the_fuse_are_left():
    """On a rewirable design too, once two people say so; one alone is told the two ways on."""
    unit = Unit(plan_of())
    unit.go_to(PLUG)
    unit.answer(PLUG, AskAnswer(answer="moulded"))
    assert str(unit.state.steps["plug-rewire.plug-inside"].status) == "open"
    unit.record(EntryKind.fact, "", "AB", facts={"plug": "moulded"})
    states = unit.state.steps
    assert str(states["plug-rewire.plug-inside"].status) == "skipped"
    assert str(states["plug-rewire.plug-outside"].status) == "open"


def test_an_unused_earth_core_whose_end_was_seen_keeps_no_double_insulated_item_from_its_sale():
    unit = Unit(plan_of("mains-unit", "tb-mu2"))
    unit.go_to(CORES)
    words = "three, and somebody saw the earth core end insulated in the item, or parked by itself"
    unit.answer(CORES, AskAnswer(answer=words))
    unit.finish()
    unit.record(EntryKind.disposition, disposition="for sale")
    assert unit.state.disposition == "for sale"


@pytest.mark.parametrize(
    "words",
    ["three, and nobody has seen where the earth core ends", "three, and the earth core is joined to something inside"],
)
def test_an_earth_core_that_may_be_joined_inside_keeps_mains_away_from_double_insulation(words):
    unit = Unit(plan_of("mains-unit", "tb-mu2"))
    unit.go_to(CORES)
    unit.answer(CORES, AskAnswer(answer=words))
    assert unit.due.kind is DueKind.repair or unit.due.kind is DueKind.fault
    rows = {row.id: row for row in unit.state.interlock[Supply.limited]}
    assert not rows["faults"].holds
