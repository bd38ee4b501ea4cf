"""Ways round way back and interlock by what is said of a unit: its class, its own lead; each is shut now."""

import pytest

from benchapp.sequences.interlock.fold import fold
from benchapp.sequences.interlock.free_probes import FreeProbe, probe_content
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import DueKind, StepStatus
from tests.sequences.bench import BACK, Refused, Unit, plan_of
from tests.sequences.weakened import complaints, plan_with

LEAD = ("continuity.lead/plug.L-mains.L", "continuity.lead/plug.N-mains.N", "continuity.lead/plug.E-chassis")
TESTED = ("insulation.live-to-case", "continuity.earth", "continuity.primary", "continuity.fuse-out")
TO_CASE = "make-safe.low-to-touched/case"


def do(unit: Unit, address: str) -> None:
    unit.do(address) if address.startswith("make-safe") else unit.answer(address, unit.good(unit.plan.step(address)))


def status(unit: Unit, address: str) -> StepStatus:
    return unit.state.steps[address].status


@pytest.fixture
def with_lead() -> Unit:
    """A unit whose lead comes off, every dead test done."""
    unit = Unit(plan=plan_of())
    unit.record(EntryKind.fact, facts={"detachable lead": "yes"})
    unit.go_to("first-power.plug-in")
    return unit


class TestChargeThatAFactCannotTalkAway:
    @pytest.mark.parametrize("kind", ["unknown", "0", "III"])
    def test_a_class_said_after_the_insulation_test_leaves_the_case_to_be_measured(self, kind):
        unit = Unit(plan=plan_of())
        unit.go_to("insulation.live-to-outputs")
        unit.record(EntryKind.fact, facts={"class": kind})
        do(unit, "make-safe.unplug")
        do(unit, "make-safe.discharge")
        with pytest.raises(Refused, match=r"make-safe\.low-to-touched"):
            do(unit, "make-safe.low")
        assert unit.due.address == TO_CASE
        for address in BACK[2:]:
            do(unit, address)
        assert not unit.state.energised

    @pytest.mark.parametrize("kind", ["II", "unknown"])
    def test_nor_does_a_class_that_is_found_after_the_test_on_a_design_of_none(self, tmp_path, kind):
        edit = ("class: I ", "class: unknown ")
        unit = Unit(plan=plan_with(tmp_path, "resources/equipment/tb-mu1.yaml", edit))
        unit.record(EntryKind.fact, facts={"class": "I"})
        unit.go_to("insulation.live-to-outputs")
        unit.record(EntryKind.fact, facts={"class": kind})
        do(unit, "make-safe.unplug")
        do(unit, "make-safe.discharge")
        with pytest.raises(Refused, match=r"make-safe\.low-to-touched"):
            do(unit, "make-safe.low")


class TestALeadThatWasOff:
    def test_is_off_once_its_set_up_is_confirmed_whether_or_not_it_is_read(self, with_lead):
        with_lead.record(EntryKind.set_up, LEAD[1], items=["lead off"])
        assert {status(with_lead, address) for address in TESTED} == {StepStatus.stale}
        with pytest.raises(Refused):
            do(with_lead, "first-power.plug-in")

    def test_is_off_for_a_probe_of_a_search_too(self, with_lead):
        given = FreeProbe(a="plug.L", b="mains.L", typed="0.1")
        with_lead.hold("tb-m1")
        content = probe_content(with_lead.plan, with_lead.state, LEAD[0], given, with_lead.at)
        assert content.probed.set_up == ("lead off",)
        with_lead.record_content(EntryKind.note, content, LEAD[0])
        assert {status(with_lead, address) for address in TESTED} == {StepStatus.stale}

    def test_a_step_of_an_author_that_takes_it_off_opens_the_cord(self, tmp_path):
        shown = "set up: [switch on, fuse in]\n    accept: from wiring\n    shows: [polarity]\n\n  - measure: neutral"
        apart = "set up: [lead off]\n    accept: from wiring\n\n  - measure: neutral"
        plan = plan_with(tmp_path, "sequences/continuity.yaml", (shown, apart))
        assert plan.step("continuity.live-earth").opens == ("cord",)

    def test_shows_nothing_of_the_unit_s_polarity(self, tmp_path):
        edit = ("    set up: [switch on, fuse out]\n", "    set up: [lead off]\n")
        said = complaints(tmp_path, "sequences/continuity.yaml", edit)
        assert "cannot show “polarity”: its set-up takes the lead off" in said


class TestALeadByItself:
    def test_that_failed_keeps_mains_away_whatever_part_is_blamed(self):
        unit = Unit(plan=plan_of())
        unit.record(EntryKind.fact, facts={"detachable lead": "yes"})
        unit.go_to(LEAD[0])
        for address in LEAD[:2]:
            unit.reads(address, "OL")  # crossed
        unit.reads(LEAD[2], "0.1 ohm")
        for address in LEAD[:2]:
            unit.record(EntryKind.fault, address, part="low-a", mode="open", words="said of another part")
        due = work_past_it(unit)
        assert due.address == "first-power.limiter"
        assert any("its lead, read by itself" in row.why for row in due.missing)
        with pytest.raises(Refused, match="its lead, read by itself"):
            do(unit, "first-power.plug-in")

    def test_that_was_said_of_late_keeps_mains_away_until_it_is_read(self):
        unit = Unit(plan=plan_of())
        unit.go_to("first-power.plug-in")
        unit.record(EntryKind.fact, facts={"detachable lead": "yes"})
        with pytest.raises(Refused, match="its lead, read by itself: not done yet"):
            do(unit, "first-power.plug-in")
        unit.go_to("first-power.current")
        assert {status(unit, address) for address in LEAD} == {StepStatus.done}


def work_past_it(unit: Unit):
    """Take every other step by itself, until one is shut."""
    for step in unit.plan.steps:
        while step.address not in LEAD and status(unit, step.address) not in (StepStatus.skipped, StepStatus.done):
            due = fold(unit.plan, unit.entries, at=unit.at, address=step.address).due
            if due.kind is DueKind.shut:
                return due
            unit.settle(due)
    raise AssertionError("nothing was shut")


@pytest.mark.parametrize("plug", ["rewirable", "moulded"])
def test_a_look_at_the_fuse_is_no_look_at_the_plug_from_outside(tmp_path, plug):
    outside = ("It is out of any socket.\n    shows: [plug]\n", "It is out of any socket.\n")
    unit = Unit(plan_with(tmp_path, "sequences/plug-rewire.yaml", outside))
    if plug == "moulded":
        unit.record(EntryKind.fact, facts={"plug": "moulded"})
        unit.record(EntryKind.fact, "", "MH", facts={"plug": "moulded"})
    due = unit.go(lambda due: due.kind is DueKind.shut or due.address == "first-power.plug-in")
    assert due.kind is DueKind.shut
    assert "no step of this route inspects the plug from outside" in due.words
