"""Hazards of old equipment, scrap and keep: what each file shuts stays shut, and only who may opens it again."""

import pytest

from tests.sequences.interlock.slips import cleared, record
from tests.sequences.interlock.walking import (
    CLASS_ONE,
    LIMITED,
    against,
    assert_open,
    place_of,
    ready,
    take,
    topics,
    well,
    withdraw,
)
from tests.sequences.interlock.watched import AskAnswer, EntryKind, InspectAnswer, Refused, Watched

SUPERVISOR = "SV"
LOOK = "visual-inspection.old-hazards"


def find(unit: Watched, hazard: str) -> None:
    """A fault of that kind, as a person records it who has seen it."""
    said = {"part": "enclosure", "mode": "", "words": "There it is.", "severity": "do not use", "old_hazard": hazard}
    unit.record(EntryKind.fault, **said)


def refused(unit: Watched, kind: EntryKind, *, topic: str, address: str = "", **said: object) -> str:
    """The sentence with which the program refuses what the oracle has this one thing against."""
    assert topic in topics(unit.against(kind.value, address, **said))
    with pytest.raises(Refused) as no:
        unit.record(kind, address, **said)
    return str(no.value)


def test_with_asbestos_nobody_lays_a_hand_on_it():
    unit = ready(CLASS_ONE)
    find(unit, "asbestos")
    for kind, said in (
        (EntryKind.repair, {"part": "low", "done": "mended", "opened": [], "fault": None}),
        (EntryKind.opened, {"opened": ["enclosure"]}),
        (EntryKind.plug_destroyed, {}),
    ):
        assert "Nobody works on" in refused(unit, kind, topic="old hazard", **said).replace(
            "It is not opened", "Nobody works on"
        )
    assert topics(against(unit, "visual-inspection.outside")) == {"old hazard"}
    with pytest.raises(Refused, match="Nobody works on this unit"):
        well(unit, "visual-inspection.outside")
    assert unit.due.kind.value == "held"
    assert "double" in unit.due.words or "two bags" in unit.due.words


def test_asbestos_goes_to_scrap_in_its_bags_with_the_plug_on_and_never_to_spares():
    unit = ready(CLASS_ONE)
    find(unit, "asbestos")
    assert "Nobody works" in refused(unit, EntryKind.disposition, topic="old hazard", disposition="spares or repair")
    assert "do not use" in refused(unit, EntryKind.disposition, topic="keep", disposition="keep")
    unit.record(EntryKind.disposition, disposition="scrap", note="beyond mending")
    assert unit.state.disposition == "scrap"


def test_a_case_that_a_hazard_keeps_shut_is_not_opened_and_dead_tests_go_on():
    unit = ready(CLASS_ONE)
    find(unit, "mineral-oil")
    assert "It is not opened" in refused(unit, EntryKind.opened, topic="old hazard", opened=["enclosure"])
    assert "It is not opened" in refused(
        unit, EntryKind.repair, topic="old hazard", part="primary", done="new", opened=[], fault=None
    )
    take(unit, "visual-inspection.outside")


def test_a_second_look_does_not_unsee_what_was_found():
    unit = ready(CLASS_ONE)
    points = unit.good(unit.plan.step(LOOK)).marks
    unit.answer(LOOK, InspectAnswer(marks={**points, "thermal-link": "bad"}))
    withdraw(unit, LOOK)
    take(unit, LOOK)
    assert "old hazard" in topics(against(unit, LIMITED))
    with pytest.raises(Refused, match="thermal link"):
        well(unit, LIMITED)


def test_a_perished_cord_is_replaced_and_looked_at_again_and_mains_opens():
    unit = ready(CLASS_ONE)
    points = unit.good(unit.plan.step(LOOK)).marks
    found = unit.answer(LOOK, InspectAnswer(marks={**points, "perished-cord": "bad"}))
    assert unit.due.kind.value == "repair"
    unit.record(EntryKind.repair, part="cord", done="new cord", opened=["cord", "plug"], fault=found.number)
    unit.go_to(LIMITED)
    assert_open(unit, LIMITED)


def test_of_two_hazards_of_one_look_only_the_cleared_one_is_gone():
    unit = ready(CLASS_ONE)
    points = unit.good(unit.plan.step(LOOK)).marks
    unit.answer(LOOK, InspectAnswer(marks={**points, "asbestos": "bad", "perished-cord": "bad"}))
    cleared(unit)
    assert [one.old_hazard for one in unit.state.faults if one.status.value != "closed"] == ["perished-cord"]


def test_a_hazard_is_cleared_by_a_supervisor_with_a_reason_and_by_nobody_else():
    unit = ready(CLASS_ONE)
    find(unit, "asbestos")
    fault = unit.state.faults[-1].entry
    said = {"hazard": "asbestos", "fault": fault, "reason": "glass fibre, seen by the surveyor"}
    with pytest.raises(Refused, match="may not do what a supervisor does"):
        unit.record(EntryKind.hazard_cleared, "", "KT", **said)
    with pytest.raises(Refused, match="Say how"):
        unit.record(EntryKind.hazard_cleared, "", SUPERVISOR, **{**said, "reason": " "})
    with pytest.raises(Refused, match="not open on the unit"):
        unit.record(EntryKind.hazard_cleared, "", SUPERVISOR, **{**said, "hazard": "mercury"})
    unit.record(EntryKind.hazard_cleared, "", SUPERVISOR, **said)
    unit.go_to(LIMITED)
    assert_open(unit, LIMITED)


@pytest.mark.parametrize(
    ("hazard", "severity", "said"),
    [
        ("asbestoss", "do not use", "There is no hazard"),
        ("lead-solder", "do not use", "is taken to be in every"),
        ("asbestos", "mend", "and no less"),
    ],
)
def test_a_finding_is_of_a_hazard_that_there_is_and_never_milder_than_do_not_use(hazard, severity, said):
    unit = ready(CLASS_ONE)
    with pytest.raises(Refused, match=said):
        record(EntryKind.fault, part="", mode="", words="There.", severity=severity, old_hazard=hazard)(unit)


def test_scrap_asks_for_the_plug_to_be_destroyed_first_as_spares_do():
    unit = ready(CLASS_ONE)
    for word in ("scrap", "spares or repair"):
        said = {"disposition": word, "note": "beyond mending"}
        assert "cut off and destroyed" in refused(unit, EntryKind.disposition, topic="plug", **said)
    unit.record(EntryKind.plug_destroyed, note="cut and crushed")
    unit.record(EntryKind.disposition, disposition="scrap", note="beyond mending")
    assert unit.state.disposition == "scrap"


def test_what_says_do_not_use_is_not_kept():
    unit = ready(CLASS_ONE)
    unit.record(EntryKind.fault, part="cord", mode="damaged", words="The cord is cut.", severity="do not use")
    said = refused(unit, EntryKind.disposition, topic="keep", disposition="keep")
    assert "The cord is cut" in said
    assert "Mend it, or put it on hold" in said


def test_what_only_wants_mending_may_be_kept():
    unit = ready(CLASS_ONE)
    unit.record(EntryKind.fault, part="finish", mode="worn", words="It is worn.", severity="mend")
    unit.record(EntryKind.disposition, disposition="keep")
    assert unit.state.disposition == "keep"


def test_a_wet_cleaning_given_as_an_answer_is_one():
    """In use nothing was recorded, and the unit was for sale 13 s later."""
    unit = Watched.of(place_of(CLASS_ONE, ordered=True))
    unit.go_to("clean.how")
    unit.answer("clean.how", AskAnswer(answer="wet"))
    with pytest.raises(Refused, match="cannot be marked"):
        unit.record(EntryKind.disposition, "", "MH", disposition="for sale")
    assert {"visual", "insulation", "dry"} <= topics(against(unit, LIMITED))
    with pytest.raises(Refused, match="Mains stays away"):
        well(unit, LIMITED)
    assert unit.go(lambda due: due.address == "insulation.dry").address == "insulation.dry"
    unit.finish()
    unit.record(EntryKind.disposition, "", "MH", disposition="for sale")


def test_a_wet_cleaning_taken_back_has_wetted_it_all_the_same():
    unit = Watched.of(place_of(CLASS_ONE, ordered=True))
    unit.go_to("clean.how")
    unit.withdraw(unit.answer("clean.how", AskAnswer(answer="wet")))
    for caution in ("unplugged-work", "solvents"):
        unit.record(EntryKind.caution, caution=caution)
    take(unit, "clean.how")
    assert "dry" in topics(against(unit, LIMITED))
    with pytest.raises(Refused, match="cannot be marked"):
        unit.record(EntryKind.disposition, "", "MH", disposition="for sale")


def test_a_plug_is_said_to_be_on_after_all_only_with_a_reason():
    unit = ready(CLASS_ONE)
    unit.record(EntryKind.plug_destroyed, note="cracked")
    assert "Say why" in refused(unit, EntryKind.plug_kept, topic="reason", why=" ")
    unit.record(EntryKind.plug_kept, why="it was the next unit's")
