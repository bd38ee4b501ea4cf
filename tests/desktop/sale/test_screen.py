"""The sale table by keys."""

from pypdf import PdfReader

from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.entries.runs import start_run
from benchapp.actions.papers.tag_content import tag_content
from benchapp.desktop.printing.dialog import PrintDialog
from benchapp.desktop.sale.sale_model import COLUMNS


def test_units_stand_there_with_their_disposition(technician):
    technician.strike("F11")
    sale = technician.window.sale
    assert [unit.mark for unit in sale.units.rows] == ["TB-001", "TB-002", "TB-003"]
    assert technician.reads("sale-summary") == "For sale: 0 of 3 units."
    assert sale.units.index(0, 1).data() == "not tested"


def test_the_tag_of_the_unit_at_hand_is_drawn_as_it_will_be_printed(technician, qtbot):
    technician.strike("F11")
    qtbot.waitUntil(lambda: not technician.window.sale.tag.pixmap().isNull(), timeout=10000)
    technician.settle()


def test_only_units_of_one_disposition_are_shown_when_asked(technician):
    set_disposition(technician.window.context.bench, "TB-002", "hold", by="AB")
    technician.strike("F11", "Alt+W", "h", "h")
    chooser = technician.window.sale.chooser
    assert chooser.currentData() == "hold"
    assert [unit.mark for unit in technician.window.sale.units.rows] == ["TB-002"]


def test_tags_of_the_units_shown_are_written_as_text(technician, tmp_path):
    technician.strike("F11", "Ctrl+E")
    technician.retype(str(tmp_path / "tags.pdf"))
    technician.strike("Enter")
    text = "".join(page.extract_text() for page in PdfReader(tmp_path / "tags.pdf").pages)
    assert all(mark in text for mark in ("TB-001", "TB-002", "TB-003"))
    assert technician.said


def test_the_record_sheet_of_the_unit_at_hand_is_written(technician, tmp_path):
    technician.strike("F11", "Down", "Ctrl+R")
    technician.retype(str(tmp_path / "record.pdf"))
    technician.strike("Enter")
    assert "TB-002" in PdfReader(tmp_path / "record.pdf").pages[0].extract_text()


def test_enter_takes_the_unit_to_where_its_disposition_is_set(technician):
    technician.strike("F11", "Down", "Enter")
    assert technician.page.name == "outcome"
    assert technician.view.mark == "TB-002"
    technician.tab_to("outcome-price")
    technician.type("12.50")
    technician.strike("Enter", "4")
    unit = technician.window.context.bench.unit("TB-002")
    assert (unit.disposition, unit.price) == ("hold", "12.50")


def test_printing_asks_which_printer_sheet_and_label(technician):
    technician.strike("F11", "Ctrl+P")
    dialog = technician.window.findChild(PrintDialog, "print-dialog")
    assert dialog.isVisible()
    assert dialog.choices.wish().units == ("TB-001", "TB-002", "TB-003")
    technician.strike("Esc")


def test_grade_and_price_typed_after_the_disposition_are_recorded(technician):
    bench = technician.window.context.bench
    technician.strike("F11", "Down", "Enter", "3")
    assert bench.unit("TB-002").disposition == "keep"
    technician.tab_to("outcome-grade")
    technician.type("B")
    technician.strike("Enter")
    assert (bench.unit("TB-002").disposition, bench.unit("TB-002").grade) == ("keep", "B")
    technician.tab_to("outcome-price")
    technician.type("9.00")
    technician.strike("Enter", "F11")
    row = next(unit for unit in technician.window.sale.units.rows if unit.mark == "TB-002")
    assert (row.grade, row.price) == ("B", "9.00")


def test_a_page_that_was_only_looked_at_hides_no_price_recorded_since(technician):
    bench = technician.window.context.bench
    technician.strike("F11", "Down", "Enter", "F11")
    set_disposition(bench, "TB-002", "keep", by="AB", price="9.00")
    technician.strike("Enter")
    assert technician.page.name == "outcome"
    assert technician.reads("outcome-price") == "9.00"


def test_what_it_is_follows_a_new_run_as_another_design(technician):
    bench = technician.window.context.bench
    start_run(bench, "TB-002", by="AB", route="loudspeaker", equipment="tb-ls1", why="the plate says so")
    technician.strike("F11")
    column = COLUMNS.index("What it is")
    sale = technician.window.sale
    assert sale.units.index(1, column).data() == tag_content(bench, "TB-002").title
    assert sale.units.index(0, column).data() == tag_content(bench, "TB-001").title
    assert sale.units.index(0, column).data() != sale.units.index(1, column).data()
