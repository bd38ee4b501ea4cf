"""Of several meters in hand, the surest for the expected value is taken first."""

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.instruments import would_do
from benchapp.sequences.answering.meter_choice import meters_at_hand
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.entries import EntryKind
from tests.sequences.bench import Unit, plan_of
from tests.sequences.interlock.watched import make_workplace


@pytest.fixture
def unit() -> Unit:
    return Unit(plan_of())


def at_hand(unit: Unit, address: str) -> tuple[str, ...]:
    return meters_at_hand(unit.plan, unit.state, unit.plan.step(address), unit.at)


def test_nothing_in_hand_is_no_meter(unit):
    assert at_hand(unit, "continuity.leads-before") == ()


def test_the_surer_meter_comes_first_whichever_was_taken_last(unit):
    output = "live-voltage.outputs/outlet.1-2"
    for meter in ("tb-m1", "tb-m2", "tb-it1"):
        unit.hold(meter)
    unit.record(EntryKind.note, words="nothing yet")
    assert at_hand(unit, output) == ("tb-m1", "tb-m2", "tb-it1")
    unit.hold("tb-m1")
    assert at_hand(unit, output)[0] == "tb-m1"
    assert evaluate(unit.plan, unit.state, output, ReadingAnswer(typed="10.26 V"), at=unit.at).content.meter == "tb-m1"


def test_the_meter_just_taken_in_hand_comes_first(unit):
    unit.hold("tb-m1")
    unit.hold("tb-m2")
    assert at_hand(unit, "continuity.primary") == ("tb-m2", "tb-m1")
    unit.record(EntryKind.note, words="and something else")
    assert at_hand(unit, "continuity.primary") == ("tb-m1", "tb-m2")


def test_a_meter_that_the_technician_went_on_with_stays_until_another_is_taken(unit):
    unit.hold("tb-m1")
    unit.hold("tb-m2")
    unit.go_to("continuity.leads-before")
    assert at_hand(unit, "continuity.leads-before")[0] == "tb-m1"
    unit.reads("continuity.leads-before", "0.3 ohm", "tb-m2")
    assert at_hand(unit, "continuity.leads-after")[0] == "tb-m2"
    unit.hold("tb-m1")
    assert at_hand(unit, "continuity.leads-after")[0] == "tb-m1"


def test_a_meter_out_of_calibration_comes_behind_one_in_calibration(unit):
    unit.wait(days=30)
    unit.hold("tb-it1")
    unit.hold("tb-m2", overdue_accepted=True)
    unit.record(EntryKind.note, words="both are here")
    assert at_hand(unit, "live-voltage.outputs/outlet.1-2")[0] == "tb-it1"


def test_a_meter_that_was_taken_yesterday_is_not_in_hand(unit):
    unit.hold("tb-m1")
    unit.wait(days=1)
    assert at_hand(unit, "live-voltage.outputs/outlet.1-2") == ()


def test_readings_through_leads_stay_with_the_meter_whose_leads_were_proved(unit):
    for meter in ("tb-it1", "tb-m1", "tb-m2"):
        unit.hold(meter)
    probe = next(step.address for step in unit.plan.steps if step.stage == "continuity" and "/" in step.address)
    unit.go_to("continuity.leads-before")
    first = at_hand(unit, probe)[0]
    unit.reads("continuity.leads-before", "0.3 ohm", "tb-m2")
    assert first != "tb-m2"
    assert at_hand(unit, probe)[0] == "tb-m2"


def test_no_probe_meter_would_do_for_what_is_read_at_a_plug_in_meter(unit):
    """tb-m1 reads AC current too, in series and with probes: advice names only meters of which this holds."""
    evaluation, step = unit.state.evaluation, unit.plan.step("first-power.current")
    assert "AC current" in unit.plan.meters["tb-m1"].functions
    assert [meter for meter in sorted(unit.plan.meters) if would_do(evaluation, meter, step)] == ["tb-pm1"]
    assert would_do(evaluation, "tb-m1", unit.plan.step("continuity.primary"))


def test_no_probe_meter_is_advised_for_what_is_read_at_a_plug_in_meter():
    """A current on full mains, so near its limit that the plug-in meter cannot tell."""
    edit = ("live-voltage", "  - ask: signs\n", DRAWN + "  - ask: signs\n")
    unit = Unit(make_workplace(edits=(edit,)).plan)
    given = ReadingAnswer(typed="100.1 mA", meter="tb-pm1")
    tried = evaluate(unit.plan, unit.state, "live-voltage.drawn", given, at=unit.at)
    assert tried.judgement == "conditional fail"
    assert "tb-m1" not in tried.sentence


DRAWN = """\
  - measure: drawn
    say: Read the current.
    function: AC current
    accept: at most 100 mA
"""
