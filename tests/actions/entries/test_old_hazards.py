"""Hazards of old equipment on a real workbook: found, on tag and record sheet, cleared, never sold before."""

import pytest
from pypdf import PdfReader

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.faults import record_fault, record_repair
from benchapp.actions.entries.hazards import clear_hazard, record_old_hazard
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import destroy_plug, set_disposition
from benchapp.actions.papers.printing import export_record_sheet, export_tags, preview_tag
from benchapp.actions.papers.record_content import record_content
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.problems import Refused
from benchapp.paper.content import Tone
from benchapp.sequences.kinds.inspect import InspectAnswer
from benchapp.sequences.planning.chain_contents import MeterProof
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

UNIT = "TB-001"


@pytest.fixture
def shipped(path, clock):
    bench = Bench.create(path, clock=clock, workshop=staffed())
    proofs = tuple(MeterProof(meter=name, proved=True, nulled=True) for name in ("tb-m1", "tb-it1", "tb-pm1"))
    open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
    take_in_lot(bench, name="Attic", equipment="tb-mu1", route="mains-unit", marks=(UNIT,), by="AB")
    yield bench
    bench.close()


def found(bench):
    record_old_hazard(bench, UNIT, "asbestos", by="AB", where="Round the primary's sleeve.")
    return next(one for one in bench.state(UNIT).faults if one.old_hazard == "asbestos")


def test_a_hazard_that_is_found_stands_on_the_tag_in_its_own_words_with_its_day(shipped):
    found(shipped)
    tag = preview_tag(shipped, UNIT)
    assert (tag.disposition_words, tag.tone) == ("Do not use", Tone.FORBIDDEN)
    assert tag.cautions[0].startswith("ASBESTOS presumed. Do not open, brush or cut.")
    assert "Round the primary's sleeve" in tag.failed[0]
    assert (tag.tested, tag.readings, tag.not_tested) == ((), (), ())
    assert tag.failed[0].startswith("2026-")


def test_a_hazard_stands_on_the_record_sheet_with_what_to_do_and_the_law(shipped, tmp_path):
    found(shipped)
    lines = {one.name: one.value for one in record_content(shipped, UNIT).hazards}
    assert lines["Asbestos"].startswith("FOUND by AB")
    assert "two bags" in lines["Asbestos"]
    assert "It may not be supplied" in lines["Asbestos"]
    assert lines["Lead solder and rosin fume"].startswith("Presumed.")
    export_record_sheet(shipped, UNIT, out=tmp_path / "record.pdf")
    read = " ".join(page.extract_text() for page in PdfReader(tmp_path / "record.pdf").pages)
    assert "Hazards of old equipment" in read


@pytest.mark.parametrize("label", ["a4-2-by-4", "a4-plain-2-by-4", "letter-2-by-3", "roll-62"])
def test_the_words_of_two_hazards_and_what_failed_fit_every_shipped_label(shipped, label, tmp_path):
    for name in ("asbestos", "radioluminous-paint"):
        record_old_hazard(shipped, UNIT, name, by="AB")
    export_tags(shipped, units=(UNIT,), out=tmp_path / "tags.pdf", sheet=label)
    read = " ".join(page.extract_text() for page in PdfReader(tmp_path / "tags.pdf").pages)
    assert "ASBESTOS" in read
    assert "RADIOACTIVE" in read
    assert "FAILED" in read


def test_it_is_cleared_by_a_supervisor_and_may_be_sold_after_everything_was_taken_again(shipped, path):
    fault = found(shipped)
    with pytest.raises(Refused, match="may not do what a supervisor does"):
        clear_hazard(shipped, UNIT, "asbestos", fault.entry, by="AB", reason="glass fibre")
    clear_hazard(shipped, UNIT, "asbestos", fault.entry, by="SV", reason="glass fibre, by the laboratory's letter")
    do_what_is_due(shipped, UNIT)
    set_disposition(shipped, UNIT, "for sale", by="CD")
    assert shipped.unit(UNIT).disposition == "for sale"
    lines = {one.name: one.value for one in record_content(shipped, UNIT).hazards}
    assert "Cleared by SV" in lines["Asbestos"]
    assert "laboratory's letter" in lines["Asbestos"]
    assert verify_workbook(path) == ()


def test_what_is_marked_at_the_look_is_the_same_finding(shipped):
    do_what_is_due(shipped, UNIT, until="visual-inspection.old-hazards")
    points = [one.hazard for one in shipped.plan(UNIT).hazards_asked]
    marks = {name: "bad" if name == "perished-cord" else "good" for name in points}
    record_answer(shipped, UNIT, "visual-inspection.old-hazards", InspectAnswer(marks=marks), by="AB")
    fault = shipped.state(UNIT).faults[0]
    assert (fault.old_hazard, fault.part, fault.severity) == ("perished-cord", "cord", "do not use")
    record_repair(shipped, UNIT, fault=fault.entry, part="cord", done="a new cord", by="AB", opened=["cord", "plug"])
    do_what_is_due(shipped, UNIT)
    set_disposition(shipped, UNIT, "for sale", by="CD")


def test_a_hazard_that_this_run_does_not_know_is_refused_in_a_sentence(shipped):
    with pytest.raises(Refused, match="This run knows no hazard 'asbestoss'"):
        record_old_hazard(shipped, UNIT, "asbestoss", by="AB")


def test_a_scrap_tag_says_what_failed_and_when(shipped):
    record_fault(shipped, UNIT, part="primary", mode="open", words="The primary is open.", by="AB")
    record_fault(shipped, UNIT, part="cord", mode="damaged", words="The cord is cut.", by="AB", severity="do not use")
    destroy_plug(shipped, UNIT, by="AB", note="cut and crushed")
    set_disposition(shipped, UNIT, "scrap", by="AB", note="beyond mending")
    tag = preview_tag(shipped, UNIT)
    assert tag.disposition_words == "Scrap, do not use"
    assert [line.partition(": ")[2] for line in tag.failed] == ["The cord is cut.", "The primary is open."]


def test_no_fuse_is_fitted_where_the_plug_was_destroyed(shipped):
    do_what_is_due(shipped, UNIT, until="continuity.leads-before")
    assert preview_tag(shipped, UNIT).fuse == "3 A"
    destroy_plug(shipped, UNIT, by="AB", note="cut and crushed")
    set_disposition(shipped, UNIT, "scrap", by="AB", note="beyond mending")
    assert preview_tag(shipped, UNIT).fuse == ""


def test_a_mains_item_that_is_kept_says_to_look_before_use_and_one_on_hold_to_leave_it_unplugged(shipped):
    do_what_is_due(shipped, UNIT)
    set_disposition(shipped, UNIT, "keep", by="CD", note="for the archive")
    assert preview_tag(shipped, UNIT).cautions[0].startswith("Before use look at plug, cord and case.")
    set_disposition(shipped, UNIT, "hold", by="CD", note="whose is it?")
    assert preview_tag(shipped, UNIT).cautions == ("Do not connect to the mains.",)


def test_an_item_of_unknown_design_says_do_not_connect_when_all_its_dead_tests_hold(shipped):
    route = "unknown-mains-item"
    take_in_lot(shipped, name="Box of odds", equipment=route, route=route, marks=("TB-900",), by="AB")
    do_what_is_due(shipped, "TB-900")
    assert shipped.state("TB-900").complete
    assert preview_tag(shipped, "TB-900").cautions == ("Do not connect to the mains.",)


def test_where_a_hazard_was_found_is_a_sentence_of_its_own_on_the_record_sheet(shipped):
    record_old_hazard(shipped, UNIT, "radioluminous-paint", by="AB", where="on the scale")
    assert "radioactive. On the scale. Stop." in shipped.state(UNIT).due.words
    lines = {one.name: one.value for one in record_content(shipped, UNIT).hazards}
    assert "On the scale. Stop." in lines["Radioluminous paint or radioactive valve"]


def test_more_failures_than_fit_are_counted(shipped):
    for number in range(5):
        record_fault(shipped, UNIT, part="cover", mode="loose", words=f"Screw {number} is gone.", by="AB")
    assert preview_tag(shipped, UNIT).failed[-1] == "and 2 more on the record sheet."


def test_the_record_sheet_carries_the_cautions_of_the_work_and_who_read_them(shipped, tmp_path):
    do_what_is_due(shipped, UNIT)
    read = {one.name: one.value for one in record_content(shipped, UNIT).cautions_read}
    assert "Read by AB" in read["⚠ 500 V on the wiring"]
    assert "Read by AB" in read["⚠ Mains can kill"]
    assert "Read by AB" in read["⚠ Solvents, leaks and damp"]
    record_fault(shipped, UNIT, part="low-a-twin", mode="open", words="A joint.", by="AB")
    record_repair(shipped, UNIT, fault=None, part="low-a-twin", done="resoldered", by="AB")
    read = {one.name: one.value for one in record_content(shipped, UNIT).cautions_read}
    assert "Nobody has read it on this unit" in read["⚠ Hot iron, fume and lead"]
    export_record_sheet(shipped, UNIT, out=tmp_path / "record.pdf")
    text = " ".join(" ".join(page.extract_text().split()) for page in PdfReader(tmp_path / "record.pdf").pages)
    assert "Cautions of this work, and who read them" in text
    assert "The tester puts 500 V DC on the wiring" in text
