"""Probes beside the route: guarded like any ohms or any live reading, and of no weight for what the route asks."""

import pytest

from benchapp.errors import BenchError
from benchapp.sequences.interlock.free_probes import FreeProbe, live_meter, probe_content, probing_meter, probing_set_up
from benchapp.sequences.language.vocabulary import ReadingSource
from benchapp.sequences.planning.entries import EntryKind
from tests.sequences.bench import BACK, Refused, Unit

PRIMARY = "continuity.primary"
PIN_4 = "continuity.outputs/outlet.1-outlet.4"


def probe(unit: Unit, a: str, b: str, typed: str, address: str = PIN_4, *, live: bool = False) -> None:
    content = probe_content(unit.plan, unit.state, address, FreeProbe(a=a, b=b, typed=typed, live=live), unit.at)
    unit.record_content(EntryKind.note, content, address)


@pytest.fixture
def in_continuity(unit: Unit) -> Unit:
    """A unit whose leads are proved and whose primary is due."""
    unit.go_to(PRIMARY)
    return unit


def test_a_probe_is_kept_with_value_meter_and_uncertainty(in_continuity: Unit) -> None:
    probe(in_continuity, "outlet.1", "outlet.2", "1.3")
    probed = in_continuity.entries[-1].content.probed
    assert (probed.a, probed.b, probed.value, probed.meter) == ("outlet.1", "outlet.2", 1.3, "tb-m1")
    assert probed.standard_uncertainty > 0
    assert (
        in_continuity.entries[-1].content.words
        == "Probed: 1.3 ohm between pin 1 of the outlet and pin 2 of the outlet."
    )


def test_a_probe_by_wire_says_so_with_the_line_that_was_sent(in_continuity: Unit) -> None:
    given = FreeProbe(a="outlet.1", b="outlet.2", typed="1.3", source=ReadingSource.steady, sent="+1.3E+00")
    in_continuity.record_content(
        EntryKind.note, probe_content(in_continuity.plan, in_continuity.state, PIN_4, given, in_continuity.at), PIN_4
    )
    probed = in_continuity.entries[-1].content
    assert (probed.probed.source, probed.probed.sent) == (ReadingSource.steady, "+1.3E+00")
    assert probed.words.endswith("pin 2 of the outlet, by wire, when steady (+1.3E+00).")


def test_over_range_of_a_probe_is_never_taken_by_itself(in_continuity: Unit) -> None:
    given = FreeProbe(a="outlet.1", b="outlet.4", typed="OL", source=ReadingSource.steady, sent="+9.9E+37")
    content = probe_content(in_continuity.plan, in_continuity.state, PIN_4, given, in_continuity.at)
    with pytest.raises(Refused, match="never taken by itself"):
        in_continuity.record_content(EntryKind.note, content, PIN_4)


def test_a_probe_settles_no_step_and_makes_nothing_stale(in_continuity: Unit) -> None:
    before = {address: state.status for address, state in in_continuity.state.steps.items()}
    probe(in_continuity, "outlet.1", "outlet.4", "OL")
    probe(in_continuity, "plug.E", "case", "0.1")
    assert {address: state.status for address, state in in_continuity.state.steps.items()} == before
    assert in_continuity.due.address == PRIMARY


def test_no_probe_on_a_unit_that_may_be_live(dead_tested: Unit) -> None:
    dead_tested.go_to("first-power.current")
    with pytest.raises(Refused, match="Go the way back first"):
        probe(dead_tested, "outlet.1", "outlet.2", "1.3")


def test_no_probe_on_a_unit_that_an_insulation_test_has_charged(unit: Unit) -> None:
    unit.go_to("insulation.live-to-case")
    unit.answer("insulation.live-to-case", unit.good(unit.plan.step("insulation.live-to-case")))
    with pytest.raises(Refused, match="Go the way back first"):
        probe(unit, "outlet.1", "outlet.2", "1.3")


def test_a_withdrawn_live_answer_does_not_let_the_probes_in(dead_tested: Unit) -> None:
    dead_tested.go_to("first-power.current")
    dead_tested.withdraw(dead_tested.state.history["first-power.plug-in"][-1])
    with pytest.raises(Refused, match="Go the way back first"):
        probe(dead_tested, "outlet.1", "outlet.2", "1.3")


@pytest.mark.parametrize(
    ("a", "b", "words"),
    [("outlet.9", "outlet.1", "no terminal “outlet.9”"), ("outlet.1", "outlet.1", "name two terminals")],
)
def test_terminals_that_cannot_be_probed_are_refused(in_continuity: Unit, a: str, b: str, words: str) -> None:
    with pytest.raises(Refused, match=words):
        probe(in_continuity, a, b, "1.3")


def test_over_range_needs_leads_that_were_proved(unit: Unit) -> None:
    unit.hold("tb-m1")
    probe(unit, "outlet.1", "outlet.2", "1.3")
    with pytest.raises(Refused, match="Prove the leads of “Hand meter, true RMS” first"):
        probe(unit, "outlet.1", "outlet.4", "OL")


def test_a_meter_from_another_day_is_not_in_hand(in_continuity: Unit) -> None:
    in_continuity.wait(days=1)
    assert probing_meter(in_continuity.state, in_continuity.plan, in_continuity.at) == ""


def test_a_search_probes_in_the_set_up_of_the_dead_step_that_failed(unit: Unit) -> None:
    assert probing_set_up(unit.plan.step(PRIMARY)) == unit.plan.step(PRIMARY).set_up
    assert probing_set_up(unit.plan.step("first-power.current")) == ()
    assert probing_set_up(None) == ()


@pytest.fixture
def at_outputs(unit: Unit) -> Unit:
    """A unit on full mains, the mains just measured."""
    unit.go_to(next(s.address for s in unit.plan.steps if s.address.startswith("live-voltage.outputs")))
    return unit


def test_a_live_probe_is_kept_with_the_mains_it_was_taken_at(at_outputs: Unit) -> None:
    probe(at_outputs, "outlet.1", "outlet.2", "10.3", live=True)
    probed = at_outputs.entries[-1].content.probed
    assert (probed.kind, probed.value, probed.supply, probed.mains) == ("voltage", 10.3, "full", 240.0)
    assert probed.meter == live_meter(at_outputs.state, at_outputs.plan, at_outputs.at)
    assert probed.standard_uncertainty > 0
    assert at_outputs.entries[-1].content.words.startswith("Probed live: 10.3 V between pin 1")


def test_after_a_live_probe_no_hand_comes_near_before_the_way_back(at_outputs: Unit) -> None:
    for address in BACK:
        at_outputs.do(address)
    assert not at_outputs.state.energised
    at_outputs.go_to(next(s.address for s in at_outputs.plan.steps if s.address.startswith("live-voltage.outputs")))
    at_outputs.answer("live-voltage.mains", at_outputs.good(at_outputs.plan.step("live-voltage.mains")))
    probe(at_outputs, "outlet.1", "outlet.2", "10.3", live=True)
    assert at_outputs.state.energised
    assert at_outputs.state.evaluation.ledger.energised_live == at_outputs.entries[-1].number
    with pytest.raises(Refused, match="Go the way back first"):
        probe(at_outputs, "outlet.1", "outlet.2", "1.3")


def test_no_live_probe_before_the_interlock_has_the_live_stage_open(dead_tested: Unit) -> None:
    probe_at = ("outlet.1", "outlet.2", "10.3")
    with pytest.raises(Refused, match="Mains stays away from this unit until first power"):
        probe(dead_tested, *probe_at, live=True)
    dead_tested.go_to("first-power.signs")
    with pytest.raises(Refused):
        probe(dead_tested, *probe_at, live=True)


def test_no_live_probe_once_the_way_back_is_gone(at_outputs: Unit) -> None:
    for address in BACK:
        at_outputs.do(address)
    with pytest.raises(Refused, match="Mains is not on this unit"):
        probe(at_outputs, "outlet.1", "outlet.2", "10.3", live=True)


def test_no_live_probe_on_a_mains_reading_that_has_grown_old(at_outputs: Unit) -> None:
    at_outputs.wait(minutes=11)
    with pytest.raises(Refused, match="was not read just now"):
        probe(at_outputs, "outlet.1", "outlet.2", "10.3", live=True)


@pytest.mark.parametrize(("a", "b"), [("plug.L", "plug.N"), ("outlet.1", "case"), ("outlet.1", "outlet.5")])
def test_with_mains_on_nothing_is_probed_but_the_outputs(at_outputs: Unit, a: str, b: str) -> None:
    with pytest.raises(Refused, match="never probed with mains on"):
        probe(at_outputs, a, b, "10.3", live=True)


def test_ohms_are_no_live_reading_and_over_range_neither(at_outputs: Unit) -> None:
    for typed in ("3 ohm", "OL"):
        with pytest.raises(BenchError):
            probe(at_outputs, "outlet.1", "outlet.2", typed, live=True)


def test_a_fault_on_the_supply_side_shuts_live_probes_too(at_outputs: Unit) -> None:
    at_outputs.record(EntryKind.fault, part="primary", mode="overheating", words="It hums.", severity="mend")
    with pytest.raises(Refused, match="Mains stays away"):
        probe(at_outputs, "outlet.1", "outlet.2", "10.3", live=True)


def test_live_readings_of_a_search_end_after_a_quarter_of_an_hour(at_outputs: Unit) -> None:
    for _ in range(2):
        probe(at_outputs, "outlet.1", "outlet.4", "9.2", live=True)
        at_outputs.wait(minutes=8)
        at_outputs.reads("live-voltage.mains", "240.0 V")
    with pytest.raises(Refused, match="end after 15 minutes"):
        probe(at_outputs, "outlet.1", "outlet.4", "9.2", live=True)


def test_the_leads_are_taken_off_a_probe_as_off_a_reading_of_the_route(in_continuity: Unit) -> None:
    in_continuity.hold("tb-m1", lead_resistance=0.11)
    probe(in_continuity, "outlet.1", "outlet.2", "0.87")
    probed = in_continuity.entries[-1].content.probed
    assert probed.value == pytest.approx(0.76, abs=1e-9)
    assert (probed.typed, in_continuity.entries[-1].content.words.split(" between")[0]) == ("0.87", "Probed: 0.87 ohm")
    probe(in_continuity, "outlet.1", "outlet.2", "0.10")
    assert in_continuity.entries[-1].content.probed.value == 0.0
