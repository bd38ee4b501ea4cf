"""What may become of a unit."""

from dataclasses import replace

import pytest

from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import DueKind, StepStatus
from tests.sequences.bench import Refused, Unit


def settle(unit: Unit, word: str) -> None:
    unit.record(EntryKind.disposition, disposition=word, grade="B", price="12.00", note="")


def test_checked_unit_may_be_sold(checked):
    settle(checked, "for sale")
    state = checked.state
    assert state.disposition == "for sale"
    assert state.finished
    assert state.due.kind is DueKind.finished


def test_unchecked_unit_may_not_be_sold(dead_tested):
    with pytest.raises(Refused, match="still to do"):
        settle(dead_tested, "for sale")


def test_unit_with_an_open_fault_may_not_be_sold(checked):
    checked.record(EntryKind.fault, part="low-a-twin", mode="open", words="open joint")
    with pytest.raises(Refused, match="a fault is open: open joint"):
        settle(checked, "for sale")


def test_for_sale_lapses_when_something_befalls_the_unit(checked):
    settle(checked, "for sale")
    checked.record(EntryKind.event, event="fall", note="off the shelf")
    state = checked.state
    assert state.disposition == "quarantine"
    assert not state.finished
    assert state.due.address.startswith("visual-inspection")


def test_nothing_is_sold_on_texts_that_are_looser_than_what_is_shipped(checked):
    settle(checked, "for sale")
    looser = (
        "The texts by which it is tested ask for less than this program: gb.yaml:66:12. Begin a new run of this unit."
    )
    checked.plan = replace(checked.plan, looser=looser)
    assert checked.state.disposition == "quarantine"
    with pytest.raises(Refused, match="ask for less than this program"):
        settle(checked, "for sale")


def test_spares_only_after_the_plug_was_destroyed(unit):
    with pytest.raises(Refused, match="cut off and destroyed"):
        settle(unit, "spares or repair")
    unit.record(EntryKind.plug_destroyed, note="worn")
    settle(unit, "spares or repair")
    assert unit.state.finished
    with pytest.raises(Refused, match="plug was cut off"):
        settle(unit, "for sale")


def test_loudspeaker_has_no_plug_to_destroy():
    from tests.sequences.bench import plan_of

    unit = Unit(plan_of("loudspeaker", "tb-ls1"))
    settle(unit, "spares or repair")


def test_unit_on_hold_waits_for_its_supervisor(unit):
    settle(unit, "hold")
    assert unit.due.kind is DueKind.held
    assert unit.state.held
    settle(unit, "quarantine")
    assert unit.due.kind is DueKind.caution


def test_unknown_disposition_is_refused(unit):
    with pytest.raises(Refused, match="none of quarantine"):
        settle(unit, "lend")


def test_workshop_without_a_tester_opens_limited_supply_by_its_supervisor_alone(without_tester):
    unit = without_tester
    due = unit.go(lambda due: due.kind is DueKind.shut)
    assert due.address == "first-power.limiter"
    assert "supervisor" in due.words
    with pytest.raises(Refused, match="with a reason"):
        unit.record(EntryKind.supervisor_opening, "", "MH", reason="")
    unit.record(EntryKind.supervisor_opening, "", "MH", reason="known design, closed case")
    due = unit.go(lambda due: due.kind is DueKind.shut)
    assert due.address == "live-voltage.plug-in"
    assert "no insulation tester" in due.words


def test_nothing_mains_fed_leaves_for_sale_without_its_insulation_test(without_tester):
    unit = without_tester
    unit.go(lambda due: due.kind is DueKind.shut)
    with pytest.raises(Refused, match="insulation was not tested"):
        settle(unit, "for sale")
    assert "Insulation" in " ".join(unit.state.not_tested)
    assert unit.state.steps["insulation.live-to-case"].status is StepStatus.skipped


def test_supervisors_opening_lapses_with_the_next_repair(without_tester):
    unit = without_tester
    unit.go(lambda due: due.kind is DueKind.shut)
    unit.record(EntryKind.supervisor_opening, "", "MH", reason="known design, closed case")
    unit.record(EntryKind.repair, part="low-a-twin", done="resoldered", opened=[], fault=None)
    due = unit.go(lambda due: due.kind is DueKind.shut)
    assert due.address == "first-power.limiter"


def test_workshop_with_a_tester_has_no_such_opening(dead_tested):
    with pytest.raises(Refused, match="test the insulation instead"):
        dead_tested.record(EntryKind.supervisor_opening, "", "MH", reason="in a hurry")


def test_what_was_not_tested_is_named(unit):
    unit.go_to("insulation.dry")
    assert unit.state.not_tested == (
        "on load",
        "long running",
        "inside of the case",
        "fault current in the earth path",
        "insulation when damp",
        "Insulation",
        "First power, limited",
        "Live voltages",
        "Cleaning",
    )


def test_for_sale_lapses_when_a_dead_test_is_older_than_the_workshop_lets_it_be(checked):
    settle(checked, "for sale")
    checked.wait(days=29)
    assert checked.state.disposition == "for sale"
    checked.wait(days=2)
    state = checked.state
    assert state.disposition == "quarantine"
    assert state.may_sell == "visual-inspection.old-hazards was taken more than 30 days ago"
    assert state.due.address == "visual-inspection.old-hazards"
    assert state.steps["insulation.live-to-case"].why == "taken more than 30 days ago"
    with pytest.raises(Refused, match="taken more than 30 days ago"):
        settle(checked, "for sale")


def test_what_is_kept_is_not_made_undone_by_time(checked):
    settle(checked, "keep")
    checked.wait(days=400)
    assert checked.state.steps["insulation.live-to-case"].status is StepStatus.done
    assert checked.state.disposition == "keep"


def test_what_says_do_not_use_is_not_kept_and_the_reason_is_one_clean_sentence(checked):
    checked.record(EntryKind.fault, part="cord", mode="damaged", words="The cord is cut.", severity="do not use")
    with pytest.raises(Refused, match=r"a fault says do not use: The cord is cut\. Mend it, or put it on hold"):
        settle(checked, "keep")
