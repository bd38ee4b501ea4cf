"""Readings of one answer follow each other with the probes left on; what that does to range and judgement."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.ranges import range_of
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_reading
from benchapp.sequences.answering.evaluate import answer_from, evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import Unit, catalogue

FILE = """\
sequence: kept
title: What is kept of several readings
steps:
  - measure: lowest
    say: Flex it, keep the lowest.
    at: [outlet.1, outlet.2]
    function: resistance
    keep: lowest
    accept: between 56 ohm and 70 ohm
  - measure: highest
    say: Flex it, keep the highest.
    at: [outlet.1, outlet.2]
    function: resistance
    keep: highest
    accept: at most 70 ohm
  - measure: steady
    say: Read it again and again.
    at: [outlet.1, outlet.2]
    function: resistance
    accept: between 50 ohm and 70 ohm
  - measure: apart
    say: Nothing joins them.
    at: [outlet.1, outlet.2]
    function: continuity
    accept: at least 1 Mohm
  - measure: joined
    say: A wire joins them.
    at: [outlet.1, outlet.2]
    function: resistance
    accept: at most 5 kohm
"""


@pytest.fixture(scope="module")
def plan():
    route = "route: r\ntitle: Kept\nequipment: [tb-mu1]\nsequences: [kept]\n"
    texts = {**catalogue().texts, "kept.yaml": FILE, "r.yaml": route}
    return make_plan(catalogue_from_texts(texts), "r", "tb-mu1", staffed())


@pytest.fixture(scope="module")
def unit(plan) -> Unit:
    unit = Unit(plan)
    unit.hold("tb-m1")
    return unit


def tried(unit: Unit, step: str, typed: str, *repeats: str, on: str = ""):
    given = ReadingAnswer(typed=typed, repeats=repeats, range=on)
    return evaluate(unit.plan, unit.state, f"kept.{step}", given, at=unit.at)


class TestRange:
    """tb-m1 has ranges to 60, 600 ohm, 6, 60, 600 kohm, 6 and 60 Mohm; it comes down below nine tenths."""

    def test_a_reading_alone_is_on_the_smallest_range_that_shows_it(self, unit):
        content = tried(unit, "lowest", "57.00 ohm").content
        assert content.range_shown == "60 ohm"
        assert content.range_before == ""

    def test_near_the_edge_the_last_digit_tells_the_range(self, unit):
        assert tried(unit, "lowest", "57.0 ohm").content.range_shown == "600 ohm"
        in_touch = tried(unit, "lowest", "62.0 ohm", "57.00 ohm").content
        assert (in_touch.range_before, in_touch.range_shown) == ("600 ohm", "60 ohm")

    def test_a_zero_was_read_on_the_range_that_shows_such_a_zero(self, unit):
        found = tried(unit, "highest", "0.0 ohm").content
        assert found.range_shown == "600 ohm"
        assert found.budget[0].value == pytest.approx(3 * 0.1)
        assert tried(unit, "highest", "0.00 ohm").content.range_shown == "60 ohm"
        again = evaluate(unit.plan, unit.state, "kept.highest", answer_from(found), at=unit.at)
        assert again.content == found

    def test_a_zero_that_was_dropped_is_no_other_range(self, unit):
        assert tried(unit, "lowest", "50.1 ohm").content.range_shown == "60 ohm"

    def test_a_meter_in_touch_keeps_its_range_near_the_edge(self, unit):
        content = tried(unit, "lowest", "62.0 ohm", "57.0 ohm").content
        assert content.value == 57.0
        assert (content.range_before, content.range_shown) == ("600 ohm", "600 ohm")
        assert content.budget[0].source.endswith("range to 600 ohm")

    def test_it_comes_down_well_inside_the_smaller_range(self, unit):
        content = tried(unit, "lowest", "62.0 ohm", "53.0 ohm").content
        assert (content.range_before, content.range_shown) == ("600 ohm", "60 ohm")

    def test_what_came_later_changes_nothing(self, unit):
        content = tried(unit, "lowest", "57.00 ohm", "62.0 ohm").content
        assert content.range_shown == "60 ohm"
        assert content.range_before == ""

    def test_the_wider_range_can_turn_a_pass_into_a_conditional_one(self, unit):
        afresh, in_touch = tried(unit, "lowest", "56.50 ohm"), tried(unit, "lowest", "62.0 ohm", "56.5 ohm")
        assert (afresh.judgement, in_touch.judgement) == ("pass", "conditional pass")

    def test_a_mean_is_known_as_well_as_the_coarsest_of_its_ranges(self, unit):
        content = tried(unit, "steady", "59.0 ohm", "61.0 ohm", "59.0 ohm").content
        assert content.range_shown == "600 ohm"
        assert content.budget[0].source.endswith("range to 600 ohm")

    def test_over_range_leaves_a_meter_on_its_largest(self, unit):
        content = tried(unit, "lowest", "OL", "57.0 ohm").content
        assert (content.range_before, content.range_shown) == ("60 Mohm", "600 ohm"), "57 is not well inside 60"
        assert tried(unit, "lowest", "OL", "55 Mohm").content.range_shown == "60 Mohm"

    def test_a_range_set_by_hand_stays(self, unit):
        content = tried(unit, "lowest", "570 ohm", "57 ohm", on="600 ohm").content
        assert (content.range, content.range_before, content.range_shown) == ("600 ohm",) * 3

    def test_every_answer_begins_afresh_superseding_and_after_a_withdrawal(self, plan):
        unit = Unit(plan)
        unit.hold("tb-m1")
        unit.reads("kept.lowest", "62.0 ohm")
        again = tried(unit, "lowest", "57.00 ohm").content
        assert (again.range_shown, again.range_before) == ("60 ohm", "")


sizes = st.floats(0.5, 5e5).map(lambda ohms: f"{ohms:.6g} ohm")
HELD: dict[str, Unit] = {}
"""One unit for all generated cases; not an argument, which hypothesis would print."""


@pytest.fixture
def held(unit):
    HELD["unit"] = unit


@pytest.mark.usefixtures("held")
@settings(max_examples=150, deadline=None)
@given(typed=st.lists(sizes, min_size=1, max_size=6), step=st.sampled_from(["lowest", "highest", "steady"]))
def test_what_an_entry_keeps_is_enough_to_judge_it_the_same_again(typed, step):
    unit = HELD["unit"]
    first = tried(unit, step, *typed)
    again = evaluate(unit.plan, unit.state, f"kept.{step}", answer_from(first.content), at=unit.at)
    assert first.complaint is None
    assert again.content == first.content
    meter = unit.plan.meters["tb-m1"]
    ranges = [""]
    for text in typed:
        read = read_reading(text, kind=Kind.resistance)
        before = ranges[-1] or None
        ranges.append(range_of(meter, Function.resistance, read.si, previous=before, step=read.si_step).name)
    if step == "steady":
        assert first.content.range_shown in ranges
    else:
        assert (first.content.range_before, first.content.range_shown) in set(pairwise(ranges))


class TestOverRange:
    """ "OL" says that there is more than the range in use can show, and nothing beyond that."""

    def test_of_a_large_range_meets_a_minimum(self, unit):
        found = tried(unit, "lowest", "OL")
        assert found.judgement == "fail", "more than 60 Mohm is outside a band that ends at 70 ohm"
        assert "over the meter's range (more than 60 Mohm)" in found.sentence
        assert found.content.over_range_at == 60e6

    def test_of_a_small_range_does_not_show_isolation(self, unit):
        found = tried(unit, "apart", "OL")
        assert found.judgement == "not judged"
        assert "more than 600 ohm" in found.sentence
        assert "does not tell whether" in found.sentence

    def test_of_a_range_set_too_low_does_not_tell(self, unit):
        assert tried(unit, "joined", "OL", on="600 ohm").judgement == "not judged"
        assert tried(unit, "joined", "OL", on="6 kohm").judgement == "fail"
        assert tried(unit, "joined", "OL").judgement == "fail"


def test_no_meter_whose_calibration_has_run_out_is_advised(unit):
    """tb-m2 was due on 2026-06-10."""
    given = ReadingAnswer(typed="6e1 ohm", meter="tb-m1")

    def said(day: str) -> str:
        return evaluate(unit.plan, unit.state, "kept.lowest", given, at=f"{day}T09:00:00.000Z").sentence

    assert said("2026-06-01").endswith(
        "with every digit that the meter shows, or with “Hand meter, average responding”."
    )
    assert said("2026-11-25").endswith("with every digit that the meter shows.")
