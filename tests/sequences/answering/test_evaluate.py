"""What an answer is worth: tried without recording."""

import pytest

from benchapp.judgement.statements.band import DerivationStep
from benchapp.judgement.statements.statements import RULES_VERSION
from benchapp.sequences.answering.evaluate import answer_from, evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.planning.entries import EntryKind
from tests.sequences.bench import Unit, plan_of
from tests.sequences.every_kind import tried


def test_attempt_records_nothing(each):
    before = list(each.entries)
    tried(each, "every-kind.first", ReadingAnswer(typed="1.2 ohm"))
    assert each.entries == before


def test_meter_in_hand_is_taken_when_none_is_named(each):
    assert tried(each, "every-kind.first", ReadingAnswer(typed="1.2 ohm")).content.meter == "tb-m1"


def test_reading_keeps_every_number_that_its_judgement_rests_on(each):
    content = tried(each, "every-kind.first", ReadingAnswer(typed="1.30 ohm")).content
    assert content.judgement == "pass"
    assert (content.typed, content.value, content.unit, content.bound) == ("1.30 ohm", 1.3, "ohm", "exact")
    assert (content.lower, content.upper, content.rule) == (0.96, 1.44, "guarded")
    assert content.standard_uncertainty > 0
    assert content.expanded_uncertainty == content.guard_band
    assert 0.9 < content.conformance_probability <= 1
    assert all(line.what and line.value for line in content.derivation)
    assert content.rules_version == RULES_VERSION


def test_reading_that_its_meter_cannot_settle_names_the_meter_that_would(each):
    found = tried(each, "every-kind.first", ReadingAnswer(typed="1.3 ohm", meter="tb-m2"))
    assert found.judgement == "conditional pass"
    assert "closer to the edge than this meter can tell" in found.sentence
    assert found.sentence.endswith("Take it again with “Hand meter, true RMS”.")
    assert found.content.sentence == found.sentence


def test_reading_that_is_only_recorded_keeps_its_uncertainty(each):
    assert tried(each, "every-kind.second", ReadingAnswer(typed="11.0 ohm")).content.standard_uncertainty > 0


def test_bare_number_means_the_unit_of_the_function(each):
    assert tried(each, "every-kind.first", ReadingAnswer(typed="1,3")).content.value == 1.3


@pytest.mark.parametrize("typed", ["", "abc", "1.2 V", "1.2.3", "-4 ohm"])
def test_what_is_no_reading_is_a_sentence(each, typed):
    found = tried(each, "every-kind.first", ReadingAnswer(typed=typed))
    assert found.complaint
    assert found.content is None


def test_slip_of_the_prefix_is_asked_about(each):
    found = tried(each, "every-kind.first", ReadingAnswer(typed="1.2 kohm"))
    assert found.judgement == "fail"
    assert found.questions


def test_reading_without_accept_is_recorded_and_not_judged(each):
    entry = each.reads("every-kind.second", "11 ohm")
    assert entry.content.judgement == "not judged"
    assert each.state.steps["every-kind.second"].status.value == "done"


def test_repeats_widen_a_steady_reading_and_its_mean_is_judged(each):
    alone = tried(each, "every-kind.first", ReadingAnswer(typed="1.20 ohm"))
    spread = tried(each, "every-kind.first", ReadingAnswer(typed="1.10 ohm", repeats=("1.20 ohm", "1.30 ohm")))
    assert spread.content.value == pytest.approx(1.2)
    assert spread.uncertainty.standard > alone.uncertainty.standard


def test_reading_that_flickers_fails_whatever_its_value(each):
    found = tried(each, "every-kind.first", ReadingAnswer(typed="1.2 ohm", flickers=True))
    assert found.judgement == "fail"
    assert "loose joint" in found.sentence


def test_answer_of_another_kind_is_refused(each):
    assert "no answer to it" in tried(each, "every-kind.first", WorkAnswer(done=())).complaint
    assert "no step" in tried(each, "every-kind.nothing", WorkAnswer(done=())).complaint


def test_lead_resistance_measured_at_the_opening_is_taken_off(each):
    """Reference row 9.10 and check value T7: 0.35 ohm read, leads 0.20 ohm: 0.15 ohm."""
    each.hold("tb-m1", lead_resistance=0.20)
    found = tried(each, "every-kind.first", ReadingAnswer(typed="0.35 ohm", meter="tb-m1"))
    assert found.content.value == pytest.approx(0.15)
    assert found.content.corrections == (
        DerivationStep(what="leads taken off", value="0.2 ohm", source="measured at bench opening"),
    )


def test_mains_of_today_scales_the_expected_output(dead_tested):
    dead_tested.go_to("live-voltage.outputs/outlet.1-2")
    entry = dead_tested.reads("live-voltage.outputs/outlet.1-2", "10.26 V")
    # 9 V at 240 V, 14 % regulation, no load: 9 × 1.14 (reference row 9.6: regulation on the full-load voltage)
    assert entry.content.expected == pytest.approx(9 * 1.14, rel=2e-3)
    assert entry.content.mains == 240.0


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
        assert again.content == entry.content, entry.address


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
