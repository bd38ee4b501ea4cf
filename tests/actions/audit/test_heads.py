"""Heads outside of the file: printed ones are found in it, and a file set back is noticed on this computer."""

import os
import shutil
from pathlib import Path

import pytest

from benchapp.actions.audit.heads import NoHead, accept_as_it_is, compare_head, heads_of, not_promised, set_back
from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.entries.days import close_bench, open_bench
from benchapp.actions.entries.faults import record_note
from benchapp.actions.workbench.bench import Bench
from benchapp.operating_system import data_folder
from benchapp.workbook.opened.workbook import Workbook
from benchapp.workbook.record.known_heads import FILE
from tests.actions.audit.worked import PROOF
from tests.forging import Forger, without_guards
from tests.people import OPENED


@pytest.fixture
def older(bench, lot, path, clock, tmp_path):
    """A copy of the file, and the file itself with a day more."""
    record_note(bench, "TB-001", "a foot is missing", by="AB")
    bench.close()
    copy = shutil.copy(path, tmp_path / "older.workbook")
    with Bench.open(path, clock=clock) as again:
        clock.pass_days(1)
        open_bench(again, by="AB", meters=(PROOF,), rcd_button_tested=True, **OPENED)
        close_bench(again, by="AB")
    return copy


def words_of(path):
    workbook = Workbook.look_at(path)
    try:
        return set_back(workbook)
    finally:
        workbook.close()


def test_the_file_that_was_worked_on_last_lacks_nothing(older, path):
    assert words_of(path) == ""
    assert verify_workbook(path) == ()


def test_a_file_set_back_is_noticed_and_can_be_accepted_knowingly(older, path):
    assert words_of(older).startswith("older.workbook lacks what this computer has seen in it: entry ")
    (difference,) = verify_workbook(older)
    assert "It was set back, restored from a backup, or is not the workbook that it says it is." in difference.words
    assert accept_as_it_is(older) == "older.workbook counts as the newest on this computer from here on."
    assert verify_workbook(older) == ()


def test_work_on_a_file_set_back_does_not_accept_it_silently(older, clock):
    with Bench.open(older, clock=clock) as bench:
        record_note(bench, "TB-001", "another foot is missing", by="AB")
    assert words_of(older)


def test_a_file_forged_whole_is_noticed(older, path):
    forger = Forger(path)
    forger.of("TB-001")[1]["content"]["words"] = "nothing is missing"
    forger.write()
    found = [one.words for one in verify_workbook(path)]
    assert any("lacks what this computer has seen in it" in words for words in found)


def test_what_this_computer_keeps_may_be_rubbish_or_gone(older, path):
    (data_folder() / FILE).write_text("[1")
    assert words_of(older) == ""
    (data_folder() / FILE).unlink()
    assert verify_workbook(older) == ()
    assert any(one.startswith("This computer has not worked with this workbook") for one in not_promised(older))


def test_every_head_is_listed_and_found_by_its_start(older, path):
    heads = heads_of(path)
    assert [one.kind for one in heads] == ["bench", "unit", "unit", "unit", "workshop"]
    for one in heads:
        there, (words,) = compare_head(path, f"{one.sha256[:4]} {one.sha256[4:12]}…")
        assert there
        assert words == (
            f"{one.sha256[:12]} is entry {one.number} of {one.name}, recorded at {one.at}. It is the last."
        )


def test_a_head_that_has_later_entries_is_said_to_have_them(older, path):
    head = next(one for one in heads_of(older) if one.kind == "bench")
    assert compare_head(path, head.sha256[:8])[1][0].endswith("There are later ones.")


def test_a_head_that_is_not_there_is_said(path, older):
    there, (words,) = compare_head(path, "0123456789ab")
    assert not there
    assert words.startswith("No entry of tarnbeck.workbook has a hash that begins with 0123456789ab")


@pytest.mark.parametrize("typed", ["", "0123456", "entry 5 of it", "g" * 12, "a" * 65])
def test_what_is_no_start_of_a_hash_is_refused_in_a_sentence(path, lot, typed):
    with pytest.raises(NoHead, match="is no start of a hash"):
        compare_head(path, typed)


def test_entries_that_no_anchor_names_yet_are_named(bench, lot, path):
    record_note(bench, "TB-002", "a foot is missing", by="AB")
    name = bench.workbook.bench.name
    loose = f"Not anchored yet: the newest entries of the workshop, the bench {name}, TB-001, TB-002, TB-003. Until"
    assert any(one.startswith(loose) for one in not_promised(path))
    bench.close()
    (loose,) = [one for one in not_promised(path) if "Not anchored" in one]
    assert loose.startswith(f"Not anchored yet: the newest entries of the bench {name}. Until")


def test_a_tag_and_a_record_of_a_broken_chain_say_so_and_nothing_else(bench, lot, path):
    from benchapp.actions.papers.record_content import record_content
    from benchapp.actions.papers.tag_content import tag_content

    record_note(bench, "TB-001", "a foot is missing", by="AB")
    change = "UPDATE entries SET sealed = replace(sealed, 'foot', 'hand') WHERE kind = 'note'"
    without_guards(path, lambda connection: connection.execute(change))
    tag, sheet = tag_content(bench, "TB-001"), record_content(bench, "TB-001")
    assert tag.disposition_words == sheet.disposition_words == "Record does not hold, do not use"
    assert (tag.readings, tag.tested, tag.price, sheet.sections) == ((), (), "", ())
    assert sheet.cautions[1] == "Entry 1 of TB-001 is not as it was recorded: its hash does not fit."
    assert bench.record_fault("TB-001")
    assert tag_content(bench, "TB-002").disposition_words != tag.disposition_words


def test_the_heads_of_bench_and_workshop_stand_on_a_record_sheet(bench, lot):
    from benchapp.actions.papers.record_content import record_content

    names = [fact.name for fact in record_content(bench, "TB-001").hashes[:3]]
    assert names[0] == "Record, 0 entries"
    assert names[1].startswith("Record of Bench ")
    assert names[2].startswith("Record of the workshop, ")


def heads_told(path):
    """What is said of the heads that this computer keeps, beside what is never proved."""
    return [one for one in not_promised(path) if not one.startswith(("Not proved", "Not anchored"))]


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[]",
        b"5",
        b"\xff\x00\x80",
        b"[" * 200_000,
        b'{"x":5}',
        b'{"x":[5]}',
        b'{"x":[["bench","y"]]}',
        b'{"x":[["bench","y",1.5,"z"]]}',
        b'{"x":[["bench","y",1000000000000000000000000000000,"z"]]}',
        b'{"x":[["bench",7,null,{}]]}',
    ],
)
def test_kept_heads_that_cannot_be_read_are_told_and_the_workbook_is_not_blamed(older, path, clock, content):
    kept = data_folder() / FILE
    kept.write_bytes(content)
    assert verify_workbook(path) == ()
    (said,) = heads_told(path)
    assert said.startswith(f"The file {kept} of heads that this computer keeps cannot be read (")
    with Bench.open(path, clock=clock) as bench:
        record_note(bench, "TB-001", "another foot is missing", by="AB")
    assert kept.read_bytes() == content
    accept_as_it_is(path)
    assert heads_told(path) == []


@pytest.mark.parametrize("make", [os.mkfifo, Path.mkdir, lambda place: place.symlink_to("/dev/zero")])
def test_what_is_no_file_in_the_place_of_kept_heads_is_told_at_once(older, path, make):
    kept = data_folder() / FILE
    kept.unlink()
    make(kept)
    assert verify_workbook(path) == ()
    assert "cannot be read (" in heads_told(path)[0]


@pytest.mark.parametrize("make", [os.mkfifo, lambda place: place.symlink_to("/dev/zero")])
def test_a_pipe_or_device_in_the_place_of_a_file_of_this_computer_is_told_at_once(older, path, tmp_path, make):
    from benchapp.actions.backups import settings
    from benchapp.actions.exchange.importing import import_day_file
    from benchapp.actions.workbench.problems import Refused
    from benchapp.workbook.record import bench_identity

    day = tmp_path / "day"
    make(day)
    with Bench.open(path) as bench, pytest.raises(Refused, match="it is a pipe or a device"):
        import_day_file(bench, day, by="AB")
    for name in (bench_identity.FILE, settings.FILE):
        (data_folder() / name).unlink(missing_ok=True)
        make(data_folder() / name)
    with pytest.raises(bench_identity.NoIdentity, match="it is a pipe or a device"):
        bench_identity.this_bench()
    assert settings.read_settings() == settings.BackupSettings()
