"""Benches that work apart are brought into one workbook by day files."""

import pytest

from benchapp.actions.entries.days import change_workshop, close_bench
from benchapp.actions.entries.faults import record_note
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.entries.outcome import mark_anew, set_disposition
from benchapp.actions.papers.print_jobs import Paper, Wish, print_jobs
from benchapp.actions.papers.printing import export_tags
from benchapp.actions.workbench.problems import ExportProblem
from benchapp.workbook.model.problems import Held, SeveralUnits
from tests.actions.driving import do_what_is_due
from tests.actions.exchange.benches import (
    HALL,
    HUB,
    YARD,
    at,
    bring,
    copy,
    export,
    held,
    make,
    on_its_computer,
    verified,
)
from tests.forging import Forger, without_guards
from tests.people import OPENING, staffed


@pytest.fixture
def hub(tmp_path):
    return make(tmp_path / "hub.workbook")


def test_what_a_copy_recorded_comes_back_once_and_shows_as_it_did_there(hub, tmp_path):
    hall = copy(hub, tmp_path / "hall.workbook")
    with at(hall, HALL) as bench:
        do_what_is_due(bench, "TB-001")
        set_disposition(bench, "TB-001", "keep", by="CD")
        there = bench.unit("TB-001"), bench.board("Tarnbeck hall"), bench.entries("TB-001")
    file = export(hall, HALL, tmp_path / "hall.dayfile")
    (first, again) = bring(hub, file, file)
    assert first.endswith("entries of hall.dayfile are added.")
    assert again == "hall.dayfile holds nothing that is not here already."
    with at(hub, HUB) as bench:
        assert (bench.unit("TB-001"), bench.board("Tarnbeck hall"), bench.entries("TB-001")) == there
    assert verified(hub) == ()


def test_two_workshops_that_both_have_a_mark_are_merged_and_both_units_are_on_hold(hub, tmp_path):
    yard = make(tmp_path / "yard.workbook", marks=("TB-014", "TB-020"), at=YARD)
    with at(yard, YARD) as bench:
        do_what_is_due(bench, "TB-014")
        uuid = bench.unit("TB-014").uuid
    (said,) = bring(hub, export(yard, YARD, tmp_path / "yard.dayfile"))
    assert "2 units bear the shelf mark TB-014" in said
    assert verified(hub) == ()
    with at(hub, HUB) as bench:
        theirs = f"TB-014 ({uuid[:4]})"
        assert {unit.mark for unit in bench.units()} >= {"TB-001", "TB-002", "TB-020", theirs}
        assert len({lot.name for lot in bench.lots()}) == 2
        assert all(lot.name.startswith("Tarnbeck hall (") for lot in bench.lots())
        for ask in (bench.unit, bench.history, lambda mark: record_note(bench, mark, "x", by="AB")):
            with pytest.raises(SeveralUnits):
                ask("TB-014")
        with pytest.raises(Held, match="2 units bear the shelf mark TB-014"):
            record_note(bench, theirs, "a foot is missing", by="AB")
        with pytest.raises(Held, match="Do not use it; no tag is printed"):
            export_tags(bench, out=tmp_path / "tag.pdf", units=[theirs])
        with pytest.raises(Held, match="Do not use it; no tag is printed"):
            print_jobs(bench, Wish(paper=Paper.TAGS, units=(theirs,), sheet="a4-2-by-4"))
        done = mark_anew(bench, theirs, "TB-114", by="AB")
        assert done.renamed[theirs] == "TB-114"
        assert "TB-014" in done.renamed.values()
        assert {bench.unit("TB-014").held, bench.unit("TB-114").held} == {""}
        assert bench.unit("TB-114").uuid == uuid
        record_note(bench, "TB-014", "a foot is missing", by="AB")
    assert verified(hub) == ()


def test_only_the_own_workshops_settings_count(hub, tmp_path):
    yard = make(tmp_path / "yard.workbook", marks=("TB-020",), at=YARD)
    with at(hub, HUB) as bench:
        before = bench.workshop
    with at(yard, YARD) as bench:
        change_workshop(bench, staffed(region="us", insulation_tester=False), by="CD", reason="anew")
        marks = {"name": "Attic", "equipment": "tb-mu1", "route": "mains-unit", "marks": ("TB-030", "TB-031")}
        take_in_lot(bench, **marks, by="CD")
        record_note(bench, "TB-030", "a foot is missing", by="CD")
        there = [(unit.due, unit.shown_at) for unit in bench.units()], bench.board("Attic")
    bring(hub, export(yard, YARD, tmp_path / "yard.dayfile"))
    with at(hub, HUB) as bench:
        assert bench.workshop == before
        units = [bench.unit(mark) for mark in ("TB-020", "TB-030", "TB-031")]
        assert ([(unit.due, unit.shown_at) for unit in units], bench.board("Attic")) == there
        record_note(bench, "TB-031", "the hub's settings hold from here on", by="AB")
    assert verified(hub) == ()


@pytest.fixture
def forked(hub, tmp_path):
    """TB-001 went on at the hub and in a copy."""
    hall = copy(hub, tmp_path / "hall.workbook")
    for path, bench, words in ((hub, HUB, "a foot is missing"), (hall, HALL, "the grille is dented")):
        with at(path, bench) as opened:
            record_note(opened, "TB-001", words, by="AB")
    bring(hub, export(hall, HALL, tmp_path / "hall.dayfile"))
    return hub


def test_a_unit_with_two_records_is_on_hold_and_neither_side_is_picked(forked):
    assert verified(forked) == ()
    with at(forked, HUB) as bench:
        unit = bench.unit("TB-001")
        assert (unit.stands, bench.workbook.counts()) == ("hold", {"quarantine": 2, "hold": 1})
        row = bench.board("Tarnbeck hall").rows[0]
        assert (row.disposition, row.due) == ("hold", unit.held)
        assert [one.mark for one in bench.workbook.units_of("hold")] == ["TB-001"]
        assert unit.held == "There are two records of it from entry 1 on."
        assert bench.entries("TB-001") == ()
        with pytest.raises(Held, match="two records"):
            record_note(bench, "TB-001", "whose is it", by="AB")
        with pytest.raises(Held, match="two records"):
            mark_anew(bench, "TB-001", "TB-099", by="AB")
        record_note(bench, "TB-002", "the others go on", by="AB")
    assert verified(forked) == ()


def test_a_day_file_never_takes_the_place_of_a_file(hub, tmp_path):
    for out in (hub, tmp_path / "there.txt"):
        out.touch()
        before = out.read_bytes()
        with pytest.raises(ExportProblem, match="never takes the place of one"):
            export(hub, HUB, out)
        assert out.read_bytes() == before


def test_the_same_record_makes_the_same_file(hub, tmp_path):
    export(hub, HUB, tmp_path / "settle.dayfile")
    files = [export(hub, HUB, tmp_path / f"{name}.dayfile", units=["TB-001"]) for name in "ab"]
    assert len({file.read_bytes() for file in files}) == 1


def test_a_bench_writes_what_moved_since_its_last_day_file_when_it_closes(hub, tmp_path):
    from benchapp.actions.backups.settings import name_folder

    stick = tmp_path / "stick"
    name_folder(stick, workbook=on_its_computer(hub))
    spare = copy(hub, tmp_path / "spare.workbook")
    with at(hub, HUB) as bench:
        record_note(bench, "TB-001", "a foot is missing", by="AB")
        assert "The day file hub 2026-05-04" in close_bench(bench, by="AB").words
        (first,) = stick.glob("*.dayfile")
        record_note(bench, "TB-002", "a foot is missing", by="AB")
        bench.workbook.add_opening(OPENING, at=bench.clock(), by="AB")
        close_bench(bench, by="AB")
    (second,) = set(stick.glob("*.dayfile")) - {first}
    assert second.read_text().count("a foot is missing") == 1
    bring(spare, second, first, bench=YARD)
    assert verified(spare) == ()
    with at(spare, YARD) as bench:
        assert [len(bench.entries(mark)) for mark in ("TB-001", "TB-002", "TB-014")] == [1, 1, 0]


def test_the_yard_has_all_that_the_hub_has(hub, tmp_path):
    yard = make(tmp_path / "yard.workbook", marks=("TB-020",), at=YARD)
    bring(yard, export(hub, HUB, tmp_path / "hub.dayfile"), bench=YARD)
    assert verified(yard) == ()
    assert set(held(hub, but=HUB)["revisions"]) <= set(held(yard, but=YARD)["revisions"])


def test_a_record_that_does_not_hold_is_not_handed_out(hub, tmp_path):
    with at(hub, HUB) as bench:
        record_note(bench, "TB-001", "a foot is missing", by="AB")
    forge = "UPDATE entries SET sealed = replace(sealed, 'a foot', 'nothing') WHERE kind = 'note'"
    without_guards(hub, lambda connection: connection.execute(forge))
    with pytest.raises(ExportProblem, match=r"The record in hub\.workbook does not hold"):
        export(hub, HUB, tmp_path / "hub.dayfile")
    assert not (tmp_path / "hub.dayfile").exists()


def test_what_was_imported_is_anchored_by_the_bench_that_imported_it(hub, tmp_path):
    hall = copy(hub, tmp_path / "hall.workbook")
    with at(hall, HALL) as bench:
        do_what_is_due(bench, "TB-001")
        set_disposition(bench, "TB-001", "for sale", by="CD", grade="B", price="£12")
    bring(hub, export(hall, HALL, tmp_path / "hall.dayfile"))
    forger = Forger(hub)
    anchor = next(one for one in reversed(forger.chains[HUB.uuid]) if one["kind"] == "anchor")
    moved = (forger.units["TB-001"], HALL.uuid)
    last = {chain: [entries[-1]["number"], entries[-1]["old"]] for chain, entries in forger.chains.items()}
    assert {chain: anchor["content"]["heads"][chain] for chain in moved} == {chain: last[chain] for chain in moved}
    forger.of("TB-001")[-1]["content"]["price"] = "£99"
    forger.write(anchors=False)
    assert any(one.words.startswith("Entry 8 of TB-001 is not the one that was anchored") for one in verified(hub))
