"""Faults, repairs and what they make stale."""

import pytest

from benchapp.sequences.history.retest import scope_of
from benchapp.sequences.history.retest_shown import due_already, retest_scope
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.state import DueKind, FaultStatus, StepStatus
from benchapp.wiring.assembly.lead import with_inlet
from benchapp.wiring.expected.dead import expected_resistance
from benchapp.wiring.faults.fault_modes import FaultMode, with_fault_modes
from benchapp.wiring.model.modes import Mode
from tests.sequences.bench import Refused, Unit, plan_of


def stale(unit: Unit) -> set[str]:
    return {address for address, state in unit.state.steps.items() if state.status is StepStatus.stale}


def stale_or_shut(unit: Unit) -> set[str]:
    lost = (StepStatus.stale, StepStatus.shut)
    return {address for address, state in unit.state.steps.items() if state.status in lost}


def expected_dead(circuit, step) -> str:
    """The reading in the middle of the band, to six figures; "OL" where nothing joins the two."""
    middle = expected_resistance(circuit, *step.terminals, state=step.circuit_state).expected
    return "OL" if middle is None else f"{middle:.6g}"


def mend(unit: Unit, part: str, *opened: str, fault: int | None = None) -> None:
    unit.record(EntryKind.repair, part=part, done="mended", opened=list(opened), fault=fault, parts_used=[])


def test_repair_of_a_joint_inside_opens_the_case_and_leaves_the_plug_alone(checked):
    mend(checked, "low-a-twin")
    lost = stale_or_shut(checked)
    assert {"continuity.outputs/outlet.1-outlet.4", "continuity.earth", "visual-inspection.outside"} <= lost
    assert not lost & {"plug-rewire.plug-inside", "plug-rewire.fuse-rating", "plug-rewire.plug-outside"}


def test_every_live_step_is_behind_a_repair(checked):
    mend(checked, "low-a-twin")
    steps = checked.state.steps
    live = {s.address for s in checked.plan.steps if s.supply.value != "none" and steps[s.address].status != "skipped"}
    assert live <= stale_or_shut(checked)


@pytest.mark.parametrize("opened", ["enclosure", "cord", "plug"])
def test_opening_always_asks_for_visual_polarity_earth_and_insulation_again(checked, opened):
    mend(checked, "low-a-twin", opened)
    again = {
        "visual-inspection.outside",
        "continuity.earth",
        "continuity.live-earth",
        "insulation.live-to-case",
        "insulation.live-to-outputs",
    }
    assert again <= stale_or_shut(checked)
    assert ("plug-rewire.plug-inside" in stale(checked)) is (opened != "enclosure")


def test_work_on_a_part_outside_the_circuit_opens_what_it_cannot_do_without(checked):
    mend(checked, "cord")
    assert {"visual-inspection.outside", "plug-rewire.plug-inside", "continuity.earth"} <= stale_or_shut(checked)


def test_part_that_the_circuit_does_not_know_makes_every_reading_stale(checked):
    mend(checked, "thingummy")
    done_on_it = {address for address, one in checked.state.steps.items() if one.status is not StepStatus.skipped}
    measured = {s.address for s in checked.plan.steps if s.function and s.supply.value == "none"} & done_on_it
    assert len(measured) > 10
    assert measured <= stale_or_shut(checked)


def test_a_crossed_pair_touches_what_hangs_on_its_wires_and_no_more(checked):
    mend(checked, "outlet.2, outlet.3")
    lost = stale_or_shut(checked)
    outputs = {s.address for s in checked.plan.steps if s.address.startswith("continuity.outputs/")}
    assert outputs | {"visual-inspection.outside", "continuity.earth", "insulation.live-to-outputs"} <= lost
    assert not lost & {"plug-rewire.plug-inside", "plug-rewire.fuse-rating"}


def test_wires_crossed_in_the_mains_plug_open_the_plug(checked):
    mend(checked, "plug.L, plug.N")
    assert {"plug-rewire.plug-inside", "continuity.primary", "continuity.fuse-out"} <= stale_or_shut(checked)


def test_scope_shown_before_is_what_becomes_stale(checked):
    for part, opened in (("low-a-twin", ()), ("plug-fuse", ("plug",)), ("case-bond", ("enclosure",)), ("knob", ())):
        unit = Unit(checked.plan, list(checked.entries), checked.now)
        shown = set(retest_scope(unit.plan, unit.state, part, opened))
        mend(unit, part, *opened)
        assert shown == {a for a in stale_or_shut(unit) if unit.state.steps[a].entry is not None}


def test_what_was_due_already_is_counted_in_the_scope_and_by_itself(checked):
    checked.record(EntryKind.opened, opened=["enclosure"], why="to look")
    due = {a for a in stale_or_shut(checked) if checked.state.steps[a].entry is not None}
    scope = retest_scope(checked.plan, checked.state, "low-a-twin", ())
    assert due <= set(scope)
    assert due_already(checked.state.steps, scope) == len(due)
    mend(checked, "low-a-twin")
    assert set(scope) == {a for a in stale_or_shut(checked) if checked.state.steps[a].entry is not None}
    assert len(scope) > len(due)


def test_the_scope_shown_holds_the_step_of_the_fault_and_the_part_that_was_found_there(checked):
    pin_4 = "continuity.outputs/outlet.1-outlet.4"
    checked.record(EntryKind.fault, pin_4, part="low-a-twin", mode="open", words="dry", severity="mend")
    fault = checked.state.faults[-1].entry
    shown = set(retest_scope(checked.plan, checked.state, "case-bond", (), fault))
    assert pin_4 in shown
    mend(checked, "case-bond", fault=fault)
    assert shown == {a for a in stale_or_shut(checked) if checked.state.steps[a].entry is not None}


def test_another_transformer_touches_all_its_windings(checked):
    """A winding is mended by another transformer: the outputs are read again, between each other too."""
    mend(checked, "primary")
    outputs = {s.address for s in checked.plan.steps if s.address.startswith("continuity.outputs/")}
    assert len(outputs) > 2
    assert outputs | {"continuity.primary", "insulation.live-to-outputs"} <= stale_or_shut(checked)


def test_an_output_winding_touches_the_primary_of_its_transformer(checked):
    mend(checked, "low")
    assert {"continuity.primary", "continuity.outputs/outlet.1-outlet.3"} <= stale_or_shut(checked)


def test_unit_is_whole_again_after_the_retest(checked):
    checked.record(EntryKind.disposition, disposition="for sale", grade="", price="")
    mend(checked, "case-bond", "enclosure")
    assert checked.state.disposition == "quarantine"
    checked.finish()
    assert checked.state.complete


def test_wrong_fuse_names_its_fault_and_is_mended_by_the_right_one(unit):
    unit.go_to("plug-rewire.fuse-rating")
    unit.answer("plug-rewire.fuse-rating", AskAnswer(answer="13 A"))
    state = unit.state
    assert state.facts["fuse fitted"] == 13.0
    assert state.due.kind is DueKind.repair
    fault = state.faults[0]
    assert (fault.part, fault.mode, fault.status) == ("plug-fuse", "wrong rating", FaultStatus.open)
    mend(unit, "plug-fuse", "plug", fault=fault.entry)
    assert unit.state.faults[0].status is FaultStatus.repaired
    unit.finish()
    assert unit.state.faults[0].status is FaultStatus.closed
    assert unit.state.facts["fuse fitted"] == 3.0
    assert unit.state.complete


def test_failed_reading_asks_to_take_it_again_or_to_record_the_fault(unit):
    unit.go_to("continuity.outputs/outlet.1-outlet.4")
    unit.reads("continuity.outputs/outlet.1-outlet.4", "OL")
    due = unit.due
    assert (due.kind, due.address) == (DueKind.fault, "continuity.outputs/outlet.1-outlet.4")
    unit.record(EntryKind.fault, due.address, part="low-a-twin", mode="open", words="open joint at pin 4")
    assert unit.due.kind is DueKind.repair


def test_reading_that_passes_the_second_time_leaves_no_fault(unit):
    unit.go_to("continuity.outputs/outlet.1-outlet.4")
    unit.reads("continuity.outputs/outlet.1-outlet.4", "OL")
    unit.reads("continuity.outputs/outlet.1-outlet.4", "0.05 ohm")
    assert unit.due.kind is DueKind.step
    assert unit.state.faults == ()


def test_recorded_fault_stays_open_though_the_reading_comes_right_by_itself(unit):
    address = "continuity.outputs/outlet.1-outlet.4"
    unit.go_to(address)
    unit.reads(address, "OL")
    unit.record(EntryKind.fault, address, part="low-a-twin", mode="open", words="open joint at pin 4")
    unit.reads(address, "0.05 ohm")
    assert unit.state.faults[0].status is FaultStatus.open


def test_open_joint_keeps_full_power_from_nobody_but_is_asked_for_first(unit):
    """It does not touch the supply side: the other dead steps may go on by choice, and what is due is its repair."""
    address = "continuity.outputs/outlet.1-outlet.4"
    unit.go_to(address)
    unit.reads(address, "OL")
    unit.record(EntryKind.fault, address, part="low-a-twin", mode="open", words="open joint at pin 4")
    unit.reads("continuity.leads-after", "0.1 ohm")
    assert unit.state.steps["continuity.leads-after"].status is StepStatus.done
    assert unit.due.kind is DueKind.repair


def test_fault_found_live_does_not_lock_the_step_that_must_show_it_mended(dead_tested):
    dead_tested.go_to("first-power.current")
    dead_tested.reads("first-power.current", "0.2 A")
    due = dead_tested.go(lambda due: due.kind is DueKind.repair)
    mend(dead_tested, "primary", "enclosure", fault=int(due.subject))
    dead_tested.finish()
    assert dead_tested.state.complete


def test_repair_of_a_fault_that_is_not_there_is_refused(checked):
    with pytest.raises(Refused, match="no open fault"):
        mend(checked, "low-a", fault=3)


def test_repair_names_its_part_and_what_was_done(checked):
    with pytest.raises(Refused, match="which part"):
        checked.record(EntryKind.repair, part="", done="something", opened=[], fault=None)
    with pytest.raises(Refused, match="cannot be opened"):
        mend(checked, "low-a", "lid")


@pytest.mark.parametrize("kind", [EntryKind.repair, EntryKind.opened, EntryKind.event, EntryKind.hazard])
def test_what_happened_cannot_be_withdrawn(checked, kind):
    content = {
        EntryKind.repair: {"part": "low-a", "done": "x", "opened": [], "fault": None},
        EntryKind.opened: {"opened": ["enclosure"]},
        EntryKind.event: {"event": "fall"},
        EntryKind.hazard: {"hazard": "smell"},
    }[kind]
    entry = checked.record(kind, **content)
    with pytest.raises(Refused, match="stays on record"):
        checked.withdraw(entry)


def test_fact_that_turns_out_otherwise_makes_what_rests_on_it_stale(checked):
    checked.record(EntryKind.fact, facts={"cord area": "0.5 mm²"})
    assert {"continuity.earth", "plug-rewire.fuse-rating"} <= stale(checked)
    assert checked.state.facts["cord area"] == pytest.approx(0.5e-6)


@pytest.mark.parametrize(
    ("fact", "asked"),
    [
        ({"cord length": "2.6 m"}, {"continuity.earth"}),
        (
            {"plug fuse rating": "2 A"},
            {
                "plug-rewire.plug-outside",
                "plug-rewire.plug-inside",
                "plug-rewire.fuse",
                "plug-rewire.fuse-rating",
                "plug-rewire.close",
            },
        ),
    ],
    ids=["cord", "fuse"],
)
def test_a_figure_put_right_asks_again_only_for_what_it_can_have_moved(checked, fact, asked):
    """A longer cord has another limit for its earth; a hundredth of an ohm in a primary's 100 is nothing to read."""
    before = stale(checked)
    checked.record(EntryKind.fact, facts=fact)
    assert stale(checked) - before == asked
    assert not all(row.holds for row in checked.state.interlock[Supply.limited])


def test_figures_that_together_move_a_reading_far_ask_for_that_reading_too(checked):
    checked.record(EntryKind.fact, facts={"cord length": "25 m", "cord area": "0.5 mm²"})
    assert {"continuity.earth", "continuity.primary"} <= stale(checked)


def test_earth_limit_follows_the_cord_that_this_unit_has(unit):
    """IET Code of Practice limit of 0.1 ohm and the cord's own core, IEC 60228 class 5 (check value T3: 0.178 ohm)."""
    unit.record(EntryKind.fact, facts={"cord area": "0.5 mm²", "cord length": "2 m"})
    unit.go_to("continuity.earth")
    entry = unit.reads("continuity.earth", "0.05 ohm")
    assert entry.content.upper == pytest.approx(0.178, abs=1e-12)


@pytest.mark.parametrize("equipment", ["tb-mu1", "tb-mu2"])
def test_no_step_stays_standing_whose_expected_reading_the_repaired_part_could_have_changed(equipment):
    """Each part opened or shorted in turn: every dead reading that moves is in the scope of its repair."""
    plan, moved = plan_of(equipment=equipment), 0
    circuit = with_inlet(plan.circuit)  # a lead may come off, and is then read at its far end
    dead = [s for s in plan.steps if len(s.terminals) == 2 and s.function in ("resistance", "earth continuity")]
    sound = {s.address: expected_dead(circuit, s) for s in dead}
    for number, branch in enumerate(circuit.branches):
        scope = set(scope_of(plan, branch.part, ()))
        for mode in (Mode.open, Mode.shorted):
            broken = with_fault_modes(circuit, [FaultMode(part=branch.part, mode=mode, branch=number)])
            for step in dead:
                if expected_dead(broken, step) != sound[step.address]:
                    moved += 1
                    assert step.address in scope, (branch.part, mode, step.address)
    assert moved > len(dead)  # the faults do move readings
