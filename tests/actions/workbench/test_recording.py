"""Every entry passes the engine's gate, is on disk, and is there once."""

import threading
from datetime import timedelta

import pytest

from benchapp.actions.entries.answers import record_answer, withdraw_answer
from benchapp.actions.entries.conditions import record_caution, record_fact, record_meter, record_set_up
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.faults import (
    record_event,
    record_fault,
    record_hazard,
    record_note,
    record_opened,
    record_repair,
)
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.entries.runs import start_run
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.recording import Composed, record
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.history import unit_history
from benchapp.sequences.interlock import fold
from benchapp.sequences.kinds.inspect import InspectAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.planning.content_fields import ContentProblem
from benchapp.sequences.planning.entries import EntryKind
from benchapp.sequences.planning.entry_contents import NoteContent, PartUsed
from benchapp.sequences.planning.state import DueKind
from tests.actions.driving import do_what_is_due, good_answer
from tests.people import OPENED, staffed

OUTSIDE, WIPE = "look-over.outside", "look-over.wipe"


def test_an_answer_is_recorded_and_the_next_step_is_due(bench, lot):
    changes = record_answer(bench, "TB-001", OUTSIDE, good_answer(bench, "TB-001", OUTSIDE), by="AB")
    assert (changes.lots, changes.units) == ({lot}, {"TB-001"})
    assert changes.entries == (bench.entries("TB-001")[0].uuid,)
    assert changes.words == "All good."
    assert bench.state("TB-001").due.address == WIPE


def test_an_answer_is_there_after_the_workbook_was_closed_and_opened(bench, lot, path, clock):
    do_what_is_due(bench, "TB-001", until="coils.coil")
    bench.close()
    again = Bench.open(path, clock=clock)
    assert again.state("TB-001").due.address == "coils.coil"
    assert again.board(lot).rows[0].cells[0].word == "done"
    again.close()


def test_an_answer_the_engine_refuses_leaves_no_trace(bench, lot):
    with pytest.raises(Refused, match="is needed before this"):
        record_meter_and_read(bench)
    assert [entry.kind for entry in bench.entries("TB-001")] == ["meter"]


def record_meter_and_read(bench):
    record_meter(bench, "TB-001", "tb-m1", by="AB")
    record_answer(bench, "TB-001", "coils.leads", ReadingAnswer(typed="0.2 ohm", meter="tb-m1"), by="AB")


@pytest.mark.parametrize(
    ("address", "given", "sentence"),
    [
        ("look-over.nowhere", WorkAnswer(done=()), "This run has no step “look-over.nowhere”."),
        (OUTSIDE, WorkAnswer(done=()), "that is no answer to it"),
        (OUTSIDE, InspectAnswer(marks={}), "Still to look at: The cones are whole. and 1 more."),
    ],
)
def test_an_answer_that_is_none_is_refused_with_the_engines_sentence(bench, lot, address, given, sentence):
    with pytest.raises(Refused) as caught:
        record_answer(bench, "TB-001", address, given, by="AB")
    assert sentence in caught.value.sentence
    assert bench.entries("TB-001") == ()


def test_nobody_records_anything(bench, lot):
    with pytest.raises(Refused, match="Nobody's initials are given"):
        record_answer(bench, "TB-001", OUTSIDE, good_answer(bench, "TB-001", OUTSIDE), by="  ")


def test_one_uuid_is_recorded_once_however_often_it_is_tried(bench, lot):
    given = good_answer(bench, "TB-001", OUTSIDE)
    for _ in range(3):
        changes = record_answer(bench, "TB-001", OUTSIDE, given, by="AB", uuid="one")
    assert changes.words == "This was recorded before."
    assert len(bench.entries("TB-001")) == 1


def test_a_second_window_sees_the_first_ones_entries_and_records_behind_them(bench, lot, path, clock):
    other = Bench.open(path, clock=clock)
    assert other.state("TB-001").due.address == OUTSIDE
    record_answer(bench, "TB-001", OUTSIDE, good_answer(bench, "TB-001", OUTSIDE), by="AB")
    record_answer(other, "TB-001", WIPE, good_answer(other, "TB-001", WIPE), by="CD")
    assert [(entry.number, entry.by) for entry in bench.entries("TB-001")] == [(1, "AB"), (2, "CD")]
    other.close()


def test_two_windows_recording_at_once_lose_nothing(bench, lot, path, clock):
    other = Bench.open(path, clock=clock)

    def scribble(on, by):
        for number in range(15):
            record_note(on, "TB-001", f"{by} {number}", by=by)

    threads = [threading.Thread(target=scribble, args=pair) for pair in ((bench, "AB"), (other, "CD"))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    entries = bench.entries("TB-001")
    assert [entry.number for entry in entries] == list(range(1, 31))
    assert sorted(entry.content.words for entry in entries) == sorted(
        f"{by} {number}" for by in ("AB", "CD") for number in range(15)
    )
    other.close()


def test_an_entry_recorded_under_a_run_that_another_window_ended_is_judged_again(bench, lot, path, clock):
    other = Bench.open(path, folders=bench._folders, clock=clock)
    bench.history("TB-001")
    start_run(other, "TB-001", by="CD")
    record_note(bench, "TB-001", "after the new run", by="AB")
    assert bench.workbook.entries("TB-001")[0].run == bench.workbook.runs("TB-001")[1].uuid
    other.close()


@pytest.fixture
def walks(monkeypatch):
    """How many entries each walk over a history went through, counted around the engine's own function."""
    seen, walk = [], unit_history.UnitHistory

    def counted(plan, entries):
        seen.append(len(entries))
        return walk(plan, entries)

    for module in (unit_history, fold):
        monkeypatch.setattr(module, "UnitHistory", counted)
    return seen


def test_an_entry_costs_one_walk_over_its_history_which_goes_on_by_it(bench, lot, walks):
    given = good_answer(bench, "TB-001", OUTSIDE)
    walks.clear()
    record_answer(bench, "TB-001", OUTSIDE, given, by="AB")
    assert walks == [0]
    walks.clear()
    withdraw_answer(bench, "TB-001", by="AB")
    assert walks == [1]


def test_an_entry_that_another_window_overtook_is_composed_anew_from_what_that_one_wrote(
    bench, lot, path, clock, walks
):
    other, seen = Bench.open(path, clock=clock), []

    def compose(now):
        seen.append(now.state.last_entry)
        if len(seen) == 1:
            record_note(other, "TB-001", "first", by="CD")
        walks.append(f"composed on {now.state.last_entry}")
        return Composed(kind=EntryKind.note, content=NoteContent(words="second"))

    record(bench, "TB-001", compose, by="AB")
    assert walks == [0, 0, "composed on 0", 1, "composed on 1"]
    assert [entry.content.words for entry in bench.entries("TB-001")] == ["first", "second"]
    other.close()


def test_actions_asked_for_later_are_done_in_order(bench, lot):
    futures = [bench.later(record_note, "TB-001", f"note {number}", by="AB") for number in range(10)]
    assert [future.result().words for future in futures] == ["Noted."] * 10
    assert [entry.content.words for entry in bench.entries("TB-001")] == [f"note {n}" for n in range(10)]


def test_a_refusal_asked_for_later_arrives_with_its_sentence(bench, lot):
    future = bench.later(record_answer, "TB-001", "look-over.nowhere", WorkAnswer(done=()), by="AB")
    with pytest.raises(Refused, match="This run has no step"):
        future.result()


def test_the_last_answer_is_withdrawn_and_stays_in_the_record(bench, lot):
    do_what_is_due(bench, "TB-001", until="look-over.colour")
    changes = withdraw_answer(bench, "TB-001", by="AB", why="wrong unit")
    assert changes.words == "Taken back: the answer at Wipe of TB-001. It stays in the record."
    assert bench.state("TB-001").due.address == WIPE
    withdraw_answer(bench, "TB-001", by="AB")
    assert bench.state("TB-001").due.address == OUTSIDE
    with pytest.raises(Refused, match="TB-001 has no answer that could be withdrawn"):
        withdraw_answer(bench, "TB-001", by="AB")
    assert len(bench.entries("TB-001")) == 4


def test_an_answer_that_does_not_stand_cannot_be_withdrawn(bench, lot):
    do_what_is_due(bench, "TB-001", until=WIPE)
    with pytest.raises(Refused, match="no standing answer 7"):
        withdraw_answer(bench, "TB-001", by="AB", number=7)


def test_a_meter_carries_what_todays_bench_opening_found_of_it(bench, lot):
    record_meter(bench, "TB-001", "tb-m1", by="AB")
    record_meter(bench, "TB-001", "tb-m2", by="AB")
    first, second = (entry.content for entry in bench.entries("TB-001"))
    assert first.proved == bench.opening().at
    assert first.lead_resistance == 0.1
    assert (second.proved, second.lead_resistance) == ("", None)


def test_yesterdays_opening_proves_nothing(bench, lot, clock):
    clock.pass_days(1)
    assert bench.opening() is None
    record_meter(bench, "TB-001", "tb-m1", by="AB")
    assert bench.entries("TB-001")[0].content.proved == ""


def test_an_overdue_meter_must_be_accepted_knowingly(bench, lot, clock):
    clock.pass_days(700)
    with pytest.raises(Refused, match=r"The calibration of “Hand meter, true RMS” was due on"):
        record_meter(bench, "TB-001", "tb-m1", by="AB")
    record_meter(bench, "TB-001", "tb-m1", by="AB", accept_overdue=True)
    assert bench.entries("TB-001")[0].content.overdue_accepted is True


def test_an_unknown_meter_is_refused_with_those_there_are(bench, lot):
    with pytest.raises(Refused, match="There is no meter 'tb-m9' in this run; it knows tb-it1, tb-m1"):
        record_meter(bench, "TB-001", "tb-m9", by="AB")


def test_a_fault_is_mended_and_what_rests_on_it_is_taken_again(bench, lot):
    torn = InspectAnswer(marks={"cone": "bad", "grille": "good"})
    record_answer(bench, "TB-001", OUTSIDE, torn, by="AB")
    fault = bench.state("TB-001").faults[0]
    assert (fault.part, fault.status) == ("large-driver", "open")
    record_repair(
        bench,
        "TB-001",
        fault=fault.entry,
        part="large-driver",
        done="new cone glued in",
        by="AB",
        opened=("enclosure",),
        parts_used=(PartUsed(part="cone", number=1),),
    )
    assert bench.state("TB-001").due.address == OUTSIDE
    assert do_what_is_due(bench, "TB-001").kind is DueKind.finished


def test_what_could_not_be_read_back_is_never_written(bench, lot):
    used = (PartUsed(part="screw", number=10**20),)
    with pytest.raises(ContentProblem, match="where a whole number belongs"):
        record_repair(bench, "TB-001", fault=None, part="cone", done="screwed", by="AB", parts_used=used)
    assert bench.entries("TB-001") == ()


def test_a_repair_of_no_fault_is_refused(bench, lot):
    with pytest.raises(Refused, match="This is no open fault of the unit"):
        record_repair(bench, "TB-001", fault=9, part="x", done="y", by="AB")


def test_a_fault_told_by_the_technician_is_open_until_mended(bench, lot):
    changes = record_fault(
        bench, "TB-001", part="small-driver", mode="open", words="Nothing from the small one.", by="AB"
    )
    assert changes.words == "Fault recorded: Nothing from the small one."
    assert bench.state("TB-001").may_sell == "a fault is open: Nothing from the small one."


def test_a_hazard_holds_the_unit(bench, lot):
    changes = record_hazard(bench, "TB-001", "smell", by="AB")
    assert changes.words == "TB-001 is on hold for smell. Leave it unplugged and tie on its do-not-use tag."
    assert bench.unit("TB-001").disposition == "hold"


def test_what_befell_a_unit_is_recorded(bench, lot):
    do_what_is_due(bench, "TB-001")
    record_event(bench, "TB-001", "fall", by="AB", note="off the shelf")
    record_opened(bench, "TB-001", ("enclosure",), by="AB", why="to look")
    kinds = [entry.kind for entry in bench.entries("TB-001")][-2:]
    assert kinds == ["event", "opened"]
    assert bench.board(lot).rows[0].cells[0].word in {"stale", "in progress"}


def test_a_fact_of_the_unit_goes_before_the_designs(bench, lot):
    record_fact(bench, "TB-001", {"cord length": 2.5}, by="AB")
    assert bench.state("TB-001").facts["cord length"] == 2.5
    assert "cord length" not in bench.state("TB-002").facts


def test_a_unit_is_sold_only_when_its_record_bears_it_out(bench, lot):
    with pytest.raises(Refused, match="It cannot be marked “for sale”"):
        set_disposition(bench, "TB-001", "for sale", by="CD")
    do_what_is_due(bench, "TB-001")
    set_disposition(bench, "TB-001", "for sale", by="CD", grade="B", price="£12")
    unit = bench.unit("TB-001")
    assert (unit.disposition, unit.grade, unit.price) == ("for sale", "B", "£12")


def test_an_unknown_disposition_is_refused_with_those_there_are(bench, lot):
    with pytest.raises(Refused, match=r"'sold' is not a disposition. Choose one of: quarantine, for sale"):
        set_disposition(bench, "TB-001", "sold", by="CD")


def test_an_unknown_caution_and_a_set_up_of_no_step_are_refused(bench, lot):
    with pytest.raises(Refused, match="There is no caution “nonsense”"):
        record_caution(bench, "TB-001", "nonsense", by="AB")
    with pytest.raises(Refused, match=r"This run has no step “x\.y”"):
        record_set_up(bench, "TB-001", "x.y", ("switch on",), by="AB")


def test_siblings_are_the_other_units_last_standing_readings(bench, lot):
    for unit, value in (("TB-001", "6.2 ohm"), ("TB-002", "6.4 ohm")):
        answers = {"coils.coil": ReadingAnswer(typed=value, meter="tb-m1")}
        do_what_is_due(bench, unit, answers=answers)
    last, *rest = bench.siblings("TB-003", "coils.coil")[::-1]
    assert (last.mark, len(rest)) == ("TB-002", 1)
    assert last.value == pytest.approx(6.3)  # less the 0.1 ohm of the leads
    number = next(e.number for e in bench.entries("TB-002") if e.address == "coils.coil")
    withdraw_answer(bench, "TB-002", by="AB", number=number)
    assert [one.mark for one in bench.siblings("TB-003", "coils.coil")] == ["TB-001"]


def test_a_day_at_the_bench_is_opened_and_closed(bench, lot):
    from benchapp.actions.entries.days import close_bench
    from benchapp.sequences.planning.chain_contents import MeterProof

    assert bench.opening().by == "AB"
    wanting = close_bench(bench, by="AB", meters=(MeterProof(meter="tb-m1", proved=False),))
    assert wanting.words == "The bench is closed. tb-m1 failed its proof: look at today's readings taken with it."
    assert bench.opening() is None
    with pytest.raises(Refused, match="The bench is not open today"):
        close_bench(bench, by="AB")
    opened = open_bench(bench, by="CD", meters=(MeterProof(meter="tb-m1", proved=True),), **OPENED)
    assert opened.words == "The bench is open; 1 of 1 meters are proved."


def test_no_reading_is_taken_after_the_bench_was_closed(bench, lot):
    from benchapp.actions.entries.days import close_bench

    do_what_is_due(bench, "TB-001", until="coils.coil")
    close_bench(bench, by="AB")
    with pytest.raises(Refused, match="The bench was closed for today: no meter counts as proved since"):
        record_answer(bench, "TB-001", "coils.coil", ReadingAnswer(typed="480 ohm", meter="tb-m1"), by="AB")


def test_the_caution_before_mains_asks_for_the_button_of_the_rcd(path, clock):
    from benchapp.actions.entries.conditions import record_caution
    from benchapp.actions.entries.intake import take_in_lot
    from benchapp.sequences.planning.chain_contents import MeterProof

    with Bench.create(path, clock=clock, workshop=staffed()) as bench:
        take_in_lot(bench, name="Attic", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
        proofs = (MeterProof(meter="tb-pm1", proved=True),)
        open_bench(bench, by="AB", meters=proofs, **OPENED)
        with pytest.raises(Refused, match="The RCD's button was not tried at today's bench opening"):
            record_caution(bench, "TB-001", "mains-live", by="AB")
        open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
        record_caution(bench, "TB-001", "mains-live", by="AB")
        assert bench.entries("TB-001")[-1].content.caution == "mains-live"


def test_a_clock_put_right_by_a_minute_ages_nothing(bench, lot, clock):
    do_what_is_due(bench, "TB-001", until="coils.coil")
    clock.now -= timedelta(minutes=1)
    assert bench.state("TB-001").due.address == "coils.coil"
    record_note(bench, "TB-001", "a minute back", by="AB")
    entries = bench.entries("TB-001")
    assert entries[-1].at == entries[-2].at


def test_a_clock_set_back_by_days_is_not_papered_over(bench, lot, clock):
    record_note(bench, "TB-001", "first", by="AB")
    clock.pass_days(-3)
    record_note(bench, "TB-001", "second", by="AB")
    first, second = bench.entries("TB-001")
    assert second.at < first.at


def test_opening_the_bench_shows_on_the_board_what_has_grown_old(path, clock):
    from benchapp.actions.entries.intake import take_in_lot
    from benchapp.sequences.planning.chain_contents import MeterProof

    meters = tuple(MeterProof(meter=name, proved=True, lead_resistance=0.0) for name in ("tb-m1", "tb-it1", "tb-pm1"))
    with Bench.create(path, clock=clock, workshop=staffed()) as bench:
        open_bench(bench, by="AB", meters=meters, rcd_button_tested=True, **OPENED)
        marks = ("TB-001", "TB-002", "TB-003")
        take_in_lot(bench, name="Attic", equipment="tb-mu1", route="mains-unit", marks=marks, by="AB")
        do_what_is_due(bench, "TB-001", until="insulation.dry")
        do_what_is_due(bench, "TB-002")
        set_disposition(bench, "TB-002", "for sale", by="CD")
        clock.pass_days(3)
        assert open_bench(bench, by="AB", meters=meters, **OPENED).units == frozenset()
        clock.pass_days(60)
        changes = open_bench(bench, by="AB", meters=meters, **OPENED)
        assert (changes.units, changes.lots) == ({"TB-001", "TB-002"}, {"Attic"})
        assert changes.words.endswith("TB-001, TB-002: tests have grown old.")
        assert bench.unit("TB-002").disposition == "quarantine"
        rows = {row.mark: [cell.word for cell in row.cells] for row in bench.board("Attic").rows}
        assert rows["TB-001"][:2] == ["stale", "stale"]
        assert rows["TB-002"][0] == "stale"
        assert len(bench.entries("TB-001")) == bench.unit("TB-001").last_entry
