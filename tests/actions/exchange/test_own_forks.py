"""A copied file that was worked on in two places: the records of the workshop and of a bench fork, and work goes on."""

import sqlite3
from contextlib import closing

from benchapp.actions.entries.days import change_workshop, close_bench, open_bench
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.exchange.holds import told_of_file
from benchapp.sequences.planning.entries import EntryKind
from tests.actions.exchange.benches import HUB, PROVED, at, bring, copy, export, make, verified
from tests.people import OPENED, staffed


def work(path, lot, mark, region, *, hour):
    with at(path, HUB, hour=hour) as bench:
        change_workshop(bench, staffed(region=region), by="SV", reason="anew")
        open_bench(bench, by="AB", meters=PROVED, rcd_button_tested=region == "eu", **OPENED)
        take_in_lot(bench, name=lot, equipment="tb-ls1", route="small-check", marks=(mark,), by="AB")
        record_note(bench, mark, "a foot is missing", by="AB")
        close_bench(bench, by="AB")
        record_note(bench, mark, "after hours", by="AB")


def test_both_sides_of_the_own_records_are_kept_and_the_local_line_stands(tmp_path):
    hub = make(tmp_path / "hub.workbook")
    other = copy(hub, tmp_path / "other.workbook")
    work(hub, "Attic", "TB-050", "eu", hour=1)
    work(other, "Barn", "TB-060", "us", hour=2)
    bring(hub, export(other, HUB, tmp_path / "other.dayfile"))
    assert verified(hub) == ()
    told = told_of_file(hub)
    assert [one.split(" from entry")[0] for one in told] == [
        "There are two records of the bench Hub",
        "There are two records of a workshop",
    ]
    with at(hub, HUB, hour=11) as bench:
        assert bench.workshop.region == "eu"
        day = bench.closing()
        assert (day.rcd_button_tested, len(day.meters)) == (True, 1)
        assert {lot.name for lot in bench.lots()} == {"Tarnbeck hall", "Attic", "Barn"}
        assert bench.unit("TB-060").last_entry == 2
        closings = bench.workbook.entries_of_kinds(EntryKind.closing)
        assert len({entry.number for entry in closings}) == 1
        tried = {one.uuid: bench.workbook.opening_closed_by(one).content.rcd_button_tested for one in closings}
        assert sorted(tried.values()) == [False, True]
        take_in_lot(bench, name="Cellar", equipment="tb-ls1", route="small-check", marks=("TB-070",), by="AB")
        record_note(bench, "TB-060", "the other lot goes on too", by="AB")
    assert verified(hub) == ()
    with closing(sqlite3.connect(hub)) as connection:
        kinds = dict(connection.execute("SELECT kind, forked_at FROM chains WHERE forked_at IS NOT NULL"))
    assert set(kinds) == {"bench", "workshop"}


def test_a_changed_head_or_side_of_a_forked_record_is_seen(tmp_path):
    hub = make(tmp_path / "hub.workbook")
    other = copy(hub, tmp_path / "other.workbook")
    for path, words in ((hub, "the grille is dented"), (other, "a foot is missing")):
        with at(path, HUB) as bench:
            record_note(bench, "TB-001", words, by="AB")
    bring(hub, export(other, HUB, tmp_path / "other.dayfile"))
    assert verified(hub) == ()
    chain = "chain_id = (SELECT id FROM chains WHERE forked_at IS NOT NULL)"
    for statement in (
        "UPDATE chains SET forked_at = NULL WHERE forked_at IS NOT NULL",
        "UPDATE chains SET last_at = '2026-05-05T09:00:00Z' WHERE forked_at IS NOT NULL",
        (
            f"UPDATE chains SET last_sha256 = (SELECT max(sha256) FROM entries WHERE number = 1 AND {chain}) "
            "WHERE forked_at IS NOT NULL"
        ),
        (
            "UPDATE chains SET last_entry = 0, last_sha256 = "
            f"(SELECT sha256 FROM entries WHERE number = 0 AND {chain}) WHERE forked_at IS NOT NULL"
        ),
        "UPDATE units SET held = '' WHERE held <> ''",
    ):
        changed = copy(hub, tmp_path / "changed.workbook")
        with closing(sqlite3.connect(changed, isolation_level=None)) as connection:
            connection.execute(statement)
        assert verified(changed) != (), statement
