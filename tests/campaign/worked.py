"""A small workbook with a bit of everything: two lots, tags, other settings, a closed day, a second bench."""

from pathlib import Path

from benchapp.actions.entries.answers import withdraw_answer
from benchapp.actions.entries.days import change_workshop, close_bench, open_bench
from benchapp.actions.entries.faults import record_event, record_note
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import set_disposition
from benchapp.actions.entries.photos import attach_photos
from benchapp.actions.entries.runs import start_run
from benchapp.actions.papers.printing import export_tags
from benchapp.actions.workbench.bench import Bench
from benchapp.workbook.model.values import BenchIdentity, MeterProof
from tests.actions.conftest import SMALL, Clock
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed
from tests.photos import tiny_photo

METERS = (MeterProof(meter="tb-m1", proved=True, lead_resistance=0.1),)
ELSEWHERE = BenchIdentity(uuid="00000000-0000-4000-8000-00000000000b", name="Bench by the door")


def make_workbook(path: Path, clock: Clock) -> Path:
    """The workbook, closed, with everything in its file."""
    with Bench.create(path, folders=(SMALL,), clock=clock, by="SV", workshop=staffed()) as bench:
        open_bench(bench, by="AB", meters=METERS, rcd_button_tested=True, **OPENED)
        for name, first in (("Tarnbeck hall", 1), ("Tarnbeck attic", 4)):
            marks = tuple(f"TB-{number:03d}" for number in range(first, first + 3))
            take_in_lot(bench, name=name, equipment="tb-ls1", route="small-check", marks=marks, by="AB")
        do_what_is_due(bench, "TB-001")
        set_disposition(bench, "TB-001", "for sale", by="CD", grade="B", price="£12")
        do_what_is_due(bench, "TB-002", until="coils.coil")
        withdraw_answer(bench, "TB-002", by="AB")
        start_run(bench, "TB-002", by="AB")
        do_what_is_due(bench, "TB-002")
        record_event(bench, "TB-003", "fall", by="AB")
        change_workshop(bench, staffed(dead_tests_last_days=20), by="SV", reason="anew")
        export_tags(bench, out=path.with_name("tags.pdf"), units=("TB-001", "TB-002"), by="AB")
        close_bench(bench, by="AB", meters=METERS)
    with Bench.open(path, folders=(SMALL,), clock=clock, at_bench=ELSEWHERE) as bench:
        open_bench(bench, by="CD", meters=METERS, **OPENED)
        record_note(bench, "TB-004", "a scratch on the left", by="CD")
        attach_photos(bench, "TB-005", [tiny_photo()], by="CD", note="as it came")
        close_bench(bench, by="CD")
    return path
