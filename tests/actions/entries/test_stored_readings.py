"""Readings that a tester kept, brought into a workbook."""

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.conditions import record_meter
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.stored_readings import import_stored
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.sequences.language.vocabulary import ReadingSource, Supply
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.driving import do_what_is_due
from tests.meters.test_stored import DESCRIPTION, HEAD
from tests.people import OPENED, staffed

EARTH = "3 May 10:12;TB-001;RPE;0,05;ohm\n"


@pytest.fixture
def files(tmp_path):
    description = tmp_path / "memory.yaml"
    description.write_text(DESCRIPTION, encoding="utf-8")

    def make(rows):
        table = tmp_path / "memory.csv"
        table.write_text(HEAD + rows, encoding="utf-8")
        return description, table

    return make


@pytest.fixture
def tested(path, clock):
    """A mains unit whose earth path is to be read, the tester in hand."""
    bench = Bench.create(path, clock=clock, workshop=staffed())
    proofs = [MeterProof(meter=meter, proved=True, lead_resistance=0.02) for meter in ("tb-m1", "tb-it1", "tb-pm1")]
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    take_in_lot(bench, name="Shelf", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
    do_what_is_due(bench, "TB-001", until="continuity.earth")
    record_meter(bench, "TB-001", "tb-it1", by="AB")
    yield bench
    bench.close()


def test_a_kept_reading_is_judged_and_marked_as_transcribed(tested, files):
    changes = import_stored(tested, *files(EARTH), by="AB")
    assert changes.words == "1 reading is recorded as transcribed."
    content = tested.entries("TB-001")[-1].content
    assert (content.source, content.judgement, content.meter) == (ReadingSource.transcribed, "pass", "tb-it1")
    assert content.sent == EARTH.strip()
    assert content.note == "kept at 3 May 10:12"


def test_the_same_table_again_records_nothing_twice(tested, files):
    import_stored(tested, *files(EARTH), by="AB")
    before = len(tested.entries("TB-001"))
    assert import_stored(tested, *files(EARTH), by="AB").words == (
        "0 readings are recorded as transcribed. 1 came before."
    )
    assert len(tested.entries("TB-001")) == before


def test_a_kept_reading_opens_no_live_step_by_itself(tested, files):
    import_stored(tested, *files(EARTH), by="AB")
    row = next(one for one in tested.state("TB-001").interlock[Supply.limited] if one.id == "earth continuity")
    assert not row.holds
    assert "kept in a tester" in row.why


def test_what_is_refused_is_told_by_its_line_and_the_rest_is_taken(tested, files):
    rows = f"{EARTH};TB-077;RPE;0.05;ohm\n;TB-001;RISO;99;Mohm\n;TB-001;RPE;12;V\n"
    told = import_stored(tested, *files(rows), by="AB").words.splitlines()
    assert told[0] == "1 reading is recorded as transcribed. 3 of its lines were not taken:"
    assert told[1] == "Line 3: there is no unit TB-077 in this workbook."
    assert told[2].startswith("Line 4, TB-001: ")
    assert "is a voltage" in told[3]


def test_a_bad_description_and_a_bad_table_are_sentences(tested, files, tmp_path):
    description, table = files(EARTH)
    with pytest.raises(Refused, match="The description cannot be used"):
        import_stored(tested, table, table, by="AB")
    with pytest.raises(Exception, match="no column"):
        import_stored(tested, description, description, by="AB")
    with pytest.raises(Refused, match="initials"):
        import_stored(tested, description, table, by=" ")


def test_verify_finds_nothing_against_what_was_imported(tested, files):
    import_stored(tested, *files(EARTH), by="AB")
    assert verify_workbook(tested.path) == ()
