"""Meters of the workshop's own: a record written from the data sheet into the workshop's folder, checked before."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.actions.entries.renewing import renew_untouched
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.own_files import first_complaint, write_own_file
from benchapp.actions.workbench.problems import Refused
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.meters.data_sheet import MeterSheet

FOLDER = "meters"


def next_meter_id(bench: Bench) -> str:
    """An id that no meter of the workshop has: m1, m2 ..."""
    known = bench.catalogue.meters
    folder = bench.path.parent / FOLDER
    number = 1
    while f"m{number}" in known or (folder / f"m{number}.yaml").exists():
        number += 1
    return f"m{number}"


def a_year_after(day: date) -> date:
    """When the next calibration is due where nobody said: a year later (common practice, no source)."""
    try:
        return day.replace(year=day.year + 1)
    except ValueError:  # 29 February
        return day.replace(year=day.year + 1, day=28)


def add_meter(bench: Bench, sheet: "MeterSheet", *, by: str) -> ChangeSet:
    """Write the meter's record beside the workbook, in its folder of meters; raises Refused with what is wrong.

    Units that were taken in before, and of which nothing was recorded yet, begin their run anew with it.
    """
    if not by.strip():
        raise Refused(say("Nobody's initials are given. Enter yours first."))
    path = _write(bench, sheet)
    bench.reread_files()
    begun, waiting = renew_untouched(bench, by=by)
    words = say("{title} ({meter}) is a meter of this workshop. Its record is {path}.", **_said(sheet), path=path)
    if waiting:
        words += say(" Units in work go on with the meters that they began with: a new run takes this one in.")
    return ChangeSet(units=frozenset(begun), lots=frozenset(bench.unit(mark).lot for mark in begun), words=words)


def _write(bench: Bench, sheet: "MeterSheet") -> Path:
    from benchapp.errors import BenchError
    from benchapp.files.locations import FileProblems
    from benchapp.files.models import build_model
    from benchapp.files.reader import parse_document
    from benchapp.judgement.meters.data_sheet import meter_text
    from benchapp.judgement.meters.records import MeterRecord

    if not sheet.lines:
        raise Refused(say("Say what the meter reads: at least one line of its data sheet."))
    if sheet.meter in bench.catalogue.meters:
        raise Refused(say("There is a meter {meter} already. Give this one another name.", meter=sheet.meter))
    try:
        text = meter_text(sheet)
        build_model(parse_document(text, f"{sheet.meter}.yaml"), MeterRecord)
    except FileProblems as problems:
        raise Refused(first_complaint(problems)) from problems
    except BenchError as problem:
        raise Refused(problem.sentence) from problem
    return write_own_file(bench, FOLDER, sheet.meter, text)


def _said(sheet: "MeterSheet") -> dict[str, str]:
    return {"title": sheet.title, "meter": sheet.meter}
