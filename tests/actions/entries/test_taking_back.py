"""Taking back: named before it goes, prices and dispositions too; what another person did only with a reason."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.entries.taking_back import foresee, last_of, take_back
from benchapp.actions.workbench.problems import Refused
from tests.actions.driving import do_what_is_due

WIPE = "look-over.wipe"


def settled(bench, mark="TB-001"):
    unit = bench.unit(mark)
    return unit.disposition, unit.grade, unit.price


def test_a_price_is_named_and_taken_back_and_the_one_before_stands(bench, lot):
    set_disposition(bench, "TB-001", "hold", by="AB", grade="B", price="10.00")
    set_disposition(bench, "TB-001", "hold", by="AB", grade="B", price="12.00")
    last = last_of(bench, by="a.b.")
    assert (last.words, last.becomes, last.again) == ("price 12.00 of TB-001", "hold, grade B, price 10.00", ())
    changes = take_back(bench, "TB-001", last.number, by="AB")
    assert changes.words == "Taken back: price 12.00 of TB-001. It is hold, grade B, price 10.00 again."
    assert settled(bench) == ("hold", "B", "10.00")
    assert [entry.content.price for entry in bench.entries("TB-001")] == ["10.00", "12.00", "10.00"]


def test_taken_back_twice_goes_on_to_what_was_done_before(bench, lot, path):
    do_what_is_due(bench, "TB-001", until=WIPE)
    set_disposition(bench, "TB-002", "hold", by="AB", price="10.00")
    set_disposition(bench, "TB-002", "keep", by="AB", price="12.00")
    seen = []
    for _ in range(3):
        last = last_of(bench, by="AB")
        seen.append((last.unit, last.words))
        take_back(bench, last.unit, last.number, by="AB", why="wrong unit")
    assert [unit for unit, _ in seen] == ["TB-002", "TB-002", "TB-001"]
    assert [words for _, words in seen[:2]] == ["keep, price 12.00 of TB-002", "hold, price 10.00 of TB-002"]
    assert settled(bench, "TB-002") == ("quarantine", "", "")
    with pytest.raises(Refused, match="nothing that AB did at this bench"):
        last_of(bench, by="AB")
    assert verify_workbook(path) == ()


def test_what_an_answer_makes_due_is_said_before_it_goes(bench, lot):
    do_what_is_due(bench, "TB-001", until="look-over.colour")
    last = last_of(bench, by="AB")
    assert (last.address, last.asks_why, last.refused) == (WIPE, "", "")
    assert last.again[0] == "Wipe"
    before = bench.entries("TB-001")
    assert foresee(bench, "TB-001", last.number, by="AB") == last
    assert bench.entries("TB-001") == before


def test_what_happened_is_passed_over_and_stays(bench, lot):
    do_what_is_due(bench, "TB-001", until=WIPE)
    record_note(bench, "TB-001", "it rattles", by="AB")
    assert last_of(bench, by="AB").number == 1
    with pytest.raises(Refused, match="what happened stays on record"):
        take_back(bench, "TB-001", 2, by="AB")


def test_another_persons_answer_goes_only_with_a_reason_and_is_not_what_i_did_last(bench, lot):
    do_what_is_due(bench, "TB-001", until=WIPE)
    with pytest.raises(Refused, match="nothing that KT did"):
        last_of(bench, by="KT")
    seen = foresee(bench, "TB-001", 1, by="KT")
    assert seen.asks_why == "AB did this: say why it is taken back."
    with pytest.raises(Refused, match="AB did this: say why"):
        take_back(bench, "TB-001", 1, by="KT")
    take_back(bench, "TB-001", 1, by="KT", why="AB had the unit beside it")
    assert bench.entries("TB-001")[-1].content.why == "AB had the unit beside it"


def test_another_persons_price_goes_only_with_a_reason(bench, lot):
    set_disposition(bench, "TB-001", "keep", by="AB", price="12.00")
    with pytest.raises(Refused, match="AB did this: say why"):
        take_back(bench, "TB-001", 1, by="KT")
    take_back(bench, "TB-001", 1, by="KT", why="it belongs to the neighbour")
    assert settled(bench) == ("quarantine", "", "")


def test_what_a_later_one_has_overtaken_is_not_taken_back(bench, lot):
    set_disposition(bench, "TB-001", "keep", by="AB", price="12.00")
    set_disposition(bench, "TB-001", "keep", by="AB", price="9.00")
    assert foresee(bench, "TB-001", 1, by="AB").refused.startswith("It does not count any more")
    with pytest.raises(Refused, match="not what was settled last"):
        take_back(bench, "TB-001", 1, by="AB")


def test_a_supervisors_hold_is_not_lifted_by_taking_back_ones_own_later_word(bench, lot):
    set_disposition(bench, "TB-001", "keep", by="AB")
    set_disposition(bench, "TB-001", "hold", by="SV", note="the case gets warm")
    seen = foresee(bench, "TB-001", 2, by="AB")
    assert "SV holds this unit as its supervisor" in seen.refused
    with pytest.raises(Refused, match="SV holds this unit as its supervisor"):
        take_back(bench, "TB-001", 2, by="AB", why="never mind")
