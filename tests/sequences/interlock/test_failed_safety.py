"""A failed reading of earth, insulation or polarity stands until somebody says why it does not, or has it mended."""

from dataclasses import replace

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.entries import EntryKind
from tests.people import staffed
from tests.sequences.bench import METERS, Refused, Unit

BAD = {
    "continuity.earth": ("7 ohm", "0.05 ohm"),
    "continuity.live-earth": ("10 ohm", "OL"),
    "insulation.live-to-case": ("0.2 Mohm", ">200 Mohm"),
}


def read(unit: Unit, address: str, typed: str, why: str = ""):
    given = ReadingAnswer(typed=typed, meter=METERS[unit.plan.step(address).function], why=why)
    tried = evaluate(unit.plan, unit.state, address, given, at=unit.at)
    return unit.record_content(EntryKind.answer, tried.content, address)


@pytest.mark.parametrize("address", BAD)
def test_a_failed_reading_of_safety_is_read_again_only_with_a_reason(unit, address):
    bad, good = BAD[address]
    unit.go_to(address)
    failed = read(unit, address, bad)
    assert str(failed.content.judgement) == "fail"
    with pytest.raises(Refused, match=f"{bad} \\(KT\\) failed here. Say why it is read again"):
        read(unit, address, good)
    with pytest.raises(Refused, match="Say why"):
        read(unit, address, good, "  ")
    again = read(unit, address, good, "the clip sat on paint")
    assert again.content.why == "the clip sat on paint"


def test_a_failed_reading_of_safety_is_taken_back_only_with_a_reason(unit):
    unit.go_to("continuity.earth")
    failed = read(unit, "continuity.earth", "7 ohm")
    with pytest.raises(Refused, match="say why it is taken back"):
        unit.record(EntryKind.withdrawal, number=failed.number)
    unit.record(EntryKind.withdrawal, number=failed.number, why="the clip sat on paint")
    assert read(unit, "continuity.earth", "0.05 ohm")


def test_after_a_repair_no_reason_is_asked(unit):
    unit.go_to("continuity.earth")
    read(unit, "continuity.earth", "7 ohm")
    fault = unit.state.faults[0].entry
    unit.record(EntryKind.repair, part="case-bond", done="new tag", opened=["enclosure"], fault=fault)
    unit.go_to("continuity.earth")
    assert read(unit, "continuity.earth", "0.05 ohm")


def test_other_readings_are_read_again_without_a_word(unit):
    unit.go_to("continuity.leads-before")
    read(unit, "continuity.leads-before", "7 ohm")
    assert read(unit, "continuity.leads-before", "0.1 ohm")


@pytest.mark.parametrize("taken_back", [False, True])
def test_no_tester_in_the_settings_opens_nothing_after_insulation_was_found_bad(unit, taken_back):
    unit.go_to("insulation.live-to-case")
    failed = read(unit, "insulation.live-to-case", "0.2 Mohm")
    if taken_back:
        unit.record(EntryKind.withdrawal, number=failed.number, why="never mind")
    unit.plan = replace(unit.plan, workshop=staffed(insulation_tester=False))
    unit.record(EntryKind.supervisor_opening, "", "SV", reason="known design")
    row = next(one for one in unit.state.interlock[Supply.limited] if one.id == "insulation")
    assert not row.holds
    assert row.why.startswith("a reading found it bad")
