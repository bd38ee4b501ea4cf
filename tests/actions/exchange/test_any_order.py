"""Day files may be brought in in any order and as often as one likes: the workbook is the same after.

All rows of all tables are compared, but for the chain of the bench that imports: it notes what it did, and when.
"""

from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchapp.actions.entries.days import change_workshop, close_bench, open_bench
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import mark_anew
from benchapp.actions.entries.runs import start_run
from tests.actions.driving import do_what_is_due
from tests.actions.exchange.benches import HALL, HUB, PROVED, YARD, at, bring, copy, export, held, make, verified
from tests.effort import cases
from tests.people import OPENED, staffed
from tests.workbook.strangers_verifier import first_bad_numbers


@pytest.fixture(scope="module")
def apart(tmp_path_factory):
    """A hub, and day files of two copies of it and of another workshop: forks, and marks and lots of one name."""
    folder = tmp_path_factory.mktemp("apart")
    hub = make(folder / "hub.workbook")
    hall, second = copy(hub, folder / "hall.workbook"), copy(hub, folder / "second.workbook")
    yard = make(folder / "yard.workbook", marks=("TB-014", "TB-020"), at=YARD)
    files = []

    def day(path, bench, name, work, **asked):
        with at(path, bench, hour=1 + len(files)) as opened:
            work(opened)
        files.append(export(path, bench, folder / f"{name}.dayfile", **asked))

    def first_day(bench):
        do_what_is_due(bench, "TB-001", until="coils.coil")
        start_run(bench, "TB-002", by="CD")
        mark_anew(bench, "TB-002", "TB-020", by="CD")
        take_in_lot(bench, name="Barn", equipment="tb-ls1", route="small-check", marks=("TB-030",), by="CD")

    def second_day(bench):
        open_bench(bench, by="CD", meters=PROVED, rcd_button_tested=True, **OPENED)
        do_what_is_due(bench, "TB-001")
        close_bench(bench, by="CD")

    def elsewhere(bench):
        record_note(bench, "TB-001", "the grille is dented", by="EF")
        change_workshop(bench, staffed(region="us"), by="SV", reason="anew")
        take_in_lot(bench, name="Barn", equipment="tb-ls1", route="small-check", marks=("TB-031",), by="EF")

    day(hall, HALL, "hall-1", first_day)
    day(hall, HALL, "hall-2", second_day, units=["TB-001"])
    day(second, HALL, "second", elsewhere)
    day(yard, YARD, "yard-1", lambda bench: do_what_is_due(bench, "TB-014"))
    day(yard, YARD, "yard-2", lambda bench: record_note(bench, "TB-020", "damp", by="GH"), units=["TB-020"])
    return hub, files


@pytest.fixture(scope="module")
def in_their_order(apart, tmp_path_factory):
    hub, files = apart
    path = copy(hub, tmp_path_factory.mktemp("order") / "hub.workbook")
    bring(path, *files)
    assert verified(path) == ()
    return held(path, but=HUB)


@settings(max_examples=cases(5, 40), deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_any_order_and_repetition_of_imports_gives_the_same_workbook(apart, in_their_order, data):
    hub, files = apart
    order = data.draw(st.permutations(files))
    again = data.draw(st.lists(st.tuples(st.integers(0, len(files)), st.sampled_from(files)), max_size=3))
    for place, file in again:
        order = [*order[:place], file, *order[place:]]
    with TemporaryDirectory() as folder:
        path = copy(hub, Path(folder) / "hub.workbook")
        for file in order:
            bring(path, file)
            assert verified(path) == (), file.name
        assert first_bad_numbers(path) == {}
        found = held(path, but=HUB)
    for table, rows in in_their_order.items():
        assert found[table] == rows, table
