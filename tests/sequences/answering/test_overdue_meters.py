"""An overdue meter is taken knowingly, unless the author of the sequence takes none."""

import pytest

from benchapp.sequences.answering.instruments import meters_on_offer
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import Refused, Unit, catalogue

FILE = """\
sequence: own
title: One reading
{more}steps:
  - measure: path
    say: Between the pins.
    at: [outlet.1, outlet.4]
    function: resistance
    accept: at most 2 ohm
"""


def unit_with(more: str = "") -> Unit:
    route = "route: r\ntitle: One\nequipment: [tb-mu1]\nsequences: [own]\n"
    texts = {**catalogue().texts, "own.yaml": FILE.format(more=more), "r.yaml": route}
    unit = Unit(make_plan(catalogue_from_texts(texts), "r", "tb-mu1", staffed()))
    unit.wait(days=30)  # tb-m2 was due on 10 June
    unit.hold("tb-m1")
    unit.hold("tb-m2", overdue_accepted=True)
    return unit


def read_with(unit: Unit, meter: str):
    return unit.answer("own.path", ReadingAnswer(typed="0.30 ohm", meter=meter))


def test_accepted_knowingly_it_reads_and_the_record_says_so():
    entry = read_with(unit_with(), "tb-m2")
    assert any("calibration overdue since" in words for words in entry.content.meter_cautions)


def test_where_the_author_refuses_it_no_reading_of_it_is_taken():
    unit = unit_with("overdue meters: refused\n")
    with pytest.raises(Refused, match=r"was due on 2026-06-10, and “One reading” takes no reading of an overdue meter"):
        read_with(unit, "tb-m2")
    assert read_with(unit, "tb-m1").content.judgement == "pass"


def test_it_is_offered_last_with_the_reason():
    unit = unit_with("overdue meters: refused\n")
    step = unit.plan.step("own.path")
    assert step.overdue_refused
    offers = dict(meters_on_offer(unit.state.evaluation, step))
    assert offers["tb-m1"] == ""
    assert "takes no reading of an overdue meter" in offers["tb-m2"]


def test_an_answer_from_before_the_author_refused_does_not_count_for_the_step_as_it_is_now():
    before, after = unit_with(), unit_with("overdue meters: refused\n")
    entry = read_with(before, "tb-m2")
    after.entries.append(entry)
    assert entry.content.step_digest != after.plan.step("own.path").digest
    assert not after.state.steps["own.path"].holds


def test_sequences_that_refuse_nothing_keep_their_digests():
    assert (
        unit_with("overdue meters: accepted\n").plan.step("own.path").digest == unit_with().plan.step("own.path").digest
    )
