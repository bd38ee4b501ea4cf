"""What an answer is worth: tried without recording."""

import re

import pytest

from benchapp.sequences.answering.evaluate import answer_from, evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.kinds.compute import ComputeAnswer
from benchapp.sequences.kinds.inspect import InspectAnswer
from benchapp.sequences.kinds.photo import PhotoAnswer
from benchapp.sequences.kinds.wait import WaitAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.plan import make_plan
from tests.sequences.bench import Unit, catalogue, plan_of

EVERY_KIND = """\
sequence: every-kind
title: A step of every kind
steps:
  - wait: cool
    say: Let it cool.
    time: 2 min
  - photo: plate
    say: Take the rating plate.
    at least: 2
  - measure: first
    say: Between the pins.
    at: [outlet.1, outlet.2]
    function: resistance
    accept: 1.2 ohm ± 20 %
  - measure: second
    say: Between the other pins.
    at: [outlet.2, outlet.3]
    function: resistance
  - compute: both
    say: In series.
    value: first + second
    unit: ohm
    accept: between 10 ohm and 15 ohm
  - compute: share
    say: The smaller as a part of the larger.
    value: first / second
    unit: "%"
  - compute: rest
    say: What is left of the larger.
    value: 1 - first / second
    unit: "%"
    accept: at most 100 % - share
  - measure: flexed
    say: Flex it, keep the highest.
    at: [outlet.1, outlet.2]
    function: resistance
    keep: highest
    accept: at most 2 ohm
  - measure: stops
    say: Never above one ohm.
    at: [outlet.1, outlet.2]
    function: resistance
    accept: at most 5 ohm
    stop above: 1 ohm
    stop words: Off at once.
    fault: {part: low, mode: shorted, words: too much}
  - ask: length
    say: How long is the cord?
    value: m
    fact: cord length
  - ask: note-only
    say: Does it look nice?
    answers:
      - answer: yes
      - answer: no
        judgement: fail
        grave: note
"""


@pytest.fixture(scope="module")
def plan():
    texts = {
        **catalogue().texts,
        "every-kind.yaml": EVERY_KIND,
        "r.yaml": "route: r\ntitle: One of each\nequipment: [tb-mu1]\nsequences: [every-kind]\n",
    }
    from benchapp.sequences.planning.planned import Workshop

    return make_plan(catalogue_from_texts(texts), "r", "tb-mu1", Workshop())


@pytest.fixture
def each(plan) -> Unit:
    unit = Unit(plan)
    unit.hold("tb-m1")
    return unit


def tried(unit: Unit, address: str, given, **more):
    return evaluate(unit.plan, unit.state, address, given, at=unit.at, **more)


def test_attempt_records_nothing(each):
    before = list(each.entries)
    tried(each, "every-kind.first", ReadingAnswer(typed="1.2 ohm"))
    assert each.entries == before


def test_meter_in_hand_is_taken_when_none_is_named(each):
    assert tried(each, "every-kind.first", ReadingAnswer(typed="1.2 ohm")).content["meter"] == "tb-m1"


def test_reading_keeps_every_number_that_its_judgement_rests_on(each):
    content = tried(each, "every-kind.first", ReadingAnswer(typed="1.30 ohm")).content
    assert content["judgement"] == "pass"
    assert (content["typed"], content["value"], content["unit"], content["bound"]) == ("1.30 ohm", 1.3, "ohm", "exact")
    assert (content["lower"], content["upper"], content["rule"]) == (0.96, 1.44, "guarded")
    assert content["standard_uncertainty"] > 0
    assert content["expanded_uncertainty"] == content["guard_band"]
    assert 0.9 < content["conformance_probability"] <= 1
    assert all(len(line) == 3 for line in content["derivation"])
    assert content["rules_version"] == "1"


def test_reading_that_its_meter_cannot_settle_names_the_meter_that_would(each):
    found = tried(each, "every-kind.first", ReadingAnswer(typed="1.3 ohm", meter="tb-m2"))
    assert found.judgement == "conditional pass"
    assert "closer to the edge than this meter can tell" in found.sentence
    assert found.sentence.endswith("Take it again with tb-m1.")
    assert found.content["sentence"] == found.sentence


def test_reading_that_is_only_recorded_keeps_its_uncertainty(each):
    assert tried(each, "every-kind.second", ReadingAnswer(typed="11.0 ohm")).content["standard_uncertainty"] > 0


def test_bare_number_means_the_unit_of_the_function(each):
    assert tried(each, "every-kind.first", ReadingAnswer(typed="1,3")).content["value"] == 1.3


@pytest.mark.parametrize("typed", ["", "abc", "1.2 V", "1.2.3", "-4 ohm"])
def test_what_is_no_reading_is_a_sentence(each, typed):
    found = tried(each, "every-kind.first", ReadingAnswer(typed=typed))
    assert found.complaint
    assert found.content == {}


def test_slip_of_the_prefix_is_asked_about(each):
    found = tried(each, "every-kind.first", ReadingAnswer(typed="1.2 kohm"))
    assert found.judgement == "fail"
    assert found.questions


def test_reading_without_accept_is_recorded_and_not_judged(each):
    entry = each.reads("every-kind.second", "11 ohm")
    assert entry.content["judgement"] == "not judged"
    assert each.state.steps["every-kind.second"].status.value == "done"


def test_repeats_widen_a_steady_reading_and_its_mean_is_judged(each):
    alone = tried(each, "every-kind.first", ReadingAnswer(typed="1.20 ohm"))
    spread = tried(each, "every-kind.first", ReadingAnswer(typed="1.10 ohm", repeats=("1.20 ohm", "1.30 ohm")))
    assert spread.content["value"] == pytest.approx(1.2)
    assert spread.uncertainty.standard > alone.uncertainty.standard


def test_highest_of_the_readings_is_judged_where_the_cord_is_flexed(each):
    found = tried(each, "every-kind.flexed", ReadingAnswer(typed="0.5 ohm", repeats=("3 ohm", "0.6 ohm")))
    assert found.content["value"] == 3.0
    assert found.judgement == "fail"


def test_over_range_once_while_flexing_is_what_counts(each):
    found = tried(each, "every-kind.flexed", ReadingAnswer(typed="0.5 ohm", repeats=("OL",)))
    assert found.judgement == "fail"


def test_reading_that_flickers_fails_whatever_its_value(each):
    found = tried(each, "every-kind.first", ReadingAnswer(typed="1.2 ohm", flickers=True))
    assert found.judgement == "fail"
    assert "loose joint" in found.sentence


def test_stop_value_means_off_at_once(each):
    assert tried(each, "every-kind.stops", ReadingAnswer(typed="0.9 ohm")).judgement == "pass"
    found = tried(each, "every-kind.stops", ReadingAnswer(typed="1.1 ohm"))
    assert (found.judgement, found.sentence) == ("fail", "Off at once.")
    assert found.content["faults"][0]["part"] == "low"
    assert tried(each, "every-kind.stops", ReadingAnswer(typed="OL")).judgement == "fail"


def test_too_much_current_at_first_power_means_off_at_once(dead_tested):
    dead_tested.go_to("first-power.current")
    found = tried(dead_tested, "first-power.current", ReadingAnswer(typed="0.2 A", meter="tb-pm1"))
    assert found.judgement == "fail"
    assert found.sentence.startswith("Switch off at the wall at once.")
    assert found.questions


def test_computed_value_waits_for_its_readings(each):
    assert "waits for" in tried(each, "every-kind.both", ComputeAnswer()).complaint


def test_computed_value_carries_the_uncertainty_of_its_readings(each):
    one = each.reads("every-kind.first", "1.20 ohm")
    other = each.reads("every-kind.second", "11.00 ohm")
    found = tried(each, "every-kind.both", ComputeAnswer())
    assert found.judgement == "pass"
    assert found.content["value"] == pytest.approx(12.2)
    one_u = one.content["standard_uncertainty"]
    found_u = found.content["standard_uncertainty"]
    assert found_u > one_u
    assert other.content["judgement"] == "not judged"


def test_sum_of_two_readings_of_one_meter_allows_for_the_error_that_both_share(each):
    one = each.reads("every-kind.first", "1.20 ohm").content
    other = each.reads("every-kind.second", "11.00 ohm").content
    found = tried(each, "every-kind.both", ComputeAnswer())
    own = [next(row[4] for row in content["budget"] if row[0] == "resolution") for content in (one, other)]
    shared = [(c["standard_uncertainty"] ** 2 - u**2) ** 0.5 for c, u in zip((one, other), own, strict=True)]
    assert found.uncertainty.standard == pytest.approx((sum(shared) ** 2 + own[0] ** 2 + own[1] ** 2) ** 0.5)
    assert found.uncertainty.budget[-1].source == "correlation of the sources"


def test_ratio_of_two_readings_of_one_meter_counts_on_no_error_falling_out(each):
    one = each.reads("every-kind.first", "11.00 ohm").content["standard_uncertainty"]
    each.reads("every-kind.second", "11.00 ohm")
    found = tried(each, "every-kind.share", ComputeAnswer()).uncertainty
    assert found.standard == pytest.approx(2**0.5 * one / 11.0), "as of two readings that share nothing"


def test_few_repeats_of_a_reading_count_with_their_degrees_of_freedom(each):
    entry = each.answer("every-kind.first", ReadingAnswer(typed="1.10 ohm", repeats=("1.20 ohm", "1.60 ohm")))
    each.reads("every-kind.second", "11.00 ohm")
    found = tried(each, "every-kind.both", ComputeAnswer()).uncertainty
    assert entry.content["degrees_of_freedom"] < 3
    assert found.degrees_of_freedom < 10
    assert found.coverage > 2


def test_computed_value_says_where_the_linear_answer_does_not_hold(each):
    each.reads("every-kind.first", "1.20 ohm")
    each.reads("every-kind.second", "0.05 ohm")
    bent = tried(each, "every-kind.share", ComputeAnswer())
    assert "disagree" in bent.sentence
    each.reads("every-kind.second", "12.00 ohm")
    assert "disagree" not in tried(each, "every-kind.share", ComputeAnswer()).sentence


def test_computed_share_is_shown_in_percent(each):
    each.reads("every-kind.first", "1.20 ohm")
    each.reads("every-kind.second", "12.00 ohm")
    found = tried(each, "every-kind.share", ComputeAnswer())
    assert found.content["value"] == pytest.approx(0.1)
    assert str(found.reading.quantity.unit.symbol) == "%"


def test_a_share_is_said_in_percent_from_its_source_to_its_sentence(each):
    each.reads("every-kind.first", "1.20 ohm")
    each.reads("every-kind.second", "12.00 ohm")
    each.answer("every-kind.share", ComputeAnswer())
    found = tried(each, "every-kind.rest", ComputeAnswer())
    assert re.match(r"90 % is (in|out)side the limit \(at most 9\d[.\d]* %\)", found.sentence)
    assert found.content["derivation"][0][:2] == ["every-kind.share", "10 %"]


def test_wait_lasts_its_whole_span(each):
    assert "to go" in tried(each, "every-kind.cool", WaitAnswer(seconds=60)).complaint
    assert "cut short" in tried(each, "every-kind.cool", WaitAnswer(seconds=60, stopped=True)).complaint
    assert tried(each, "every-kind.cool", WaitAnswer(seconds=120)).judgement == "pass"


def test_photos_are_counted(each):
    assert "1 more" in tried(each, "every-kind.plate", PhotoAnswer(photos=("a",))).complaint
    assert tried(each, "every-kind.plate", PhotoAnswer(photos=("a", "b"))).judgement == "pass"


def test_value_that_is_told_becomes_a_fact(each):
    each.answer("every-kind.length", AskAnswer(answer="2.5"))
    assert each.state.facts["cord length"] == 2.5
    assert each.state.steps["every-kind.length"].status.value == "done"


def test_answer_that_is_merely_noted_passes(each):
    found = tried(each, "every-kind.note-only", AskAnswer(answer="No"))
    assert found.judgement == "pass"
    assert not found.content["faults"]


def test_answer_must_be_one_of_those_offered(each):
    assert "none of the answers" in tried(each, "every-kind.note-only", AskAnswer(answer="perhaps")).complaint


def test_answer_of_another_kind_is_refused(each):
    assert "no answer to it" in tried(each, "every-kind.first", WorkAnswer(done=())).complaint
    assert "no step" in tried(each, "every-kind.nothing", WorkAnswer(done=())).complaint


def test_every_checkpoint_must_be_marked(unit):
    step = unit.plan.step("visual-inspection.outside")
    marks = dict(unit.good(step).marks)
    assert "Still to look at" in tried(unit, step.address, InspectAnswer(marks={})).complaint
    assert "no checkpoint" in tried(unit, step.address, InspectAnswer(marks={**marks, "wings": "good"})).complaint
    assert (
        "applies to every unit"
        in tried(unit, step.address, InspectAnswer(marks={**marks, "cord": "does not apply"})).complaint
    )
    assert "no mark" in tried(unit, step.address, InspectAnswer(marks={**marks, "cord": "fine"})).complaint


def test_lead_resistance_measured_at_the_opening_is_taken_off(each):
    """Reference row 9.10 and check value T7: 0.35 ohm read, leads 0.20 ohm: 0.15 ohm."""
    each.hold("tb-m1", lead_resistance=0.20)
    found = tried(each, "every-kind.first", ReadingAnswer(typed="0.35 ohm", meter="tb-m1"))
    assert found.content["value"] == pytest.approx(0.15)
    assert found.content["corrections"] == [["leads taken off", "0.2 ohm", "measured at bench opening"]]


def test_mains_of_today_scales_the_expected_output(dead_tested):
    dead_tested.go_to("live-voltage.outputs/outlet.1-2")
    entry = dead_tested.reads("live-voltage.outputs/outlet.1-2", "10.26 V")
    # 9 V at 240 V, 14 % regulation, no load: 9 × 1.14 (reference row 9.6: regulation on the full-load voltage)
    assert entry.content["expected"] == pytest.approx(9 * 1.14, rel=2e-3)
    assert entry.content["mains"] == 240.0


def test_without_a_fresh_mains_reading_the_whole_legal_range_widens_the_band(dead_tested):
    dead_tested.go_to("live-voltage.outputs/outlet.1-2")
    given = ReadingAnswer(typed="10.26 V", meter="tb-m1")
    fresh = tried(dead_tested, "live-voltage.outputs/outlet.1-2", given)
    dead_tested.wait(minutes=11)
    old = tried(dead_tested, "live-voltage.outputs/outlet.1-2", given)
    assert old.band.upper - old.band.lower > fresh.band.upper - fresh.band.lower
    assert "No mains reading" in old.band.cautions[0]
    assert dead_tested.due.address == "live-voltage.mains"


def test_raw_answer_of_every_entry_is_judged_to_the_same_again(checked):
    """What verifying a workbook rests on."""
    for number, entry in enumerate(checked.entries):
        if entry.kind is not EntryKind.answer:
            continue
        from benchapp.sequences.interlock.fold import fold

        state = fold(checked.plan, checked.entries[:number], at=entry.at)
        again = evaluate(checked.plan, state, entry.address, answer_from(entry.content), at=entry.at)
        assert again.complaint is None
        assert dict(again.content) == dict(entry.content), entry.address


def test_recorder_plan_is_made_of_its_own_route():
    plan = plan_of("recorder", "tb-rec1")
    assert {"visual-inspection.selector", "function.works"} <= plan.by_address.keys()


def test_units_that_share_a_plan_never_share_the_source_of_a_band(plan):
    """The band is kept from one key press to the next, and names the mains reading of its own unit all the same."""
    sources = []
    for early in (True, False):
        unit = Unit(plan_of())
        if early:
            unit.record(EntryKind.note, words="one entry more than its sibling")
        unit.go_to("live-voltage.outputs/outlet.1-2")
        given = ReadingAnswer(typed="10.26 V", meter="tb-m1")
        found = evaluate(unit.plan, unit.state, "live-voltage.outputs/outlet.1-2", given, at=unit.at)
        number = unit.state.readings["live-voltage.mains"].number
        sources.append(found.band.derivation[0].source)
        assert f"entry {number}," in found.band.derivation[0].source
    assert sources[0] != sources[1]
