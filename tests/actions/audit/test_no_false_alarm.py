"""Whatever benches and windows do at one file, in whatever order, what the program recorded verifies."""

import random
from contextlib import suppress

import pytest

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.answers import withdraw_answer
from benchapp.actions.entries.conditions import record_meter
from benchapp.actions.entries.days import change_workshop, close_bench, open_bench
from benchapp.actions.entries.faults import record_event, record_note
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import mark_anew, set_disposition
from benchapp.actions.entries.runs import start_run
from benchapp.actions.papers.printing import export_tags
from benchapp.actions.workbench.bench import Bench
from benchapp.errors import BenchError
from benchapp.workbook.model.values import BenchIdentity
from tests.actions.audit.worked import PROOF
from tests.actions.conftest import SMALL, Clock
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed

MARKS = ("TB-001", "TB-002", "TB-003")

WORDS = ("for sale", "hold", "quarantine")


class UnsteadyClock(Clock):
    """Goes on by seconds, days go by, and now and then it is put back by seconds, minutes or hours."""

    def __init__(self, chance):
        super().__init__()
        self._chance = chance

    def __call__(self):
        if self._chance.random() < 0.05:
            self.pass_days(-self._chance.choice([20, 200, 5000]) / 86400)
        return super().__call__()


def work(chance, bench, path):
    """One thing that a person may do; what is refused is not done."""
    mark = chance.choice([unit.mark for unit in bench.units()])
    again = mark[:-1] if mark.endswith("x") else f"{mark}x"
    things = [
        lambda: open_bench(bench, by="AB", meters=(PROOF,), rcd_button_tested=True, **OPENED),
        lambda: close_bench(bench, by="AB"),
        lambda: record_note(bench, mark, "a foot is missing", by="AB"),
        lambda: record_meter(bench, mark, "tb-m1", by="AB"),
        lambda: record_event(bench, mark, "fall", by="AB"),
        lambda: do_what_is_due(bench, mark, until=chance.choice(["coils.coil", "look-over.wipe"])),
        lambda: do_what_is_due(bench, mark),
        lambda: withdraw_answer(bench, mark, by="AB"),
        lambda: start_run(bench, mark, by="AB"),
        lambda: mark_anew(bench, mark, again, by="AB"),
        lambda: bench.workbook.lend(
            mark, chance.choice(["", bench.workbook.bench.uuid]), at=bench.now(bench.history(mark)), by="AB"
        ),
        lambda: set_disposition(bench, mark, chance.choice(WORDS), by="CD", price="£5", note="looked at"),
        lambda: change_workshop(bench, staffed(insulation_tester=chance.random() < 0.5), by="SV", reason="anew"),
        lambda: export_tags(bench, out=path.with_suffix(".pdf"), units=(mark,), by="AB"),
        lambda: bench.workbook.add_anchor(at=bench.clock(), reason="workbook closed"),
    ]
    with suppress(BenchError, AssertionError):
        chance.choice(things)()


@pytest.mark.parametrize("seed", range(8))
def test_two_benches_with_two_windows_each_leave_a_workbook_that_verifies(tmp_path, seed):
    chance, path = random.Random(seed), tmp_path / "tarnbeck.workbook"
    clock = UnsteadyClock(chance)
    first = Bench.create(path, folders=(SMALL,), clock=clock, by="AB", workshop=staffed())
    other = BenchIdentity(uuid="00000000-0000-4000-8000-000000000002", name="Bench two")
    windows = [first, Bench.open(path, folders=(SMALL,), clock=clock)]
    windows += [Bench.open(path, folders=(SMALL,), clock=clock, at_bench=other) for _ in range(2)]
    take_in_lot(first, name="Tarnbeck hall", equipment="tb-ls1", route="small-check", marks=MARKS, by="AB")
    for _ in range(40):
        if chance.random() < 0.1:
            clock.pass_days(chance.choice([0.3, 1, 40]))
        work(chance, chance.choice(windows), path)
    assert verify_workbook(path) == ()
    for window in windows:
        window.close()
    assert verify_workbook(path) == ()
