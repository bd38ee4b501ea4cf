"""The search for a fault on a real workbook: evidence from the record, probes as entries, weights from repairs."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.days import close_bench, open_bench
from benchapp.actions.entries.faults import record_fault, record_repair
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.searching import record_probe, search_fault
from benchapp.actions.entries.taking_back import last_of, take_back
from benchapp.actions.standalone.circuits import confirmed_repairs
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.sequences.planning.state import DueKind
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
PIN_4 = "continuity.outputs/outlet.1-outlet.4"


@pytest.fixture
def shipped(path, clock):
    bench = Bench.create(path, clock=clock, workshop=staffed())
    proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    take_in_lot(
        bench, name="Tarnbeck attic", equipment="tb-mu1", route="mains-unit", marks=("TB-001", "TB-002"), by="AB"
    )
    yield bench
    bench.close()


def fail_at_pin_4(bench, unit="TB-001"):
    """Everything good until pin 4, which reads over the range."""
    do_what_is_due(bench, unit, until=PIN_4)
    record_answer(bench, unit, PIN_4, ReadingAnswer(typed="OL", meter="tb-m1"), by="AB")
    assert bench.state(unit).due.kind is DueKind.fault


def mend(bench, unit, part, mode):
    record_fault(bench, unit, part=part, mode=mode, words="dry joint", by="AB", address=PIN_4)
    fault = bench.state(unit).faults[-1].entry
    record_repair(bench, unit, fault=fault, part=part, done="soldered", by="AB", opened=("enclosure",))


def test_the_readings_of_the_record_are_the_evidence(shipped):
    fail_at_pin_4(shipped)
    search = search_fault(shipped, "TB-001", PIN_4)
    suspect = next(one for one in search.diagnosis.suspects if one.part == "low-a-twin")
    assert any("OL" in words for words in suspect.speaks_for)
    assert search.probed == ()
    assert search.meter == "tb-m1"


def test_a_probe_moves_the_weights_and_the_workbook_still_verifies(shipped, path):
    fail_at_pin_4(shipped)
    before = search_fault(shipped, "TB-001", PIN_4).diagnosis.suspects[0].share
    record_probe(shipped, "TB-001", PIN_4, "outlet.2", "outlet.4", "OL", by="AB")
    after = search_fault(shipped, "TB-001", PIN_4)
    assert after.diagnosis.suspects[0].part == "low-a-twin"
    assert after.diagnosis.suspects[0].share >= before
    assert after.probed == ("OL between pin 2 of the outlet and pin 4 of the outlet",)
    assert verify_workbook(path) == ()


def test_after_a_repair_earlier_probes_count_no_more(shipped):
    fail_at_pin_4(shipped)
    record_probe(shipped, "TB-001", PIN_4, "outlet.2", "outlet.4", "OL", by="AB")
    mend(shipped, "TB-001", "low-a-twin", "open")
    assert search_fault(shipped, "TB-001", PIN_4).probed == ()


def test_a_probe_at_an_unknown_terminal_is_refused_in_a_sentence(shipped):
    fail_at_pin_4(shipped)
    with pytest.raises(Refused, match=r"no terminal “outlet\.9”"):
        record_probe(shipped, "TB-001", PIN_4, "outlet.9", "outlet.4", "OL", by="AB")


def test_the_same_pair_read_otherwise_again_replaces_the_first(shipped):
    fail_at_pin_4(shipped)
    record_probe(shipped, "TB-001", PIN_4, "outlet.2", "outlet.4", "1.3", by="AB")
    record_probe(shipped, "TB-001", PIN_4, "outlet.4", "outlet.2", "OL", by="AB")
    assert search_fault(shipped, "TB-001", PIN_4).diagnosis.suspects[0].part == "low-a-twin"


def test_confirmed_repairs_weigh_and_are_named(shipped):
    fail_at_pin_4(shipped)
    mend(shipped, "TB-001", "low-a-twin", "open")
    assert confirmed_repairs(shipped, "tb-mu1") == ()  # not retested yet
    do_what_is_due(shipped, "TB-001")
    assert [repaired.part for repaired in confirmed_repairs(shipped, "tb-mu1")] == ["low-a-twin"]

    fail_at_pin_4(shipped, "TB-002")
    suspect = search_fault(shipped, "TB-002", PIN_4).diagnosis.suspects[0]
    assert suspect.part == "low-a-twin"
    assert suspect.history.startswith("your last fault on this design was")


def test_no_probe_counts_after_the_bench_was_closed(shipped):
    fail_at_pin_4(shipped)
    close_bench(shipped, by="AB")
    with pytest.raises(Refused, match="The bench was closed for today"):
        record_probe(shipped, "TB-001", PIN_4, "outlet.2", "outlet.4", "1.3", by="AB")


def test_history_learns_from_what_the_repair_proved_to_be_wrong(shipped):
    """The fault was recorded as one joint, the search then found another, and that one was mended."""
    fail_at_pin_4(shipped)
    record_fault(shipped, "TB-001", part="low-a", mode="open", words="dry joint", by="AB")
    fault = shipped.state("TB-001").faults[-1].entry
    record_repair(
        shipped,
        "TB-001",
        fault=fault,
        part="low-a-twin",
        done="soldered",
        by="AB",
        opened=("enclosure",),
        mode="high resistance",
        actions=("Clean it.",),
    )
    assert shipped.entries("TB-001")[-1].content.actions == ("Clean it.",)
    (learnt,) = confirmed_repairs(shipped, "tb-mu1")
    assert (learnt.part, str(learnt.mode)) == ("low-a-twin", "high resistance")


def test_a_live_probe_is_a_clue_at_its_mains_and_an_entry_that_verifies(shipped, path):
    do_what_is_due(shipped, "TB-001", until="live-voltage.outputs/outlet.1-2")
    address = "live-voltage.outputs/outlet.1-2"
    record_answer(shipped, "TB-001", address, ReadingAnswer(typed="0.2 V", meter="tb-m1"), by="AB")
    search = search_fault(shipped, "TB-001", address)
    assert search.no_live == ""
    assert search.diagnosis.next_probe is not None
    assert search.diagnosis.next_probe.live
    record_probe(shipped, "TB-001", address, "outlet.2", "outlet.3", "20.8 V", by="AB", live=True)
    after = search_fault(shipped, "TB-001", address, search.known)
    assert after.known is search.known
    assert "live: 20.8 V between pin 2" in after.probed[-1]
    assert [one.share for one in after.diagnosis.suspects] != [one.share for one in search.diagnosis.suspects]
    assert shipped.state("TB-001").energised
    shipped.close()
    assert verify_workbook(path) == ()


def test_the_next_unit_searches_with_the_tables_of_the_one_before(shipped):
    for unit in ("TB-001", "TB-002"):
        fail_at_pin_4(shipped, unit)
    first = search_fault(shipped, "TB-001", PIN_4)
    assert search_fault(shipped, "TB-002", PIN_4, before=first.known).known is first.known
    mend(shipped, "TB-001", "low-a-twin", "open")
    do_what_is_due(shipped, "TB-001")
    assert search_fault(shipped, "TB-002", PIN_4, before=first.known).known is not first.known


def test_what_a_ticked_line_opens_is_opened_whoever_says_so(shipped):
    fail_at_pin_4(shipped)
    record_fault(shipped, "TB-001", part="cord-earth", mode="high resistance", words="half its strands", by="AB")
    fault = shipped.state("TB-001").faults[-1].entry
    ticked = ("Take the cord off its terminals.", "Open the mains plug, where it is not open already.")
    record_repair(
        shipped,
        "TB-001",
        fault=fault,
        part="cord-earth",
        done="new cord",
        by="AB",
        opened=("enclosure",),
        actions=ticked,
    )
    assert shipped.entries("TB-001")[-1].content.opened == ("enclosure", "cord", "plug")


def test_a_probe_is_named_taken_back_and_weighed_no_more(shipped, path):
    fail_at_pin_4(shipped)
    before = search_fault(shipped, "TB-001", PIN_4)
    record_probe(shipped, "TB-001", PIN_4, "outlet.2", "outlet.4", "1.3", by="AB")
    last = last_of(shipped, by="AB")
    assert last.words == "the probe 1.3 ohm between pin 2 of the outlet and pin 4 of the outlet of TB-001"
    assert (last.of_search, last.again, last.refused) == (True, (), "")
    take_back(shipped, "TB-001", last.number, by="AB")
    after = search_fault(shipped, "TB-001", PIN_4)
    assert (after.probed, after.diagnosis.suspects) == ((), before.diagnosis.suspects)
    assert last_of(shipped, by="AB").words.startswith("reading OL at Outlet 1 to 4")
    with pytest.raises(Refused, match="no standing answer"):
        take_back(shipped, "TB-001", last.number, by="AB")
    assert verify_workbook(path) == ()


def test_another_persons_probe_goes_only_with_a_reason(shipped):
    fail_at_pin_4(shipped)
    record_probe(shipped, "TB-001", PIN_4, "outlet.2", "outlet.4", "1.3", by="AB")
    number = last_of(shipped, by="AB").number
    with pytest.raises(Refused, match="AB did this: say why"):
        take_back(shipped, "TB-001", number, by="KT")
    take_back(shipped, "TB-001", number, by="KT", why="the probe stood on flux")
    assert search_fault(shipped, "TB-001", PIN_4).probed == ()


def test_after_a_live_probe_was_taken_back_the_unit_still_goes_the_way_back(shipped):
    address = "live-voltage.outputs/outlet.1-2"
    do_what_is_due(shipped, "TB-001", until=address)
    record_answer(shipped, "TB-001", address, ReadingAnswer(typed="0.2 V", meter="tb-m1"), by="AB")
    record_probe(shipped, "TB-001", address, "outlet.2", "outlet.3", "20.8 V", by="AB", live=True)
    take_back(shipped, "TB-001", last_of(shipped, by="AB").number, by="AB")
    assert shipped.state("TB-001").energised
    with pytest.raises(Refused, match="way back"):
        record_probe(shipped, "TB-001", address, "outlet.2", "outlet.3", "1.3", by="AB")


def test_a_probe_from_before_a_repair_counts_no_more_and_is_passed_over(shipped):
    fail_at_pin_4(shipped)
    record_probe(shipped, "TB-001", PIN_4, "outlet.2", "outlet.4", "OL", by="AB")
    mend(shipped, "TB-001", "low-a-twin", "open")
    assert not last_of(shipped, by="AB").of_search
