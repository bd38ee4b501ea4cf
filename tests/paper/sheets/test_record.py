"""Record sheets, read back from the PDF."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from benchapp.judgement.statements.band import DerivationStep
from benchapp.paper.content import Fact, Finding, RecordSection, RecordSheet, Tone
from benchapp.paper.drawing.pictures import page_count
from benchapp.paper.drawing.style import MM, RECORD_MARGIN, TextStyle
from benchapp.paper.problems import PaperProblem
from benchapp.paper.sheets.record import record_sheet
from tests.paper.making import LONG_WORD, all_text, letters, make_budget, make_record, make_row, pages_text, text_boxes

PAPERS = ("A4", "Letter")


@pytest.mark.parametrize("paper", PAPERS)
def test_the_same_record_gives_the_same_bytes(paper):
    assert record_sheet(make_record(), paper) == record_sheet(make_record(), paper)


@pytest.mark.parametrize("paper", PAPERS)
def test_a_row_carries_reading_band_uncertainty_meter_date_initials_and_judgement(paper):
    text = letters(all_text(record_sheet(make_record(), paper)))
    row = make_row()
    for words in (row.step, row.reading, row.band, row.uncertainty, row.meter, row.when, row.by, "✓ pass"):
        assert letters(words) in text


def test_a_band_says_why_it_is_what_it_is():
    text = all_text(record_sheet(make_record()))
    assert "Why this band: base limit 0.1 Ω (in-service testing limits, from memory);" in text
    assert "cord 1.8 m of 0.75 mm² 0.047 Ω (IEC 60228:2004, class 5)." in text


@pytest.mark.parametrize(
    ("finding", "judgement", "sign"),
    [
        (Finding.GOOD, "pass", "✓"),
        (Finding.CONDITIONAL, "conditional pass", "◐"),
        (Finding.BAD, "fail", "✗"),
        (Finding.NOT_JUDGED, "not judged", "–"),
    ],
)
def test_a_judgement_stands_in_words_with_a_sign(finding, judgement, sign):
    assert f"{sign} {judgement}" in all_text(record_sheet(make_record(make_row(finding=finding, judgement=judgement))))


def test_the_record_carries_faults_repairs_cautions_hashes_and_what_was_not_tested():
    content = make_record()
    text = all_text(record_sheet(content))
    for words in (
        "13 A fitted",
        "3 A fuse fitted",
        "fuse 3 A",
        "earth, insulation",
        "NOT tested • running on load",
        "⚠ For use indoors, in the dry.",
        content.hashes[0].value,
        "calibrated 3 Mar 2026",
        "Tested by",
        "A. Bearer",
        "supply: none",
        "Continuity – done",
        "It promises nothing for later",
    ):
        assert words in text


def test_a_row_that_no_longer_stands_says_so():
    assert "fail, superseded" in all_text(record_sheet(make_record(make_row(judgement="fail", lapse="superseded"))))


def test_every_page_says_which_of_how_many_it_is():
    pages = pages_text(record_sheet(make_record(*[make_row(number=str(n)) for n in range(60)])))
    assert len(pages) > 3
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page


def test_a_stage_repeats_its_title_and_column_heads_on_every_page():
    pages = pages_text(record_sheet(make_record(*[make_row(number=str(n)) for n in range(60)])))
    for page in pages[:-1]:
        assert "Continuity – done" in page
        assert "Step Reading Band U Meter When, by Judgement" in page


def test_a_row_and_its_reasons_stand_on_one_page():
    pages = pages_text(record_sheet(make_record(*[make_row(number=f"n{n}") for n in range(60)])))
    for page in pages:
        assert page.count("✓ pass") == page.count("Why this band:")
    assert sum(page.count("✓ pass") for page in pages) == 60


def test_later_pages_name_the_unit():
    pages = pages_text(record_sheet(make_record(*[make_row() for _ in range(40)])))
    assert all("TB-014 · Mains unit, two AC outputs · Tested, for sale" in page for page in pages[1:])


def test_a_record_without_anything_prints_what_it_is():
    content = RecordSheet(
        shelf_mark="TB-014", equipment="", lot="Attic", disposition_words="Not tested", tone=Tone.FORBIDDEN
    )
    text = all_text(record_sheet(content))
    assert "TB-014" in text
    assert "No fault and no repair is recorded." in text
    assert "page 1 of 1" in text


@pytest.mark.parametrize("before", [0, 5, 10])
def test_a_reading_its_reasons_and_its_caution_stand_on_one_page(before):
    why = make_row().derivation * 3
    rows = [make_row(step=f"step{n}x", derivation=why, cautions=(f"caution{n}x",)) for n in range(30)]
    pages = pages_text(record_sheet(make_record(*[make_row(derivation=()) for _ in range(before)], *rows)))
    for n in range(30):
        (page,) = [page for page in pages if f"step{n}x" in page]
        assert f"caution{n}x" in page


def test_a_note_longer_than_a_page_flows_on_and_is_whole():
    pdf = record_sheet(make_record(make_row(note=" ".join(f"w{n}" for n in range(3000)))))
    assert page_count(pdf) > 1
    text = all_text(pdf)
    assert all(f"w{n} " in text for n in range(0, 2999, 97))


def test_a_step_longer_than_a_page_flows_on_and_is_whole():
    pdf = record_sheet(make_record(make_row(step=" ".join(f"w{n}" for n in range(1500)))))
    text = all_text(pdf)
    assert all(f"w{n} " in text for n in range(0, 1499, 53))


def test_a_title_that_no_page_can_hold_is_a_sentence():
    section = RecordSection(title="word " * 4000, rows=(make_row(),))
    with pytest.raises(PaperProblem, match="has a piece that fits no A4 page"):
        record_sheet(make_record(sections=(section,)))


@pytest.mark.parametrize("paper", PAPERS)
def test_the_longest_words_stay_between_the_margins(paper):
    word = LONG_WORD * 2
    row = make_row(
        step=word, reading=word, band=word, uncertainty=word, meter=word, when=word, by=word, judgement=word, note=word
    )
    content = make_record(
        row,
        lot=word,
        facts=tuple(Fact(name=word, value=word) for _ in range(3)),
        hashes=(Fact(name=word, value=word),),
        equipment=word,
    )
    pdf = record_sheet(content, paper)
    pages = PdfReader(BytesIO(pdf)).pages
    for page, left, bottom, right, _top, text in text_boxes(pdf):
        assert left >= RECORD_MARGIN - 1, text
        assert right <= float(pages[page].mediabox.width) - RECORD_MARGIN + 1, text
        assert bottom >= RECORD_MARGIN - 3 * MM, text


def test_an_unknown_paper_is_refused_with_those_there_are():
    with pytest.raises(PaperProblem, match=r"“A7” is not known. Choose one of: A4, Letter."):
        record_sheet(make_record(), "A7")


def test_markup_in_a_note_prints_as_it_was_typed():
    assert "a <b>5 & <i>" in all_text(record_sheet(make_record(make_row(note="a <b>5 & <i>"))))


def test_a_misspelt_style_is_refused():
    with pytest.raises(TypeError, match="boldd"):
        TextStyle(8.0, boldd=True)


def test_the_uncertainty_of_a_reading_is_printed_source_by_source():
    text = letters(all_text(record_sheet(make_record(budgets=(make_budget(),)))))
    for words in (
        "Uncertainty of the readings",
        "Readings 3, 7 (tb-m1, AC voltage): u = 0.054 V, U = 0.11 V (k = 2.00, ν = ∞, 95.45 %)",
        "accuracy ±(0.7 % + 3 counts), range to 60 V",
        "rectangular",
        "99.7 %",
        "JCGM 100:2008",
    ):
        assert letters(words) in text


def test_a_hundred_budgets_go_on_over_pages_with_their_heads_repeated():
    budgets = tuple(make_budget(numbers=(str(n),)) for n in range(100))
    pages = [letters(text) for text in pages_text(record_sheet(make_record(budgets=budgets)))]
    heads = [page for page in pages if letters("Sensitivity") in page]
    assert len(heads) > 1
    assert all(any(letters(f"Reading {n} (tb-m1") in page for page in pages) for n in range(100))


def test_what_was_taken_off_a_reading_and_its_cautions_stand_under_its_row():
    row = make_row(
        corrections=(DerivationStep(what="leads taken off", value="0.12 Ω", source="measured at bench opening"),),
        cautions=("OL counts only with leads that were proved.",),
        siblings=("This lot: 9.8 V to 10.3 V, middle 10.1 V (6 units).",),
    )
    text = all_text(record_sheet(make_record(row)))
    assert "Siblings: This lot: 9.8 V to 10.3 V, middle 10.1 V (6 units)." in text
    assert "Why this value: leads taken off 0.12 Ω (measured at bench opening)." in text
    assert "Caution: OL counts only with leads that were proved." in text
