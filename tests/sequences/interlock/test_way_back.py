"""From power back to hands: plug out, discharged, voltage proved low, in this order, before any ohms."""

import pytest

from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.state import DueKind
from tests.people import staffed
from tests.sequences.bench import BACK, Refused, Unit, catalogue


def do(unit: Unit, address: str) -> None:
    unit.do(address) if address in BACK else unit.answer(address, unit.good(unit.plan.step(address)))


@pytest.fixture
def powered(dead_tested: Unit) -> Unit:
    """A unit on limited supply."""
    dead_tested.go_to("first-power.current")
    return dead_tested


def test_answering_a_live_step_energises(powered):
    assert powered.state.energised


def test_withdrawing_a_live_answer_does_not_make_it_safe(powered):
    powered.withdraw(powered.state.history["first-power.plug-in"][-1])
    assert powered.state.energised


def test_failing_a_live_step_does_not_make_it_safe(powered):
    powered.go_to("first-power.current")
    powered.reads("first-power.current", "0.2 A")
    assert powered.state.energised


def test_insulation_test_leaves_charge(unit):
    unit.go_to("insulation.live-to-case")
    assert not unit.state.energised
    do(unit, "insulation.live-to-case")
    assert unit.state.energised


@pytest.mark.parametrize("address", ["continuity.primary", "continuity.leads-before", "visual-inspection.outside"])
def test_no_ohms_and_no_hands_after_power(powered, address):
    with pytest.raises(Refused, match="Go the way back first"):
        do(powered, address)


def test_no_insulation_test_on_a_unit_that_was_on_mains(powered):
    items = [*powered.plan.step("insulation.live-to-case").set_up, "tester at 500 V"]
    with pytest.raises(Refused, match="Go the way back first"):
        powered.record(EntryKind.set_up, "insulation.live-to-case", items=items)
    with pytest.raises(Refused, match="Go the way back first"):
        do(powered, "insulation.live-to-case")


def test_one_insulation_test_may_follow_another(unit):
    unit.go_to("insulation.live-to-outputs")
    assert unit.state.energised
    do(unit, "insulation.live-to-outputs")


def test_nothing_is_opened_or_mended_before_the_way_back(powered):
    with pytest.raises(Refused, match="Go the way back first"):
        powered.record(EntryKind.opened, opened=["enclosure"])
    with pytest.raises(Refused, match="Go the way back first"):
        powered.record(EntryKind.repair, part="primary", done="x", opened=[], fault=None)
    with pytest.raises(Refused, match="Go the way back first"):
        powered.record(EntryKind.plug_destroyed)


def test_way_back_is_gone_in_its_order(powered):
    with pytest.raises(Refused, match=r"make-safe\.unplug"):
        do(powered, "make-safe.discharge")
    do(powered, "make-safe.unplug")
    with pytest.raises(Refused, match=r"make-safe\.discharge"):
        powered.reads("make-safe.low", "0.0 V")
    do(powered, "make-safe.discharge")
    with pytest.raises(Refused, match=r"make-safe\.low-to-touched"):
        powered.reads("make-safe.low", "0.0 V")
    for address in BACK[2:-2]:
        do(powered, address)
        assert powered.state.energised
    powered.reads("make-safe.low", "0.0 V")
    assert powered.state.energised  # a meter that died would have read nothing too
    do(powered, "make-safe.prove-again")
    assert not powered.state.energised
    do(powered, "visual-inspection.outside")


def test_way_back_counts_only_for_what_was_before_it(powered):
    for address in BACK[:-2]:
        do(powered, address)
    powered.reads("make-safe.low", "0.0 V")
    do(powered, "first-power.plug-in")
    assert powered.state.energised


def test_charge_that_is_still_there_sends_back_to_the_beginning(powered):
    for address in BACK[:-2]:
        do(powered, address)
    powered.reads("make-safe.low", "60 V")
    assert powered.state.energised
    due = powered.go(lambda due: due.kind is not DueKind.step)
    assert due.kind is DueKind.way_back or due.kind is DueKind.fault
    with pytest.raises(Refused, match=r"make-safe\.unplug"):
        powered.reads("make-safe.low", "0.0 V")


def test_charge_between_the_joined_pins_and_the_case_sends_back_to_the_beginning(powered):
    for address in ("make-safe.unplug", "make-safe.discharge"):
        do(powered, address)
    powered.prepare(powered.plan.step(BACK[2]))
    powered.reads(BACK[2], "-120 V")
    with pytest.raises(Refused, match=r"make-safe\.unplug"):
        powered.reads("make-safe.low", "0.0 V")


def test_withdrawn_way_back_is_none(powered):
    for address in BACK[:-2]:
        do(powered, address)
    low = powered.reads("make-safe.low", "0.0 V")
    powered.withdraw(low)
    assert powered.state.energised


@pytest.mark.parametrize("step", ["unplug", "discharge", "low-to-touched/case", "low-outputs", "low"])
def test_no_mains_after_an_insulation_test_whose_way_back_was_taken_back(dead_tested, step):
    """Pins that nobody says were taken apart any more are joined: they never meet a socket."""
    dead_tested.withdraw(dead_tested.state.history[f"make-safe.{step}"][-1])
    dead_tested.record(EntryKind.caution, caution="mains-live")
    dead_tested.hold("tb-pm1")
    with pytest.raises(Refused, match="Go the way back first"):
        do(dead_tested, "first-power.plug-in")


def test_no_mains_onto_a_charge_that_was_read_since_the_way_back(dead_tested):
    dead_tested.prepare(dead_tested.plan.step("make-safe.low-to-touched/case"))
    dead_tested.reads("make-safe.low-to-touched/case", "-120 V")
    dead_tested.record(EntryKind.caution, caution="mains-live")
    dead_tested.hold("tb-pm1")
    with pytest.raises(Refused, match="Go the way back first"):
        do(dead_tested, "first-power.plug-in")


def test_from_limited_to_full_mains_no_way_back_is_asked_for(powered):
    """The way back that followed the insulation test serves until the next one."""
    powered.go_to("live-voltage.plug-in")
    assert powered.state.energised
    do(powered, "live-voltage.plug-in")


def test_every_action_of_the_way_back_must_be_confirmed(powered):
    with pytest.raises(Refused, match="Still to do"):
        powered.answer("make-safe.unplug", WorkAnswer(done=("Off at the wall.",)))


def test_way_back_is_called_up_when_nothing_live_is_left(dead_tested):
    due = dead_tested.go(lambda due: due.kind is DueKind.way_back)
    assert due.address == "make-safe.unplug"
    assert dead_tested.state.steps["live-voltage.off"].status.value == "done"


def test_way_back_is_called_up_before_a_repair(powered):
    powered.go_to("first-power.current")
    powered.reads("first-power.current", "0.2 A")
    assert powered.due.kind is DueKind.way_back


def test_unit_that_is_still_energised_is_not_for_sale(powered):
    powered.go(lambda due: due.kind is DueKind.way_back)
    with pytest.raises(Refused, match=r"way back|still to do"):
        powered.record(EntryKind.disposition, disposition="for sale", grade="", price="")


@pytest.mark.parametrize("role", ["plug out", "discharged"])
def test_a_way_back_without_one_of_its_three_leads_to_no_insulation_test_either(powered, role):
    """The low voltage alone, proved by a file that leaves out the plug or the discharge, is no way back."""
    text = catalogue().texts["sequences/make-safe.yaml"].replace(f"    shows: [{role}]\n", "")
    texts = {**catalogue().texts, "sequences/make-safe.yaml": text}
    for address in BACK:
        do(powered, address)
    weak = Unit(plan=make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", staffed()))
    weak.entries, weak.now = list(powered.entries), powered.now
    weak.record(EntryKind.caution, caution="insulation-test")
    weak.hold("tb-it1")
    items = [*weak.plan.step("insulation.live-to-case").set_up, "tester at 500 V"]
    with pytest.raises(Refused, match="Go the way back first"):
        weak.record(EntryKind.set_up, "insulation.live-to-case", items=items)


def test_whoever_stopped_in_the_middle_of_a_live_stage_plugs_it_in_again_first(dead_tested):
    dead_tested.go_to("live-voltage.mains")
    for address in BACK:
        dead_tested.do(address)
    due = dead_tested.due
    assert due.address == "live-voltage.plug-in"
    assert dead_tested.state.steps[due.address].why == "its plug came out since"
    dead_tested.go_to("live-voltage.mains")
    dead_tested.reads("live-voltage.mains", "240.0 V")
    assert dead_tested.state.steps["live-voltage.plug-in"].holds


def test_what_was_unplugged_after_its_last_live_reading_is_not_plugged_in_again(dead_tested):
    dead_tested.finish()
    assert dead_tested.due.kind is DueKind.finished
