"""Every dead test that mains rests on, each left out, aged, failed or overtaken while all others are good."""

import pytest

from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.state import DueKind
from tests.sequences.interlock.edits import EDITS
from tests.sequences.interlock.oracle.files import Files, Step, alike
from tests.sequences.interlock.slips import mended
from tests.sequences.interlock.walking import (
    CLASS_ONE,
    LIMITED,
    ROUTES,
    SELECTOR,
    against,
    assert_open,
    assert_shut,
    dead_steps,
    go_back,
    make_ready,
    near,
    place_of,
    prepare,
    ready,
    retake,
    take,
    topics,
    try_to,
    well,
    withdraw,
)
from tests.sequences.interlock.watched import AskAnswer, EntryKind, Refused, Watched

SHOWN = (
    "visual",
    "plug",
    "polarity",
    "earth continuity",
    "primary continuity",
    "insulation",
    "selector",
    "internal fuse",
)


def roles_of(unit: Watched, address: str) -> set[str]:
    step = unit.files.step(address)
    return set(step.shows) & set(SHOWN) if step is not None else set()


def is_for(files: Files, step: Step) -> bool:
    """Whether the step is for every unit of the design."""
    return all(
        name in files.facts and any(alike(files.facts[name], one) for one in step.when[name]) for name in step.when
    )


DEAD = [
    (route, step.address)
    for route in ROUTES
    for step in place_of(route).files.steps
    if step.shows & set(SHOWN) and not step.live and is_for(place_of(route).files, step)
]


PRIMARY = "primary continuity"


def resting(unit: Watched, address: str) -> set[str]:
    """The conditions that rest on the step: its own, and the insulation on a primary that was shown before it."""
    roles = roles_of(unit, address)
    return roles | {"insulation"} if PRIMARY in roles else roles


def without(unit: Watched, address: str) -> list[str]:
    """What is left out with that step: no insulation test is taken before the primary."""
    tests = [one for one in dead_steps(unit) if "insulation" in roles_of(unit, one)]
    return [address, *tests] if PRIMARY in roles_of(unit, address) else [address]


def test_every_condition_is_shown_by_a_step_of_some_route():
    assert {role for route, address in DEAD for role in roles_of(ready(route), address)} == set(SHOWN)


@pytest.mark.parametrize(("route", "address"), DEAD)
def test_a_dead_test_taken_back_shuts_mains(route, address):
    unit = ready(route)
    withdraw(unit, address)
    looks = {"hazards asked"} if unit.files.step(address).written.get("old hazards") else set()
    assert_shut(unit, LIMITED, *resting(unit, address), *looks)
    unit.go_to(LIMITED)
    assert_open(unit, LIMITED)


@pytest.mark.parametrize("address", [address for route, address in DEAD if route == CLASS_ONE])
def test_a_dead_test_too_many_days_old_shuts_mains_and_the_others_do_not(address):
    unit = ready(CLASS_ONE)
    unit.wait(days=20)
    retake(unit, but=without(unit, address))
    unit.wait(days=10, hours=1)
    make_ready(unit)
    assert_shut(unit, LIMITED, *resting(unit, address))


MISHAPS = ("fall", "damp", "wet cleaning")
AFTER_MISHAPS = [(a, MISHAPS[n % 3]) for n, a in enumerate(a for route, a in DEAD if route == SELECTOR)]


@pytest.mark.parametrize(("address", "event"), AFTER_MISHAPS)
def test_a_dead_test_from_before_a_mishap_shuts_mains(address, event):
    unit = ready(SELECTOR)
    unit.record(EntryKind.event, event=event, note="")
    retake(unit, but=without(unit, address))
    make_ready(unit)
    assert_shut(unit, LIMITED, *resting(unit, address))
    unit.go_to(LIMITED)
    assert_open(unit, LIMITED)


@pytest.mark.parametrize("event", ["damp", "wet cleaning"])
@pytest.mark.parametrize("route", ROUTES)
def test_after_damp_mains_waits_until_it_is_dry(route, event):
    unit = ready(route)
    unit.record(EntryKind.event, event=event, note="")
    retake(unit, but=["insulation.dry"])
    make_ready(unit)
    assert_shut(unit, LIMITED, "dry")
    take(unit, "insulation.dry")
    unit.go_to(LIMITED)
    assert_open(unit, LIMITED)


REPAIRS = [
    ("continuity.earth", "case-bond", ()),
    ("continuity.earth", "cord", ()),
    ("continuity.primary", "primary", ()),
    ("continuity.live-earth", "cord-live", ()),
    ("continuity.primary", "plug-fuse", ()),
    ("insulation.live-to-case", "low", ()),
    ("insulation.live-to-outputs", "low", ("enclosure",)),
    ("visual-inspection.outside", "knob", ("enclosure",)),
    ("plug-rewire.plug-inside", "knob", ("plug",)),
    ("plug-rewire.close", "cord-neutral", ()),
]


@pytest.mark.parametrize(("address", "part", "opened"), REPAIRS)
def test_a_dead_test_from_before_a_repair_shuts_mains(address, part, opened):
    unit = ready(CLASS_ONE)
    unit.record(EntryKind.repair, part=part, done="mended", opened=list(opened), fault=None)
    retake(unit, but=without(unit, address))
    make_ready(unit)
    assert_shut(unit, LIMITED, *resting(unit, address))
    unit.go_to(LIMITED)
    assert_open(unit, LIMITED)


@pytest.mark.parametrize("opened", ["cord", "plug", "enclosure"])
@pytest.mark.parametrize("address", ["visual-inspection.outside", "continuity.earth", "insulation.live-to-outputs"])
def test_a_dead_test_from_before_an_opening_shuts_mains(address, opened):
    unit = ready(CLASS_ONE)
    unit.record(EntryKind.opened, opened=[opened], why="to look")
    retake(unit, but=without(unit, address))
    make_ready(unit)
    assert_shut(unit, LIMITED, *resting(unit, address))


@pytest.mark.parametrize("address", ["continuity.live-earth", "continuity.primary"])
def test_a_dead_test_so_near_its_limit_that_the_meter_cannot_tell_shuts_mains(address):
    unit = ready(CLASS_ONE)
    near(unit, address)
    make_ready(unit)
    assert str(unit.state.steps[address].judgement).startswith("conditional")
    assert roles_of(unit, address) <= topics(against(unit, LIMITED))
    with pytest.raises(Refused):
        well(unit, LIMITED)


BAD = [
    ("continuity.earth", "0.16 ohm"),
    ("continuity.live-earth", "0.9 Mohm"),
    ("continuity.primary", "600 ohm"),
    ("continuity.primary", "OL"),
    ("continuity.primary", "3 ohm"),
    ("insulation.live-to-case", "0.98 Mohm"),
]


@pytest.mark.parametrize(("address", "typed"), BAD)
def test_a_dead_test_that_fails_shuts_mains(address, typed):
    unit = ready(CLASS_ONE)
    take(unit, address, typed)
    if unit.state.energised:
        go_back(unit)
    make_ready(unit)
    found = topics(against(unit, LIMITED))
    assert roles_of(unit, address) <= found <= roles_of(unit, address) | {"faults", "insulation"}
    with pytest.raises(Refused):
        well(unit, LIMITED)
    mended(unit)
    retake(unit)
    make_ready(unit)
    assert_open(unit, LIMITED)


@pytest.mark.parametrize("address", ["visual-inspection.selector", "visual-inspection.inside-fuse"])
def test_a_selector_or_an_inside_fuse_that_is_wrong_shuts_mains(address):
    unit = ready(SELECTOR)
    wrong = next(one.answer for one in unit.plan.step(address).model.answers if one.judgement == "fail")
    unit.answer(address, AskAnswer(answer=wrong))
    assert_shut(unit, LIMITED, *roles_of(unit, address), "faults")


def test_a_primary_read_without_its_set_up_shows_nothing():
    """The fuse was out for the step before: what is read then is not the primary."""
    unit = ready(CLASS_ONE)
    withdraw(unit, "continuity.primary")
    unit.record(EntryKind.set_up, "continuity.fuse-out", items=["switch on", "fuse out"])
    try_to(lambda: unit.reads("continuity.primary", "480 ohm"))
    assert_shut(unit, LIMITED, PRIMARY, "polarity", "insulation")


ASKING_FOR_LESS = [
    (CLASS_ONE, {"class": "II"}),
    (CLASS_ONE, {"plug": "moulded"}),
    (CLASS_ONE, {"surge suppressor": "yes"}),
    (CLASS_ONE, {"mains fed": "no"}),
    ("class II", {"plug fuse": "no"}),
    (SELECTOR, {"internal fuse": "no"}),
    (SELECTOR, {"voltage selector": "no"}),
    (SELECTOR, {"bare metal": "no"}),
]


@pytest.mark.parametrize(("route", "facts"), ASKING_FOR_LESS)
def test_what_one_person_says_at_intake_asks_for_no_less(route, facts):
    """Whatever the program makes of it, the oracle has nothing against any step on the way to mains."""
    unit = Watched.of(place_of(route))
    try_to(lambda: unit.record(EntryKind.fact, "", "KT", facts=facts))
    if facts == {"plug": "moulded"}:
        unit.go_to("visual-inspection.plug")
        unit.answer("visual-inspection.plug", AskAnswer(answer="moulded"))
    unit.go_to(LIMITED)
    assert_open(unit, LIMITED)


@pytest.mark.parametrize(
    ("edit", "role"),
    [
        ("a tip that no earth reading reaches", "earth continuity"),
        ("a tip that no insulation test reaches", "insulation"),
        ("outputs never tested", "insulation"),
    ],
)
def test_what_can_be_touched_and_no_step_reads_keeps_mains_away(edit, role):
    unit = Watched.of(place_of(CLASS_ONE, EDITS[edit], ordered=True))
    unit.go(lambda due: due.kind is DueKind.shut)
    row = next(one for one in unit.state.interlock[Supply.limited] if one.id == role)
    assert "no step of this route" in row.why


@pytest.mark.parametrize(("typed", "opens"), [("1.3 Mohm", False), ("20 Mohm", True)])
def test_insulation_to_an_output_is_held_to_the_barrier_where_that_asks_for_more(typed, opens):
    """The table asks for 1 Mohm of class I, the design for 2 Mohm between mains and its outlet."""
    unit = ready(CLASS_ONE)
    take(unit, "insulation.live-to-outputs", typed)
    go_back(unit)
    make_ready(unit)
    prepare(unit, LIMITED)
    if opens:
        assert_open(unit, LIMITED)
    else:
        assert against(unit, LIMITED)
        with pytest.raises(Refused):
            well(unit, LIMITED)
