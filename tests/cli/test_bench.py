"""A workbook on the console: its lots, tags, records, and whether it holds."""

import json
import sqlite3

import pytest
from pypdf import PdfReader

from benchapp.cli.command import main
from tests.actions.conftest import SMALL, Clock
from tests.actions.driving import do_what_is_due
from tests.people import OPENED, staffed


@pytest.fixture
def workbook(tmp_path):
    from benchapp.actions.entries.days import open_bench
    from benchapp.actions.entries.intake import take_in_lot
    from benchapp.actions.workbench.bench import Bench
    from benchapp.sequences.planning.chain_contents import MeterProof

    path = tmp_path / "tarnbeck.workbook"
    with Bench.create(path, folders=(SMALL,), clock=Clock(), workshop=staffed()) as bench:
        open_bench(
            bench,
            by="AB",
            meters=(MeterProof(meter="tb-m1", proved=True, lead_resistance=0.1),),
            rcd_button_tested=True,
            **OPENED,
        )
        marks = ("TB-001", "TB-002")
        take_in_lot(bench, name="Tarnbeck hall", equipment="tb-ls1", route="small-check", marks=marks, by="AB")
        do_what_is_due(bench, "TB-001")
    return path


def run(capsys, *words):
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err


def test_tags_of_a_lot_are_written(capsys, workbook, tmp_path):
    out = tmp_path / "tags.pdf"
    code, said, _ = run(capsys, "tags", workbook, "--lot", "Tarnbeck hall", "--out", out)
    assert (code, said) == (0, f"2 tags are in {out}.\n")
    assert "TB-002" in PdfReader(out).pages[0].extract_text()


def test_records_of_a_lot_are_written(capsys, workbook, tmp_path):
    code, _, _ = run(capsys, "records", workbook, "--lot", "Tarnbeck hall", "--out", tmp_path)
    assert code == 0
    assert (tmp_path / "TB-001.pdf").exists()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            ("--lot", "Tarnbeck hal", "--out", "x.pdf"),
            "There is no lot called 'Tarnbeck hal' in this workbook. Did you",
        ),
        (("--lot", "Tarnbeck hall", "--out", "/nowhere/x.pdf"), "There is no folder /nowhere"),
        (("--lot", "Tarnbeck hall", "--out", "x.pdf", "--sheet", "a4"), "There is no label sheet “a4”"),
        (("--lot", "Tarnbeck hall", "--out", "x.pdf", "--start-at", "9"), "printing cannot start at label 9"),
    ],
)
def test_what_cannot_be_printed_is_told_in_one_line(capsys, workbook, monkeypatch, tmp_path, words, sentence):
    monkeypatch.chdir(tmp_path)
    code, _, err = run(capsys, "tags", workbook, *words)
    assert code == 2
    assert sentence in err
    assert not (tmp_path / "x.pdf").exists()


def test_lots_and_their_board_are_listed(capsys, workbook):
    _, out, _ = run(capsys, "lots", workbook)
    assert "Tarnbeck hall" in out
    _, out, _ = run(capsys, "lots", workbook, "--lot", "Tarnbeck hall")
    assert out.splitlines()[0].split() == ["unit", "disposition", "Look", "it", "over", "Voice", "coils", "due"]
    _, out, _ = run(capsys, "lots", workbook, "--json")
    assert json.loads(out)[0]["units"] == 2
    _, out, _ = run(capsys, "lots", workbook, "--lot", "Tarnbeck hall", "--json")
    assert json.loads(out)["rows"][0]["mark"] == "TB-001"


def test_a_sound_workbook_verifies(capsys, workbook):
    code, out, _ = run(capsys, "verify", workbook)
    first, *exceptions = out.splitlines()
    assert (code, first) == (0, "tarnbeck.workbook holds: file, chains, anchors, and every judgement computed again.")
    assert [line.split(":")[0] for line in exceptions] == ["Not proved", "Not proved", "Not anchored yet"]
    assert json.loads(run(capsys, "verify", workbook, "--json")[1]) == []


def test_some_units_alone_are_verified(capsys, workbook):
    code, out, _ = run(capsys, "verify", workbook, "--units", "TB-002, TB-001")
    assert (code, out.splitlines()[0]) == (
        0,
        "tarnbeck.workbook holds: file, chains, anchors, and units TB-002, TB-001 computed again.",
    )
    code, _, err = run(capsys, "verify", workbook, "--units", "TB-009", "--json")
    assert code == 1 or "TB-009" in err


def test_heads_are_listed_and_a_printed_one_is_found(capsys, workbook):
    heads = json.loads(run(capsys, "verify", workbook, "--heads", "--json")[1])
    unit = next(head for head in heads if head["name"] == "TB-001")
    code, out, _ = run(capsys, "verify", workbook, "--head", unit["sha256"][:12])
    assert (code, out.split(", recorded")[0]) == (0, f"{unit['sha256'][:12]} is entry {unit['number']} of TB-001")
    assert run(capsys, "verify", workbook, "--head", "0" * 12)[0] == 1
    assert run(capsys, "verify", workbook, "--head", "TB-001")[0] == 2
    assert run(capsys, "verify", workbook, "--heads")[1].splitlines()[0].split() == [
        "record",
        "of",
        "name",
        "entry",
        "recorded",
        "hash",
    ]
    assert run(capsys, "verify", workbook, "--accept-older")[0] == 0


def test_a_changed_workbook_is_a_no_with_the_first_difference(capsys, workbook):
    connection = sqlite3.connect(workbook)
    trigger = connection.execute("SELECT sql FROM sqlite_master WHERE name = 'entries_refuse_update'").fetchone()[0]
    connection.execute("DROP TRIGGER entries_refuse_update")
    connection.execute("UPDATE entries SET by = 'XY' WHERE number = 2 AND chain_id = (SELECT min(chain_id) FROM units)")
    connection.execute(trigger)
    connection.commit()
    connection.close()
    code, out, _ = run(capsys, "verify", workbook)
    assert (code, out) == (1, "Entry 2 of TB-001: its column by says XY, the record says AB.\n")
    found = json.loads(run(capsys, "verify", workbook, "--json")[1])
    assert found[0] == {
        "unit": "TB-001",
        "entry": 2,
        "words": "Entry 2 of TB-001: its column by says XY, the record says AB.",
    }


@pytest.mark.parametrize(
    "command", [("verify",), ("tags", "--lot", "x", "--out", "x.pdf"), ("lots",)], ids=lambda c: c[0]
)
def test_a_file_that_is_no_workbook_is_bad_input(capsys, tmp_path, command):
    file = tmp_path / "diary.txt"
    file.write_text("dear diary")
    code, _, err = run(capsys, command[0], file, *command[1:])
    assert code == 2
    assert err == "benchapp: diary.txt is not a bench workbook. Choose a file that this program made.\n"
