"""A reading that is kept, and one that means off at once."""

from benchapp.sequences.answering.readings import ReadingAnswer
from tests.sequences.every_kind import tried


def test_highest_of_the_readings_is_judged_where_the_cord_is_flexed(each):
    found = tried(each, "every-kind.flexed", ReadingAnswer(typed="0.5 ohm", repeats=("3 ohm", "0.6 ohm")))
    assert found.content.value == 3.0
    assert found.judgement == "fail"


def test_over_range_once_while_flexing_is_what_counts(each):
    found = tried(each, "every-kind.flexed", ReadingAnswer(typed="0.5 ohm", repeats=("OL",)))
    assert found.judgement == "fail"


def test_stop_value_means_off_at_once(each):
    assert tried(each, "every-kind.stops", ReadingAnswer(typed="0.9 ohm")).judgement == "pass"
    found = tried(each, "every-kind.stops", ReadingAnswer(typed="1.1 ohm"))
    assert (found.judgement, found.sentence) == ("fail", "Off at once.")
    assert found.content.faults[0].part == "low"
    assert tried(each, "every-kind.stops", ReadingAnswer(typed="OL")).judgement == "fail"


def test_too_much_current_at_first_power_means_off_at_once(dead_tested):
    dead_tested.go_to("first-power.current")
    found = tried(dead_tested, "first-power.current", ReadingAnswer(typed="0.2 A", meter="tb-pm1"))
    assert found.judgement == "fail"
    assert found.sentence.startswith("Switch off at once, at the wall or by the plug.")
    assert found.questions
