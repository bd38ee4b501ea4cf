"""Each page of the Bench, worked by keys in a real window on a real workbook file."""

import pytest

from benchapp.sequences.planning.entry_times import seconds_between


def last(technician):
    """What was recorded last for the unit at hand."""
    return technician.window.context.bench.entries(technician.view.mark)[-1]


def go_to(technician, page):
    """Work through the pages before the one wanted, all good."""
    while technician.page.name != page:
        WORK[technician.page.name](technician)


def inspect(technician):
    technician.mark_rows()


def ask(technician):
    if technician.address.endswith("found"):
        technician.strike("1")
    else:
        technician.type("1.8")
        technician.strike("Enter")


def wait(technician):
    technician.strike("Enter")


def read(technician):
    technician.type("485")
    technician.strike("Enter")


WORK = {
    "caution": lambda technician: technician.strike("y"),
    "inspect": inspect,
    "work": lambda technician: technician.confirm_rows(),
    "set-up": lambda technician: technician.confirm_rows(),
    "ask": ask,
    "wait": wait,
    "meter": lambda technician: technician.strike("1"),
    "reading": read,
    "compute": lambda technician: technician.strike("Enter"),
}


def test_a_caution_is_read_before_anything_else(every_step):
    assert every_step.page.name == "caution"
    assert "Stored charge" in every_step.reads("caution-title")
    assert "licensed people" in every_step.reads("caution-words")
    every_step.strike("Enter")
    assert every_step.page.name == "caution"
    every_step.strike("y")
    assert last(every_step).kind == "caution"
    assert every_step.page.name == "inspect"


def test_every_checkpoint_is_marked_before_an_inspection_is_recorded(every_step):
    go_to(every_step, "inspect")
    every_step.strike("1", "Enter")
    assert every_step.complaint == "2 of 3 are not marked yet: 1 good, 2 bad, 3 does not apply."
    every_step.strike("1", "1")
    assert last(every_step).content.marks == {"cord": "good", "case": "good", "label": "good"}


def test_a_bad_checkpoint_shows_its_fault_and_asks_for_its_repair(every_step):
    go_to(every_step, "inspect")
    every_step.strike("2")
    assert every_step.page.list.rows()[0].detail == "The cord is damaged"
    every_step.strike("1", "1")
    assert every_step.page.name == "inspect", "what is bad is looked at once more"
    every_step.strike("Enter")
    assert every_step.due == "repair"
    assert "cord, damaged" in every_step.reads("repair-say")
    assert "The cord is damaged" in every_step.reads("repair-reason")


def test_work_is_confirmed_action_by_action_with_its_parts(every_step):
    go_to(every_step, "work")
    every_step.strike("Enter")
    assert every_step.page.name == "work"
    every_step.tab_to("work-parts")
    every_step.retype("cotton cloth 2, soap")
    every_step.strike("Shift+Tab", "Enter", "Enter")
    entry = last(every_step)
    assert entry.content.done == ("Wipe the case with a dry cloth", "Wipe the plug pins")
    assert [(part.part, part.number) for part in entry.content.parts_used] == [("cotton cloth", 2), ("soap", 1)]


def test_one_key_answers_a_question(every_step):
    go_to(every_step, "ask")
    every_step.strike("2")
    assert last(every_step).content.answer == "something light"


def test_a_key_without_an_answer_records_nothing(every_step):
    go_to(every_step, "ask")
    before = last(every_step).number
    every_step.strike("7")
    assert last(every_step).number == before


def test_a_typed_value_is_an_answer_too(every_step):
    go_to(every_step, "ask")
    every_step.strike("1")
    every_step.type("six feet")
    every_step.strike("Enter")
    assert "six feet" in every_step.complaint
    every_step.retype("1.8")
    every_step.strike("Enter")
    assert last(every_step).content.answer == "1.8 m"


def test_a_wait_is_recorded_when_its_time_is_up_and_not_before(every_step):
    """Enter that comes early is kept, and recorded when the entries prove the time, without another key."""
    go_to(every_step, "wait")
    before = last(every_step)
    every_step.strike("Enter")
    waited = last(every_step)
    assert waited.content.seconds == 40.0
    assert seconds_between(before.at, waited.at) >= 40.0


def test_the_meter_in_hand_is_one_that_has_the_function(every_step):
    go_to(every_step, "meter")
    assert every_step.page.list.rows()[0].words.startswith("Hand meter, true RMS")
    every_step.strike("1")
    assert last(every_step).content.meter == "tb-m1"


def test_an_overdue_meter_is_taken_only_knowingly(every_step, clock):
    go_to(every_step, "meter")
    clock.pass_days(60)
    every_step.strike("F9", "Esc")
    go_to(every_step, "meter")
    every_step.strike("2")
    assert "overdue" in every_step.complaint
    every_step.strike("2")
    assert last(every_step).content.overdue_accepted is True


def test_the_set_up_is_confirmed_item_by_item(every_step):
    go_to(every_step, "set-up")
    every_step.confirm_rows()
    assert last(every_step).content.items == ("switch on", "selector at 240")


def test_the_gauge_moves_and_the_judgement_stands_there_before_anything_is_recorded(every_step):
    go_to(every_step, "reading")
    before = last(every_step).number
    content = every_step.page.gauge.content()
    assert (content.value, content.judgement) == (None, "")
    assert content.lower < 480 < content.upper
    every_step.type("48")
    assert every_step.page.gauge.content().judgement == "fail"
    every_step.type("5")
    assert every_step.page.gauge.content().judgement == "pass"
    assert every_step.page.gauge.content().value == pytest.approx(485 - 0.12)
    assert last(every_step).number == before
    every_step.strike("Enter")
    assert last(every_step).content.judgement == "pass"


def test_the_band_says_why_it_is_what_it_is(every_step):
    go_to(every_step, "reading")
    assert "the primary winding: 480 ohm ± 10 %" in every_step.reads("reading-why")
    assert "60228" in every_step.reads("reading-why")


def test_the_uncertainty_of_a_reading_stands_in_a_line_and_its_sources_behind_a_key(every_step):
    go_to(every_step, "reading")
    assert not every_step.page.budget.isVisible()
    every_step.type("485")
    line = every_step.reads("reading-uncertainty")
    assert line.startswith("Uncertainty ± ")
    assert "accuracy ±(" in line
    assert every_step.page.budget.rows() == []
    every_step.strike("Ctrl+Shift+U")
    head, *sources = every_step.page.budget.rows()
    total = every_step.page.budget.total.text()
    assert head == ["source", "value", "distribution", "sensitivity", "contribution", "share"]
    assert any(row[0].startswith("accuracy ±(") and row[2] == "rectangular" for row in sources)
    assert total.startswith("u = ")
    every_step.strike("Ctrl+Shift+U")
    assert every_step.page.budget.rows() == []


def test_readings_of_the_same_are_typed_one_after_the_other_and_their_spread_counts(every_step):
    go_to(every_step, "reading")
    every_step.type("484; 486; 485;")
    assert every_step.page.gauge.content().value == pytest.approx(485 - 0.12)
    assert every_step.complaint == ""
    every_step.strike("Ctrl+Shift+U")
    assert any(row[0] == "spread of 3 readings" and row[2] == "t" for row in every_step.page.budget.rows())
    every_step.strike("Ctrl+Shift+U", "Enter")
    content = last(every_step).content
    assert (content.typed, content.repeats) == ("484", ("486", "485"))
    assert content.value == pytest.approx(485 - 0.12)


def test_the_range_is_the_meters_own_unless_it_is_named(every_step):
    go_to(every_step, "reading")
    every_step.type("485")
    assert every_step.reads("reading-meter").endswith("range by itself")
    every_step.strike("Ctrl+G")
    assert every_step.reads("reading-meter").endswith("range to 60 ohm")
    assert "cannot show this on its resistance range to 60 ohm" in every_step.complaint
    every_step.strike("Ctrl+G", "Ctrl+G")
    assert "range to 6 kohm" in every_step.reads("reading-uncertainty")
    every_step.strike("Enter")
    assert last(every_step).content.range == "6 kohm"


def test_what_must_be_said_of_the_meter_stands_beside_the_reading(every_step):
    from benchapp.actions.entries.conditions import record_fact

    go_to(every_step, "reading")
    assert every_step.reads("reading-cautions") == ""
    bench = every_step.window.context.bench
    every_step.window.change_signals.changed.emit(record_fact(bench, "TB-001", {"room temperature": 33.0}, by="AB"))
    assert "outside 18 °C to 28 °C" in every_step.reads("reading-cautions")


def test_the_face_lights_the_two_pins_and_names_the_probes(every_step):
    go_to(every_step, "reading")
    assert every_step.page.face.words() == [
        "ONE probe: 13 A plug, the live pin",
        "OTHER probe: 13 A plug, the neutral pin",
    ]


def test_a_reading_of_the_wrong_kind_is_refused_with_a_sentence_and_stays_typed(every_step):
    go_to(every_step, "reading")
    before = last(every_step).number
    every_step.type("12 V")
    every_step.strike("Enter")
    assert "12 V" in every_step.complaint
    assert every_step.reads("reading-field") == "12 V"
    assert last(every_step).number == before


def test_the_star_key_writes_over_range(every_step):
    go_to(every_step, "reading")
    every_step.strike("*")
    assert every_step.reads("reading-field") == "OL"


def test_an_empty_field_is_not_recorded(every_step):
    go_to(every_step, "reading")
    every_step.strike("Enter")
    assert every_step.complaint == "Type what the meter shows, then Enter. Over range is OL, or the * key."


def test_this_lots_earlier_readings_stand_beside_the_band(every_step):
    go_to(every_step, "compute")
    every_step.take_unit("TB-002")
    go_to(every_step, "reading")
    assert "TB-001 484.9 ohm" in every_step.reads("reading-siblings")
    assert len(every_step.page.gauge.content().siblings) == 1
    every_step.type("520 ohm")
    assert "This lot: 484.9 ohm" in every_step.reads("reading-siblings")
    assert "Too few to say what is usual" in every_step.reads("reading-siblings")


def test_a_computed_value_is_shown_before_it_is_recorded(every_step):
    go_to(every_step, "compute")
    assert every_step.page.gauge.content().judgement == "pass"
    every_step.strike("Enter")
    assert last(every_step).content.value == pytest.approx(242.44)


def test_the_unit_its_stage_and_its_position_are_named_on_every_page(every_step):
    go_to(every_step, "work")
    assert every_step.reads("unit") == "TB-001"
    assert every_step.reads("position") == "Every kind of step, step 2 of 8   Mind: Stored charge"
    assert every_step.window.bar.buttons["bench"].text() == "F4  Bench: TB-001"


def test_the_last_answer_is_taken_back_and_stays_in_the_record(every_step):
    go_to(every_step, "work")
    every_step.strike("Ctrl+Z", "Enter")
    assert every_step.page.name == "inspect"
    assert last(every_step).kind == "withdrawal"


def test_what_was_typed_is_there_again_after_moving_away(every_step):
    go_to(every_step, "reading")
    every_step.type("48")
    every_step.strike("F2", "F4")
    assert every_step.reads("reading-field") == "48"
    every_step.take_unit("TB-002")
    every_step.take_unit("TB-001")
    assert every_step.page.name == "reading"
    assert every_step.reads("reading-field") == "48"


def test_marks_of_an_inspection_are_kept_too(every_step):
    go_to(every_step, "inspect")
    every_step.strike("1", "2")
    every_step.take_unit("TB-002")
    every_step.take_unit("TB-001")
    assert every_step.page.marks == {"cord": "good", "case": "bad"}


def test_nothing_is_recorded_without_initials(every_step):
    go_to(every_step, "ask")
    before = last(every_step).number
    every_step.strike("F7")
    every_step.strike("Ctrl+A", "Backspace", "Enter")
    every_step.strike("1")
    assert "initials" in every_step.complaint
    assert last(every_step).number == before


def test_every_page_shows_its_keys(every_step):
    for page in ("caution", "inspect", "work", "ask", "wait", "meter", "set-up", "reading", "compute", "photo"):
        go_to(every_step, page)
        keys = [hint.key for hint in every_step.window.bench.hints.hints()]
        assert len(keys) == len(set(keys)) >= 3, page
        assert every_step.window.bench.hints.isVisible()
