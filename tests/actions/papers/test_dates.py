"""Dates on papers are written as the workshop has settled; the record keeps ISO 8601 whatever that is."""

from dataclasses import replace

import pytest
from pypdf import PdfReader

from benchapp.actions.entries.days import change_workshop
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.papers.dates import FORMS, dates_as, day
from benchapp.actions.papers.printing import export_record_sheet
from benchapp.actions.workbench.bench import Bench
from tests.desktop.windows import Clock
from tests.people import staffed


@pytest.mark.parametrize(
    ("form", "date"),
    [
        ("", "2026-05-04"),
        ("day/month/year", "04/05/2026"),
        ("month/day/year", "05/04/2026"),
        ("day.month.year", "04.05.2026"),
        ("by the moon", "2026-05-04"),
    ],
)
def test_a_date_has_the_form_that_is_set_and_no_other_afterwards(form, date):
    with dates_as(form):
        assert day("2026-05-04T12:00:00.000Z") == date
    assert day("2026-05-04T12:00:00.000Z") == "2026-05-04"


def test_every_form_names_year_month_and_day():
    assert all(part in form for form in FORMS.values() for part in ("{year:04}", "{month:02}", "{day:02}"))


@pytest.mark.parametrize(("form", "date"), [("", "2026-05-04"), ("day/month/year", "04/05/2026")], ids=["iso", "own"])
def test_a_record_sheet_is_dated_as_the_workshop_writes_dates(tmp_path, form, date):
    bench = Bench.create(tmp_path / "tarnbeck.workbook", clock=Clock(), workshop=staffed())
    change_workshop(bench, replace(bench.workshop, dates=form), by="AB")
    take_in_lot(bench, name="Van", equipment="tb-mu1", route="mains-unit", marks=("TB-001",), by="AB")
    export_record_sheet(bench, "TB-001", out=tmp_path / "record.pdf")
    kept = bench.lots()[0].taken_in
    bench.close()
    text = " ".join(PdfReader(tmp_path / "record.pdf").pages[0].extract_text().split())
    assert f"Run begun {date} 09:00" in text
    assert kept.startswith("2026-05-04T09:00")
