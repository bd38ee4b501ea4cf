"""The shipped checks of the shipped mains equipment, from intake to tag, on a real workbook."""

import os
import signal
import subprocess
import sys
from dataclasses import asdict
from datetime import timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader

from benchapp.actions.audit.following import follow_readings
from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.faults import record_hazard
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import destroy_plug, set_disposition
from benchapp.actions.papers.printing import export_record_sheet, preview_tag
from benchapp.actions.papers.record_content import record_content
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.paper.content import Tone
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.planning.answer_content import is_reading
from benchapp.sequences.planning.chain_contents import MeterProof
from benchapp.sequences.planning.state import DueKind
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

ROOT = Path(__file__).resolve().parents[3]
METERS = ("tb-m1", "tb-m2", "tb-it1", "tb-pm1")
ROUTES = {"tb-mu1": "mains-unit", "tb-mu2": "mains-unit", "tb-rec1": "recorder", "tb-ls1": "loudspeaker"}


@pytest.fixture
def shipped(path, clock):
    """A bench on what is shipped, opened with all meters proved and nulled."""
    bench = Bench.create(path, clock=clock, workshop=staffed())
    proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    yield bench
    bench.close()


def take_in(bench, equipment="tb-mu1", marks=("TB-001", "TB-002")):
    take_in_lot(bench, name="Tarnbeck attic", equipment=equipment, route=ROUTES[equipment], marks=marks, by="AB")


@pytest.mark.parametrize("equipment", ROUTES)
def test_a_sound_unit_goes_from_intake_to_the_sale_table_and_verifies(shipped, path, equipment):
    take_in(shipped, equipment)
    assert do_what_is_due(shipped, "TB-001").kind is DueKind.finished
    set_disposition(shipped, "TB-001", "for sale", by="CD", grade="A", price="£15")
    tag = preview_tag(shipped, "TB-001")
    assert (tag.disposition_words, tag.tone, tag.price) == ("For sale, grade A", Tone.READY, "£15")
    assert tag.readings
    assert tag.not_tested
    shipped.close()
    assert verify_workbook(path) == ()


def test_all_that_a_reading_rests_on_stands_on_the_page_the_sheet_and_in_what_programs_get(shipped, path):
    take_in(shipped)
    do_what_is_due(shipped, "TB-001")
    sheet = record_content(shipped, "TB-001")
    rows = {row.number: row for section in sheet.sections for row in section.rows}
    readings = [e for e in shipped.entries("TB-001") if is_reading(e) and e.content.derivation]
    followed = {one["entry"]: one for one in follow_readings(path, "TB-001")}
    assert any(e.content.cautions for e in readings)
    for entry in readings:
        content, row, told = entry.content, rows[str(entry.number)], followed[entry.number]
        assert row.derivation == content.derivation
        assert row.corrections == content.corrections
        assert list(row.cautions) == list(content.cautions) == told["band"]["cautions"]
        assert told["band"]["derivation"] == [asdict(line) for line in content.derivation]
        for words in content.meter_cautions:
            assert words in sheet.cautions
            assert words in told["meter"]["cautions"]


def test_a_limit_from_memory_says_so_on_the_record_sheet_and_to_programs(path, clock, tmp_path):
    """No public figure of AS/NZS 3760 was found: those of Australia are from memory."""
    bench = Bench.create(path, clock=clock, workshop=staffed(region="au"))
    proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in METERS)
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    take_in(bench)
    do_what_is_due(bench, "TB-001")
    out = tmp_path / "record.pdf"
    export_record_sheet(bench, "TB-001", out=out)
    bench.close()
    printed = " ".join(" ".join(page.extract_text().split()) for page in PdfReader(out).pages)
    assert "Check this figure: AS/NZS 5761:2011 and AS/NZS 3760, from memory." in printed
    assert "AS/NZS 5761:2011 and AS/NZS 3760 (from memory; check the document)" in printed
    (told,) = follow_readings(path, "TB-001", step="insulation.live-to-case")
    assert told["band"]["cautions"] == ["Check this figure: AS/NZS 5761:2011 and AS/NZS 3760, from memory."]


def test_the_tag_of_a_mains_unit_leads_with_earth_and_insulation_and_names_the_fuse(shipped):
    take_in(shipped)
    do_what_is_due(shipped, "TB-001")
    tag = preview_tag(shipped, "TB-001")
    assert [reading.what for reading in tag.readings] == [
        "Earth continuity",
        "Insulation, live to case",
        "Insulation, live to outputs",
        "Protective conductor current",
        "Outlet 1 to 2",
    ]
    assert tag.fuse == "3 A"
    assert "Cleaning" not in tag.tested


def test_a_live_reading_before_its_dead_tests_is_refused_and_leaves_no_trace(shipped):
    take_in(shipped)
    before = shipped.entries("TB-001")
    with pytest.raises(Refused):
        record_answer(shipped, "TB-001", "live-voltage.mains", ReadingAnswer(typed="240 V", meter="tb-pm1"), by="AB")
    assert shipped.entries("TB-001") == before


def test_nothing_goes_for_spares_with_its_plug_on(shipped):
    take_in(shipped)
    with pytest.raises(Refused, match="its mains plug must first be cut off and destroyed"):
        set_disposition(shipped, "TB-001", "spares or repair", by="CD")
    destroy_plug(shipped, "TB-001", by="CD", note="past mending")
    set_disposition(shipped, "TB-001", "spares or repair", by="CD", price="£2")
    tag = preview_tag(shipped, "TB-001")
    assert (tag.disposition_words, tag.tone, tag.price) == ("Spares or repair", Tone.PARTS, "£2")
    assert tag.cautions == ("For parts only. The mains plug is cut off and destroyed; never fit another one as it is.",)


def test_smoke_at_first_power_holds_the_unit_with_a_do_not_use_tag(shipped):
    take_in(shipped)
    do_what_is_due(shipped, "TB-001", until="first-power.current")
    record_hazard(shipped, "TB-001", "smoke", by="AB")
    assert shipped.unit("TB-001").disposition == "hold"
    tag = preview_tag(shipped, "TB-001")
    assert (tag.disposition_words, tag.cautions) == ("Do not use", ("Do not connect to the mains.",))


CHILD = """
import sys
from datetime import timedelta
from pathlib import Path
from benchapp.actions.workbench.bench import Bench
from tests.actions.conftest import Clock
from tests.actions.driving import do_what_is_due, good_answer
import tests.actions.driving as driving
bench = Bench.open(Path(sys.argv[1]), clock=Clock())
record = driving.record_answer
def told(bench, unit, address, given, **more):
    changes = record(bench, unit, address, given, **more)
    print(address, changes.entries[0], flush=True)
driving.record_answer = told
do_what_is_due(bench, "TB-001")
do_what_is_due(bench, "TB-002")
print("done", flush=True)
sys.stdin.read()
"""


def test_killing_the_program_loses_no_answer_and_the_run_resumes_at_the_same_step(shipped, path, clock):
    take_in(shipped)
    shipped.close()
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    child = subprocess.Popen(
        [sys.executable, "-c", CHILD, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=environment,
        cwd=ROOT,
    )
    accepted = [child.stdout.readline().split() for _ in range(21)]
    child.send_signal(signal.SIGKILL)
    rest, _ = child.communicate(timeout=60)
    accepted += [line.split() for line in rest.splitlines() if line.startswith(("c", "i", "l", "m", "p", "v"))]

    clock.now += timedelta(hours=2)
    again = Bench.open(path, clock=clock)
    kept = {entry.uuid: entry for mark in ("TB-001", "TB-002") for entry in again.entries(mark)}
    assert [uuid for _, uuid in accepted if uuid not in kept] == []
    due = again.state("TB-001").due
    assert due.address not in {address for address, _ in accepted if not address.startswith("make-safe")}
    assert do_what_is_due(again, "TB-001").kind is DueKind.finished
    again.close()
    assert verify_workbook(path) == ()
