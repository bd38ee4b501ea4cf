"""A unit with a cord of its own through the record: judged by it, verified by it, searched and printed by it."""

import pytest

from benchapp.actions.audit.rejudging import rejudge_workbook
from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.conditions import record_fact
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.searching import record_probe, search_fault
from benchapp.actions.papers.pin_cards import export_pin_card_of_unit
from benchapp.actions.workbench.bench import Bench
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.driving import do_what_is_due
from tests.paper.making import all_text
from tests.people import OPENED, staffed

METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
PRIMARY = "continuity.primary"


@pytest.fixture
def two_units(path, clock):
    """TB-001 with a long thin cord, TB-002 as designed, both before the primary is read."""
    with Bench.create(path, clock=clock, workshop=staffed()) as bench:
        proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
        open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
        take_in_lot(bench, name="L", equipment="tb-mu1", route="mains-unit", marks=("TB-001", "TB-002"), by="AB")
        record_fact(bench, "TB-001", {"cord length": "20 m", "cord area": "0.5 mm²"}, by="AB")
        for mark in ("TB-001", "TB-002"):
            do_what_is_due(bench, mark, until=PRIMARY)
        yield bench


def test_a_reading_judged_by_the_units_own_cord_comes_out_the_same_again(two_units, path):
    for mark in ("TB-001", "TB-002"):
        record_answer(two_units, mark, PRIMARY, ReadingAnswer(typed="480 ohm", meter="tb-m1"), by="AB")
    own, plain = (two_units.state(mark).readings[PRIMARY].content for mark in ("TB-001", "TB-002"))
    assert own.expected > plain.expected + 1.0
    assert any(line.source == "this unit's own facts" for line in own.derivation)
    two_units.close()
    assert verify_workbook(path) == ()


def test_judging_a_whole_history_again_keeps_to_the_units_own_band(two_units, path):
    high = two_units.plan("TB-001").step(PRIMARY).band.upper
    for mark in ("TB-001", "TB-002"):
        given = ReadingAnswer(typed=f"{high - 2.0:.1f} ohm", meter="tb-m1")
        record_answer(two_units, mark, PRIMARY, given, by="AB")
    judged = [two_units.state(mark).readings[PRIMARY].content.judgement for mark in ("TB-001", "TB-002")]
    assert judged[0] != judged[1]  # the long cord leaves room that the design's does not
    two_units.close()
    assert rejudge_workbook(path).changes == ()
    assert verify_workbook(path) == ()


def test_search_and_pin_card_take_the_units_own_circuit(two_units, tmp_path):
    given = ReadingAnswer(typed="600 ohm", meter="tb-m1")
    for mark in ("TB-001", "TB-002"):
        record_answer(two_units, mark, PRIMARY, given, by="AB")
    shares = [search_fault(two_units, mark, PRIMARY).diagnosis.suspects[0].share for mark in ("TB-001", "TB-002")]
    assert shares[0] != shares[1]
    cards = []
    for mark in ("TB-001", "TB-002"):
        export_pin_card_of_unit(two_units, mark, out=tmp_path / f"{mark}.pdf")
        cards.append(all_text((tmp_path / f"{mark}.pdf").read_bytes()))
    assert all("pin" in card.casefold() for card in cards)


LEAD = "continuity.lead/plug.L-mains.L"


@pytest.fixture
def own_lead(path, clock):
    """TB-001, whose lead comes off, before its live core is read."""
    with Bench.create(path, clock=clock, workshop=staffed()) as bench:
        proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
        open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
        take_in_lot(bench, name="L", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
        record_fact(bench, "TB-001", {"detachable lead": "yes"}, by="AB")
        do_what_is_due(bench, "TB-001", until=LEAD)
        yield bench


def test_a_lead_that_is_open_is_searched_by_itself(own_lead, path):
    record_answer(own_lead, "TB-001", LEAD, ReadingAnswer(typed="OL", meter="tb-m1"), by="AB")
    search = search_fault(own_lead, "TB-001", LEAD)
    assert search.set_up == ("lead off",)
    assert {suspect.part for suspect in search.diagnosis.suspects[:2]} == {"plug-fuse", "cord-live"}
    record_probe(own_lead, "TB-001", LEAD, "plug.N", "mains.N", "0.1 ohm", by="AB")
    assert "far end of the lead" in own_lead.entries("TB-001")[-1].content.words
    own_lead.close()
    assert verify_workbook(path) == ()


def test_with_the_lead_on_nobody_is_sent_to_the_contacts_of_the_inlet(own_lead):
    record_answer(own_lead, "TB-001", LEAD, ReadingAnswer(typed="OL", meter="tb-m1"), by="AB")
    asked = search_fault(own_lead, "TB-001", "continuity.primary").diagnosis.next_probe
    assert asked is not None
    assert not {asked.a, asked.b} & {"mains.L", "mains.N", "chassis"}


def test_a_reading_through_a_lead_that_proved_to_be_another_s_is_no_clue(own_lead):
    record_answer(own_lead, "TB-001", LEAD, ReadingAnswer(typed="OL", meter="tb-m1"), by="AB")
    record_fact(own_lead, "TB-001", {"detachable lead": "no"}, by="AB")
    search = search_fault(own_lead, "TB-001", "continuity.primary")
    assert not search.diagnosis.inconsistent
    assert any(entry.address == LEAD for entry in own_lead.entries("TB-001"))
