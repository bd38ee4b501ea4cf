"""Dead probes beside the route: guarded like any ohms, and of no weight for what the route asks."""

import pytest

from benchapp.sequences import EntryKind
from benchapp.sequences.free_probes import FreeProbe, probe_content, probing_meter, probing_set_up
from tests.sequences.bench import Refused, Unit

PRIMARY = "continuity.primary"
PIN_4 = "continuity.outputs/outlet.1-outlet.4"


def probe(unit: Unit, a: str, b: str, typed: str, address: str = PIN_4) -> None:
    content = probe_content(unit.plan, unit.state, address, FreeProbe(a=a, b=b, typed=typed), unit.at)
    unit.record(EntryKind.note, address, **content)


@pytest.fixture
def in_continuity(unit: Unit) -> Unit:
    """A unit whose leads are proved and whose primary is due."""
    unit.go_to(PRIMARY)
    return unit


def test_a_probe_is_kept_with_value_meter_and_uncertainty(in_continuity: Unit) -> None:
    probe(in_continuity, "outlet.1", "outlet.2", "1.3")
    probed = in_continuity.entries[-1].content["probed"]
    assert (probed["a"], probed["b"], probed["value"], probed["meter"]) == ("outlet.1", "outlet.2", 1.3, "tb-m1")
    assert probed["standard_uncertainty"] > 0
    assert (
        in_continuity.entries[-1].content["words"] == "Probed: 1.3 between pin 1 of the outlet and pin 2 of the outlet."
    )


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
    with pytest.raises(Refused, match="Prove the leads of tb-m1 first"):
        probe(unit, "outlet.1", "outlet.4", "OL")


def test_a_meter_from_another_day_is_not_in_hand(in_continuity: Unit) -> None:
    in_continuity.wait(days=1)
    assert probing_meter(in_continuity.state, in_continuity.plan, in_continuity.at) == ""


def test_a_search_probes_in_the_set_up_of_the_dead_step_that_failed(unit: Unit) -> None:
    assert probing_set_up(unit.plan.step(PRIMARY)) == unit.plan.step(PRIMARY).set_up
    assert probing_set_up(unit.plan.step("first-power.current")) == ()
    assert probing_set_up(None) == ()
