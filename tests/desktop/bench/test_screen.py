"""What the Bench does around its pages: faults, repairs, shut steps, smoke and smell, stages across the lot."""

import pytest

from benchapp.desktop.bench.page_routing import page_for
from benchapp.desktop.bench.sweep import Sweep
from demo.playing import Player
from tests.desktop.walks import AT_PINS, DEAD, unit_of, work_until


def last(technician):
    return technician.window.context.bench.entries(technician.view.mark)[-1]


def test_a_failed_reading_is_taken_again_or_recorded_as_a_fault(walked_to):
    technician = walked_to(AT_PINS)
    technician.type("OL")
    technician.strike("Enter")
    assert technician.page.name == "fault"
    technician.strike("F3")
    assert technician.page.name == "reading"
    technician.strike("Esc")
    assert technician.page.name == "fault"
    technician.tab_to("fault-words")
    technician.strike("Enter")
    assert technician.complaint == "Say which part and what is wrong with it, or take the step again with F3."
    technician.tab_to("fault-part")
    technician.retype("low")
    technician.tab_to("fault-mode")
    technician.retype("open")
    technician.strike("Enter")
    entry = last(technician)
    assert (entry.kind, entry.content.part, entry.content.mode) == ("fault", "low", "open")
    assert technician.page.name == "repair"


def test_a_step_taken_again_and_good_needs_no_fault(walked_to):
    technician = walked_to(AT_PINS)
    technician.type("OL")
    technician.strike("Enter", "F3")
    technician.type("1.4")
    technician.strike("Enter")
    assert technician.page.name == "reading"
    assert technician.address == "continuity.outputs/outlet.1-outlet.3"


def test_the_key_for_smoke_and_smell_is_on_every_live_page_and_on_no_dead_one(technician):
    technician.take_unit("TB-001")
    seen = {}

    def watch():
        view = technician.view
        seen.setdefault(view.live, set()).add(technician.window.bench.off.isVisible())
        return page_for(view) == "outcome"

    work_until(technician, unit_of(), watch)
    assert seen == {False: {False}, True: {True}}


def test_smoke_holds_the_unit_and_shuts_everything_live(at_live):
    at_live.strike("F12")
    assert "OFF AT THE WALL, now, or plug out" in at_live.reads("hazard-off")
    at_live.strike("1")
    assert (last(at_live).kind, last(at_live).content.hazard) == ("hazard", "smoke")
    assert at_live.window.context.bench.unit("TB-001").disposition == "hold"
    assert at_live.due == "way-back"


def test_the_key_struck_by_mistake_records_nothing(at_live):
    before = last(at_live).number
    at_live.strike("F12", "Esc")
    assert last(at_live).number == before
    assert at_live.page.name == "reading"


def test_the_key_does_nothing_on_a_dead_page(technician):
    technician.take_unit("TB-001")
    technician.strike("F12")
    assert technician.page.name == "caution"


def test_the_next_unit_waits_until_this_one_is_dead(at_live):
    at_live.strike("F5")
    assert at_live.view.mark == "TB-001"
    assert "way back" in at_live.complaint


def test_a_shut_step_says_what_is_missing_and_goes_there(technician):
    sweep = Sweep(lot="Shelf nine", stage="continuity", title="Continuity")
    technician.take_unit("TB-001")
    technician.window.bench.navigation.take_unit("TB-001", sweep)
    technician.settle()
    assert technician.page.name == "shut"
    assert technician.page.list.rows()[0].words == "Visual inspection is done"
    technician.strike("Enter")
    assert technician.address.startswith("visual-inspection.")


def test_a_stage_is_taken_across_the_lot(technician):
    technician.strike("F2", "Ctrl+Home", "Up", "Enter")
    taken = []
    for _ in range(18):
        if technician.window.stack.currentWidget().objectName() != "bench":
            break
        if technician.view.mark not in taken:
            taken.append(technician.view.mark)
        Player(technician, lambda _page: None).do_what_is_due(unit_of(technician.view.mark))
    assert taken == ["TB-001", "TB-002", "TB-003"]
    assert technician.said == "Visual inspection is done as far as it goes in Shelf nine."
    board = technician.window.context.bench.board("Shelf nine")
    assert [str(row.cells[0].word) for row in board.rows] == ["done", "done", "done"]


def test_a_fall_asks_for_the_dead_tests_again(walked_to):
    technician = walked_to(DEAD)
    technician.strike("F9", "1")
    assert last(technician).content.event == "fall"
    assert technician.address.startswith("visual-inspection")


def test_the_bench_opening_is_called_up_by_its_key_and_left_again(technician):
    technician.take_unit("TB-001")
    technician.strike("F8")
    assert technician.page.name == "opening"
    technician.strike("Esc")
    assert technician.page.name == "caution"


def test_leads_that_are_no_resistance_are_refused_with_a_sentence(technician):
    technician.take_unit("TB-001")
    technician.strike("F8")
    technician.tab_to("opening-leads-tb-m1")
    technician.retype("3 V")
    technician.strike("Ctrl+Enter")
    assert "3 V" in technician.complaint
    for typed, words in (("OL", "are broken"), ("-0.2", "never below zero"), ("40", "take other leads")):
        technician.retype(typed)
        technician.strike("Ctrl+Enter")
        assert words in technician.complaint
    technician.retype("0.2")
    technician.strike("Ctrl+Enter")
    proof = next(one for one in technician.window.context.bench.opening().meters if one.meter == "tb-m1")
    assert proof.lead_resistance == 0.2


def test_the_bench_opening_keeps_the_rating_and_the_reset_of_the_rcd(technician):
    technician.take_unit("TB-001")
    technician.strike("F8")
    technician.tab_to("opening-rcd-rating")
    for typed in ("30 V", "-30", "OL"):
        technician.retype(typed)
        technician.strike("Ctrl+Enter")
        assert typed in technician.complaint
    technician.retype("10")
    technician.tab_to("opening-rcd-reset")
    before = technician.page.form.reset.isChecked()
    technician.strike("Space")
    technician.strike("Ctrl+Enter")
    opening = technician.window.context.bench.opening()
    assert (opening.rcd_rating, opening.rcd_reset) == (0.01, not before)


@pytest.mark.parametrize(("key", "place"), [("F8", "opening-fire"), ("F12", "hazard-fire")])
def test_what_to_do_at_a_fire_stands_on_the_bench_opening_and_behind_the_large_key(at_live, key, place):
    at_live.strike(key)
    words = at_live.reads(place)
    for said in ("main switch", "everybody out", "fire service", "No water on what is live", "dry powder rated"):
        assert said in words


def test_another_windows_entry_is_shown_and_what_was_typed_stays(technician, path, clock):
    from benchapp.actions.entries.answers import record_answer
    from benchapp.actions.entries.conditions import record_caution
    from benchapp.sequences.kinds.ask import AskAnswer

    technician.take_unit("TB-001")
    technician.strike("y")
    bench = technician.window.context.bench
    record_caution(bench, "TB-001", "unplugged-work", by="CD")
    changes = record_answer(bench, "TB-001", "visual-inspection.plug", AskAnswer(answer="rewirable"), by="CD")
    technician.window.change_signals.changed.emit(changes)
    assert technician.address == "visual-inspection.old-hazards"


def test_for_sale_is_refused_with_the_reason_while_something_is_left(technician):
    technician.take_unit("TB-001")
    technician.strike("F6", "1")
    assert technician.complaint.startswith("It cannot be marked “for sale”")
    assert technician.window.context.bench.unit("TB-001").disposition == "quarantine"


def test_spares_open_only_once_the_plug_is_destroyed(technician):
    technician.take_unit("TB-001")
    technician.strike("F6", "2")
    assert "plug" in technician.complaint
    technician.strike("d")
    technician.type("01")
    technician.tab_to("sure-why")
    technician.type("past mending")
    technician.strike("Enter")
    assert last(technician).kind == "plug-destroyed"
    technician.strike("2")
    assert technician.window.context.bench.unit("TB-001").disposition == "spares or repair"


def test_a_caution_that_was_read_stands_in_one_line_on_each_page_that_it_governs(technician):
    technician.take_unit("TB-001")
    assert technician.page.name == "caution"
    assert "Mind:" not in technician.reads("position")
    technician.strike("y")
    title = technician.view.plan.cautions[technician.view.plan.stages[0].cautions[0]].title
    assert technician.reads("position").endswith(f"Mind: {title}")
