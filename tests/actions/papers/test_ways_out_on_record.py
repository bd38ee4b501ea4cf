"""What honest hands did beside the steps stands on the record sheet: opened to look, and an alarm that was false."""

from benchapp.actions.entries.faults import record_false_alarm, record_hazard, record_opened
from benchapp.actions.papers.record_content import record_content
from benchapp.sequences.planning.false_alarms import LOOKS


def test_what_was_opened_to_look_stands_among_the_repairs_with_its_reason(bench, lot):
    record_opened(bench, "TB-001", ["enclosure"], by="AB", why="something rattles")
    line = record_content(bench, "TB-001").repairs[-1]
    assert line.words.endswith("opened to look: something rattles")
    assert (line.opened, line.by) == ("enclosure", "AB")


def test_a_false_alarm_stands_with_its_reason_where_the_hazard_stands(bench, lot):
    record_hazard(bench, "TB-001", "smoke", by="AB")
    number = bench.entries("TB-001")[-1].number
    record_false_alarm(bench, "TB-001", number, by="AB", reason="meant F11", looked=LOOKS)
    fault = record_content(bench, "TB-001").faults[-1]
    assert fault.words == "smoke while it was on"
    assert fault.state == "closed: a false alarm: meant F11"
