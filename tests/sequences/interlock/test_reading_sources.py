"""What a reading may be taken for, by where its digits come from."""

from dataclasses import replace

import pytest

from benchapp.sequences.answering.readings import ReadingAnswer, reading_from
from benchapp.sequences.language.vocabulary import ReadingSource, Supply
from benchapp.sequences.planning.contents import content_json, read_content
from benchapp.sequences.planning.entries import Accepted, EntryKind
from tests.sequences.bench import BACK, METERS, Refused, Unit

BY_HAND_ONLY = "This reading is never taken by itself"


def sent(unit: Unit, address: str, source: ReadingSource, typed: str = "", line: str = "+1.0E+00"):
    step = unit.plan.step(address)
    unit.prepare(step)
    said = {"typed": typed or unit.good_reading(step), "meter": METERS[step.function]}
    return unit.answer(address, ReadingAnswer(**said, source=source, sent=line))


def refused(unit: Unit, address: str, source: ReadingSource, **more) -> str:
    with pytest.raises(Refused) as found:
        sent(unit, address, source, **more)
    return str(found.value)


@pytest.mark.parametrize("source", list(ReadingSource))
def test_an_entry_says_where_its_digits_come_from(dead_tested, source):
    if source in (ReadingSource.keys, ReadingSource.transcribed):
        line = "" if source is ReadingSource.keys else "7;0.05"
    else:
        line = "+5.00E-02"
    entry = sent(dead_tested, "continuity.primary", source, line=line)
    again = read_content(EntryKind.answer, content_json(entry.content))
    assert (again.source, again.sent) == (source, line)
    assert reading_from(again).source is source


def test_a_reading_by_wire_is_judged_as_a_typed_one(dead_tested):
    typed = sent(dead_tested, "continuity.primary", ReadingSource.keys, typed="480 ohm", line="").content
    wired = sent(dead_tested, "continuity.primary", ReadingSource.steady, typed="480 ohm").content
    assert replace(wired, source=ReadingSource.keys, sent="") == typed


def test_the_wrong_meter_is_refused_by_wire_too(dead_tested):
    given = ReadingAnswer(typed="0.05 ohm", meter="tb-pm1", source=ReadingSource.steady, sent="+5E-02")
    with pytest.raises(Refused, match="“Plug-in mains meter with leakage current” has no function"):
        dead_tested.answer("continuity.earth", given)


def test_over_range_is_never_taken_by_itself(dead_tested):
    address = "continuity.live-earth"
    assert BY_HAND_ONLY in refused(dead_tested, address, ReadingSource.steady, typed="OL")
    assert sent(dead_tested, address, ReadingSource.wire, typed="OL", line="9.9E37")


def test_a_tester_that_drives_the_unit_is_read_by_its_own_key(dead_tested):
    assert BY_HAND_ONLY in refused(dead_tested, "continuity.earth", ReadingSource.steady)
    assert sent(dead_tested, "continuity.earth", ReadingSource.wire)


def test_nothing_proves_the_leads_by_itself(dead_tested):
    assert BY_HAND_ONLY in refused(dead_tested, "continuity.leads-before", ReadingSource.steady)


def test_nothing_proves_a_unit_dead_by_itself(dead_tested):
    """0 V with the probes off looks like 0 V."""
    powered = dead_tested
    powered.go_to("first-power.current")
    for address in BACK[:2]:
        powered.do(address)
    assert BY_HAND_ONLY in refused(powered, BACK[2], ReadingSource.steady)
    assert "kept says nothing here" in refused(powered, BACK[2], ReadingSource.transcribed)
    assert sent(powered, BACK[2], ReadingSource.wire, line="+1.0E-02")


def test_what_a_tester_kept_is_judged_and_opens_no_live_step_by_itself(dead_tested):
    unit = dead_tested
    sent(unit, "continuity.earth", ReadingSource.transcribed, line="7;0.05")
    assert unit.state.steps["continuity.earth"].judgement == "pass"
    row = next(one for one in unit.state.interlock[Supply.limited] if one.id == "earth continuity")
    assert (row.holds, row.go_to, row.accepts) == (False, "continuity.earth", Accepted.transcribed.value)
    assert "kept in a tester: read it here" in row.why
    with pytest.raises(Refused, match="kept in a tester"):
        unit.answer("first-power.plug-in", unit.good(unit.plan.step("first-power.plug-in")))


def test_a_supervisor_may_accept_what_a_tester_kept_and_only_what_is_there_then(dead_tested):
    unit = dead_tested

    def holds():
        return next(one for one in unit.state.interlock[Supply.limited] if one.id == "earth continuity").holds

    sent(unit, "continuity.earth", ReadingSource.transcribed, line="7;0.05")
    said = {"what": Accepted.transcribed.value, "reason": "I saw it tested"}
    unit.record(EntryKind.acceptance, "", "MH", **said)
    assert holds()
    sent(unit, "continuity.earth", ReadingSource.transcribed, line="9;0.06")
    assert not holds()


def test_a_kept_reading_without_its_row_is_refused(dead_tested):
    assert "with the row that it kept" in refused(dead_tested, "continuity.earth", ReadingSource.transcribed, line="")


def test_a_kept_reading_says_nothing_of_a_unit_under_power(dead_tested):
    unit = dead_tested
    unit.go_to("first-power.current")
    assert "kept says nothing here" in refused(unit, "first-power.current", ReadingSource.transcribed)
