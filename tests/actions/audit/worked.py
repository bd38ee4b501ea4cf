"""A workbook in which something of every kind is recorded, made once and copied for whoever changes it."""

import sqlite3
from hashlib import sha256

from benchapp.actions.entries.answers import withdraw_answer
from benchapp.actions.entries.days import change_workshop, close_bench, open_bench
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.entries.runs import start_run
from benchapp.actions.papers.printing import export_tags
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.model.values import MeterProof
from tests.actions.conftest import SMALL, Clock
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

PROOF = MeterProof(meter="tb-m1", proved=True, lead_resistance=0.1)
PHOTO = b"\x89PNG\r\n\x1a\n made up"


def make_worked(path):
    """Two units worked through two days, one of them in a second run, one with a price; tags printed; bench closed."""
    clock = Clock()
    with Bench.create(path, folders=(SMALL,), clock=clock, by="AB", workshop=staffed()) as bench:
        open_bench(bench, by="AB", meters=(PROOF,), rcd_button_tested=True, **OPENED)
        marks = ("TB-001", "TB-002", "TB-003")
        take_in_lot(bench, name="Tarnbeck hall", equipment="tb-ls1", route="small-check", marks=marks, by="AB")
        do_what_is_due(bench, "TB-001")
        set_disposition(bench, "TB-001", "for sale", by="CD", grade="B", price="£12")
        change_workshop(bench, staffed(insulation_tester=False), by="SV", reason="anew")
        do_what_is_due(bench, "TB-002", until="coils.coil")
        close_bench(bench, by="AB")
        clock.pass_days(20)
        open_bench(bench, by="AB", meters=(PROOF,), rcd_button_tested=True, **OPENED)
        withdraw_answer(bench, "TB-002", by="AB")
        start_run(bench, "TB-002", by="AB")
        do_what_is_due(bench, "TB-002")
        record_note(bench, "TB-003", "missing a foot", by="AB")
        export_tags(bench, out=path.with_suffix(".pdf"), lot="Tarnbeck hall", by="AB")
        close_bench(bench, by="AB")
    with sqlite3.connect(path) as connection:
        row = (sha256(PHOTO).hexdigest(), "image/png", PHOTO)
        connection.execute("INSERT INTO photos (sha256, media_type, image) VALUES (?, ?, ?)", row)
    connection.close()
    return path
