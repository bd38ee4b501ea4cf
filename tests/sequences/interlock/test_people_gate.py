"""What only some people may record: live work, acceptances, "for sale", and the end of a supervisor's hold."""

from dataclasses import replace

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.interlock.people_gate import is_accepted
from benchapp.sequences.planning.entries import Accepted, EntryKind
from benchapp.sequences.planning.state import DueKind
from tests.people import PEOPLE, staffed
from tests.sequences.bench import Refused, Unit, plan_of


def worked_by(unit: Unit, people) -> Unit:
    """The same unit where these people are on the list."""
    return Unit(plan=replace(unit.plan, workshop=staffed(people=people)), entries=list(unit.entries), now=unit.now)


def plug_in(unit: Unit, by: str):
    unit.go_to("first-power.plug-in")
    step = unit.plan.step("first-power.plug-in")
    unit.record(EntryKind.caution, "", by, caution="mains-live")
    tried = evaluate(unit.plan, unit.state, step.address, unit.good(step), at=unit.at)
    return unit.record_content(EntryKind.answer, tried.content, step.address, by)


@pytest.mark.parametrize(
    ("by", "words"),
    [("ZZ", "not on the list of people"), ("NH", "may not work on a unit"), ("O.R.", "ended on 2026-01-31")],
)
def test_live_work_asks_for_the_right(dead_tested, by, words):
    unit = dead_tested
    with pytest.raises(Refused, match=words):
        plug_in(unit, by)
    assert plug_in(unit, "EF")


def test_with_nobody_on_the_list_dead_work_goes_and_live_work_does_not():
    unit = Unit(plan_of(workshop=staffed(people=())))
    due = unit.go(lambda due: due.kind is DueKind.step and due.address.startswith("first-power"))
    with pytest.raises(Refused, match="nobody is on the list of people yet"):
        unit.settle(due)


def test_live_rights_end_with_their_day(dead_tested):
    def until(day):
        return worked_by(dead_tested, (*PEOPLE[:2], replace(PEOPLE[2], until=day), *PEOPLE[3:]))

    with pytest.raises(Refused, match="ended on 2026-05-31"):
        plug_in(until("2026-05-31"), "EF")
    assert plug_in(until(dead_tested.at[:10]), "EF")


def test_whoever_may_not_work_live_still_goes_the_way_back(dead_tested):
    unit = dead_tested
    plug_in(unit, "KT")
    unplug = unit.plan.way_back[0]
    tried = evaluate(unit.plan, unit.state, unplug.address, unit.good(unplug), at=unit.at)
    assert unit.record_content(EntryKind.answer, tried.content, unplug.address, "ZZ")


def test_a_sale_asks_for_the_right_of_sign_off(checked):
    with pytest.raises(Refused, match=r"Edda Finch \(EF\) may not sign a unit off for sale"):
        checked.record(EntryKind.disposition, "", "EF", disposition="for sale")
    assert checked.record(EntryKind.disposition, "", "AB", disposition="for sale")


def test_a_supervisors_hold_is_lifted_by_a_supervisor_with_a_reason(unit):
    unit.record(EntryKind.disposition, "", "SV", disposition="hold")
    for word in ("quarantine", "keep"):
        with pytest.raises(Refused, match="SV holds this unit as its supervisor"):
            unit.record(EntryKind.disposition, "", "KT", disposition=word, note="it is fine")
    unit.record(EntryKind.disposition, "", "KT", disposition="hold")
    with pytest.raises(Refused, match="SV holds this unit"):
        unit.record(EntryKind.disposition, "", "KT", disposition="quarantine", note="it is fine")
    with pytest.raises(Refused, match="say why the hold is lifted"):
        unit.record(EntryKind.disposition, "", "CD", disposition="quarantine")
    assert unit.record(EntryKind.disposition, "", "CD", disposition="quarantine", note="the cord was changed")
    assert unit.record(EntryKind.disposition, "", "KT", disposition="keep")


def test_a_technicians_hold_is_lifted_by_a_technician(unit):
    unit.record(EntryKind.disposition, "", "AB", disposition="hold")
    assert unit.record(EntryKind.disposition, "", "KT", disposition="quarantine")


def test_a_supervisor_on_the_list_accepts_what_else_is_refused_with_a_reason(unit):
    what = Accepted.lower_rating
    for by, reason, words in (("KT", "sound", "may not do what"), ("SV", " ", "Say why"), ("ZZ", "sound", "not on")):
        with pytest.raises(Refused, match=words):
            unit.record(EntryKind.acceptance, "", by, what=what.value, reason=reason)
    with pytest.raises(Refused, match="is none of"):
        unit.record(EntryKind.acceptance, "", "SV", what="anything", reason="sound")
    assert not is_accepted(unit.state.evaluation, what)
    unit.record(EntryKind.acceptance, "", "SV", what=what.value, reason="rated 220 to 240 V by its maker")
    assert is_accepted(unit.state.evaluation, what)


@pytest.mark.parametrize("by", ["EF", "AB", "NH", "ZZ"])
def test_limited_supply_without_a_tester_is_opened_by_a_supervisor_alone(by):
    unit = Unit(plan_of(workshop=staffed(insulation_tester=False)))
    unit.go(lambda due: due.kind is DueKind.shut)
    with pytest.raises(Refused, match=r"not on the list of people|may not"):
        unit.record(EntryKind.supervisor_opening, "", by, reason="a known design")
    assert unit.record(EntryKind.supervisor_opening, "", "SV", reason="a known design")
