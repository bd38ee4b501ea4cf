"""A tag never says better of a unit than its record does."""

from dataclasses import replace

import pytest
from pypdf import PdfReader

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.faults import record_hazard, record_repair
from benchapp.actions.entries.outcome import accept, destroy_plug, keep_plug, set_disposition
from benchapp.actions.papers.disposition_words import disposition_words
from benchapp.actions.papers.printing import export_record_sheet, export_record_sheets, export_tags, preview_tag
from benchapp.actions.workbench.problems import ExportProblem
from benchapp.errors import Cancelled
from benchapp.paper.content import Tone
from benchapp.paper.problems import PaperProblem
from benchapp.sequences.history.unit_state import UnitState
from benchapp.sequences.kinds.inspect import InspectAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.planning.entries import Accepted
from benchapp.sequences.planning.state import Due, DueKind
from tests.actions.driving import do_what_is_due


def text_of(path):
    return " ".join(page.extract_text() for page in PdfReader(path).pages)


def words_of(bench, unit):
    tag = preview_tag(bench, unit)
    return tag.disposition_words, tag.tone


def test_from_intake_on_a_unit_is_marked_not_tested(bench, lot):
    tag = preview_tag(bench, "TB-001")
    assert (tag.disposition_words, tag.tone) == ("Not tested, do not connect", Tone.FORBIDDEN)
    assert (tag.tested, tag.date, tag.price) == ((), "", "")


def test_a_mains_unit_that_is_not_tested_says_do_not_plug_in(bench, lot):
    state = bench.state("TB-001")
    mains = replace(bench.plan("TB-001"), mains_fed=True)
    assert disposition_words(mains, state) == ("Not tested, do not plug in", Tone.FORBIDDEN)


def test_a_half_tested_unit_is_still_marked_not_tested_and_names_what_was_not(bench, lot):
    do_what_is_due(bench, "TB-001", until="coils.coil")
    tag = preview_tag(bench, "TB-001")
    assert tag.disposition_words == "Not tested, do not connect"
    assert tag.tested == ("Look it over",)
    assert tag.not_tested == ("Sound at full power", "Voice coils: coil", "Voice coils: leads again")


def test_a_failed_unit_gets_a_do_not_use_tag(bench, lot):
    record_answer(bench, "TB-001", "look-over.outside", InspectAnswer(marks={"cone": "bad", "grille": "good"}), by="AB")
    assert words_of(bench, "TB-001") == ("Do not use", Tone.FORBIDDEN)


def test_a_step_that_failed_was_tested_and_is_named_as_failed_alone(bench, lot):
    record_answer(bench, "TB-001", "look-over.outside", InspectAnswer(marks={"cone": "bad", "grille": "good"}), by="AB")
    tag = preview_tag(bench, "TB-001")
    assert tag.failed
    assert bench.state("TB-001").not_tested == ("Sound at full power", "Look it over: colour", "Voice coils")


def test_the_first_page_of_a_record_sheet_says_what_failed_and_when(bench, lot, tmp_path):
    record_answer(bench, "TB-001", "look-over.outside", InspectAnswer(marks={"cone": "bad", "grille": "good"}), by="AB")
    export_record_sheet(bench, "TB-001", out=tmp_path / "record.pdf")
    first = PdfReader(tmp_path / "record.pdf").pages[0].extract_text()
    said = preview_tag(bench, "TB-001").failed[0]
    assert "FAILED" in first
    assert said.startswith("2026-05-04: ")
    assert said in first


def test_a_unit_that_smoked_gets_a_do_not_use_tag_whatever_passed_before(bench, lot):
    do_what_is_due(bench, "TB-001")
    set_disposition(bench, "TB-001", "for sale", by="CD", price="£12")
    record_hazard(bench, "TB-001", "smoke", by="AB")
    tag = preview_tag(bench, "TB-001")
    assert (tag.disposition_words, tag.tone, tag.price) == ("Do not use", Tone.FORBIDDEN, "")


def test_what_was_repaired_stands_on_the_tag_of_a_tested_unit(bench, lot):
    do_what_is_due(bench, "TB-001")
    assert preview_tag(bench, "TB-001").repaired == ()
    for done in ("joint soldered", "joint soldered again"):
        record_repair(bench, "TB-001", fault=None, part="coil", done=done, by="AB")
    do_what_is_due(bench, "TB-001")
    set_disposition(bench, "TB-001", "for sale", by="CD")
    assert preview_tag(bench, "TB-001").repaired == ("coil",)


def test_a_sound_unit_for_sale_says_what_was_tested_when_and_by_whom(bench, lot):
    do_what_is_due(bench, "TB-001")
    assert words_of(bench, "TB-001") == ("Tested, not yet for sale", Tone.WAITING)
    set_disposition(bench, "TB-001", "for sale", by="CD", grade="B", price="£12")
    tag = preview_tag(bench, "TB-001")
    assert (tag.disposition_words, tag.tone) == ("For sale, grade B", Tone.READY)
    assert (tag.date, tag.initials, tag.price) == ("2026-05-04", "CD", "£12")
    assert tag.not_tested == ("Sound at full power",)
    assert [reading.what for reading in tag.readings] == ["Coil"]
    assert tag.readings[0].value.endswith("ohm")
    unit = bench.unit("TB-001")
    assert tag.record_hash == unit.record_hash[:12]
    assert tag.code == f"TB-001 {unit.record_hash[:8].upper()}"


@pytest.mark.parametrize(
    ("disposition", "words", "tone"),
    [
        ("hold", "On hold", Tone.WAITING),
        ("keep", "Kept in the collection", Tone.KEPT),
        ("scrap", "Scrap, do not use", Tone.PARTS),
        ("spares or repair", "Spares or repair", Tone.PARTS),
    ],
)
def test_each_disposition_has_its_words_and_its_sign(bench, lot, disposition, words, tone):
    do_what_is_due(bench, "TB-001")
    if disposition == "spares or repair":
        destroy_plug(bench, "TB-001", by="CD", note="past mending")
    set_disposition(bench, "TB-001", disposition, by="CD", note="seen")
    assert words_of(bench, "TB-001") == (words, tone)


def test_what_was_put_right_stands_on_the_tag_and_the_record_with_both_reasons(bench, lot):
    from benchapp.actions.papers.record_content import record_content

    destroy_plug(bench, "TB-001", by="CD", note="past mending")
    keep_plug(bench, "TB-001", by="CD", why="that was TB-002")
    set_disposition(bench, "TB-001", "scrap", by="CD", note="a crack")
    set_disposition(bench, "TB-001", "quarantine", by="CD", note="only dirt")
    said = preview_tag(bench, "TB-001").cautions
    assert any(one.startswith("Plug destroyed (past mending): wrong, that was TB-002 (2026-05-04, CD)") for one in said)
    assert any(one.startswith("Scrap (a crack): no longer, only dirt (2026-05-04, CD)") for one in said)
    assert set(said) <= set(record_content(bench, "TB-001").cautions)


def test_what_a_supervisor_accepted_stands_on_the_tag_and_the_record_with_its_reason(bench, lot):
    from benchapp.actions.papers.record_content import record_content

    accept(bench, "TB-001", Accepted.lower_rating, supervisor="CD", reason="It ran here for ten years.")
    said = "CD accepted a 220 V rating on 230 V mains (2026-05-04): It ran here for ten years."
    assert said in preview_tag(bench, "TB-001").cautions
    assert said in record_content(bench, "TB-001").cautions


def test_kept_units_that_were_not_tested_still_say_so(bench, lot):
    set_disposition(bench, "TB-001", "keep", by="CD")
    assert words_of(bench, "TB-001") == ("Not tested, do not connect", Tone.FORBIDDEN)


def test_every_mixture_of_disposition_and_state_has_words(bench, lot):
    plan = bench.plan("TB-001")
    bare = UnitState(at="2026-05-04T09:00:00Z", steps={}, stages=(), due=Due(kind=DueKind.finished))
    for disposition in ("quarantine", "for sale", "spares or repair", "scrap", "keep", "hold"):
        for complete in (True, False):
            words, tone = disposition_words(plan, replace(bare, disposition=disposition, complete=complete))
            assert words
            assert isinstance(tone, Tone)


def test_a_lots_tags_are_one_pdf_that_names_every_unit(bench, lot, tmp_path):
    do_what_is_due(bench, "TB-001")
    steps = []
    out = tmp_path / "tags.pdf"
    changes = export_tags(bench, lot=lot, out=out, by="CD", progress=lambda done, of: steps.append((done, of)))
    assert changes.files == (out,)
    assert changes.words == f"3 tags are in {out}."
    assert steps == [(1, 3), (2, 3), (3, 3)]
    for mark in ("TB-001", "TB-002", "TB-003"):
        assert mark in text_of(out)
    (printed,) = bench.workbook.tags_printed("TB-001")
    assert (printed.by, printed.disposition) == ("CD", "Tested, not yet for sale")
    assert [file.name for file in tmp_path.glob("*.pdf")] == ["tags.pdf"]
    assert not list(tmp_path.glob(".tags*"))


def test_tags_of_chosen_units_alone(bench, lot, tmp_path):
    out = tmp_path / "one.pdf"
    assert export_tags(bench, units=("TB-002",), out=out).words == f"1 tag is in {out}."
    assert "TB-001" not in text_of(out)


def test_printing_that_is_stopped_leaves_no_file(bench, lot, tmp_path):
    with pytest.raises(Cancelled, match="Printing tags was stopped; nothing was kept of it"):
        export_tags(bench, lot=lot, out=tmp_path / "tags.pdf", cancelled=lambda: True)
    assert not list(tmp_path.glob("*.pdf"))
    assert bench.workbook.tags_printed("TB-001") == ()


def test_no_units_and_no_such_sheet_are_told(bench, lot, tmp_path):
    with pytest.raises(PaperProblem, match=r"There is no label sheet “rol-62”. Did you mean “roll-62”"):
        export_tags(bench, lot=lot, out=tmp_path / "tags.pdf", sheet="rol-62")


def test_a_workbook_without_units_has_no_tags(bench, tmp_path):
    with pytest.raises(ExportProblem, match="There are no units to print tags for"):
        export_tags(bench, out=tmp_path / "tags.pdf")


def test_the_record_sheet_carries_readings_bands_meter_and_hash(bench, lot, tmp_path):
    do_what_is_due(bench, "TB-001")
    out = tmp_path / "record.pdf"
    export_record_sheet(bench, "TB-001", out=out)
    text = text_of(out)
    for words in ("TB-001", "Voice coils", "tb-m1", "NOT tested", bench.unit("TB-001").record_hash[:16]):
        assert words in text


def test_record_sheets_of_a_lot_are_named_by_their_marks(bench, lot, tmp_path):
    changes = export_record_sheets(bench, lot=lot, folder=tmp_path)
    assert [file.name for file in changes.files] == ["TB-001.pdf", "TB-002.pdf", "TB-003.pdf"]
    assert changes.words == f"3 record sheets are in {tmp_path}."


def test_the_record_of_a_unit_with_fault_repair_and_withdrawal_is_complete(bench, lot, tmp_path):
    from benchapp.actions.entries.answers import withdraw_answer
    from benchapp.actions.entries.faults import record_repair
    from benchapp.actions.papers.record_content import record_content

    record_answer(bench, "TB-001", "look-over.outside", InspectAnswer(marks={"cone": "bad", "grille": "good"}), by="AB")
    record_repair(bench, "TB-001", fault=1, part="large-driver", done="new cone", by="AB", opened=("enclosure",))
    do_what_is_due(bench, "TB-001", until="look-over.colour")
    withdraw_answer(bench, "TB-001", by="AB")
    do_what_is_due(bench, "TB-001")
    content = record_content(bench, "TB-001")
    rows = {row.number: row for section in content.sections for row in section.rows}
    assert rows["1"].lapse == "superseded"
    assert rows["1"].reading == "bad: cone"
    assert [row.lapse for row in rows.values() if row.step == "Wipe"] == ["withdrawn", ""]
    assert content.repairs[0].retested.startswith("Look it over: outside")
    assert content.faults[0].state == "closed, see repair 2"
    export_record_sheet(bench, "TB-001", out=tmp_path / "record.pdf")


def test_work_given_is_shown_as_done(bench, lot):
    from benchapp.actions.papers.record_content import record_content

    do_what_is_due(bench, "TB-001", until="look-over.wipe")
    model = bench.plan("TB-001").step("look-over.wipe").model
    record_answer(bench, "TB-001", "look-over.wipe", WorkAnswer(done=model.do), by="AB")
    assert record_content(bench, "TB-001").sections[0].rows[1].reading == "1 done"
