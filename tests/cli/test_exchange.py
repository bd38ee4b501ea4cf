"""Day files on the console: written, brought in, and what is on hold is named."""

import pytest

from benchapp.cli.command import main
from tests.actions.exchange.benches import HALL, HUB, at, copy, make, on_its_computer


def run(capsys, *words):
    on_its_computer(words[1])
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err


@pytest.fixture
def apart(tmp_path):
    """A hub and a hall where TB-001 went on, the hall's day file beside it."""
    from benchapp.actions.entries.faults import record_note

    hub = make(tmp_path / "hub.workbook")
    hall = copy(hub, tmp_path / "hall.workbook")
    for path, bench in ((hub, HUB), (hall, HALL)):
        with at(path, bench) as opened:
            record_note(opened, "TB-001", f"seen at the {bench.name}", by="AB")
    return hub, hall


def test_a_day_file_goes_out_and_comes_in_and_what_is_on_hold_is_named(capsys, apart, tmp_path):
    hub, hall = apart
    out = tmp_path / "hall.dayfile"
    code, said, _ = run(capsys, "export", hall, "--out", out, "--unit", "TB-001", "--unit", "TB-002")
    assert (code, said) == (0, f"2 units are in {out}.\n")
    held = "TB-001 is on hold: There are two records of it from entry 1 on. Do not use it."
    code, said, _ = run(capsys, "import", hub, out, out, "--by", "AB")
    assert code == 0
    first, again = said.splitlines()
    assert first.endswith("TB-001: There are two records of it from entry 1 on. Do not use it.")
    assert again == "hall.dayfile holds nothing that is not here already."
    assert held in run(capsys, "lots", hub)[1].splitlines()
    code, said, _ = run(capsys, "verify", hub)
    assert code == 0
    assert held in said.splitlines()


def test_bad_input_is_one_line_and_exit_code_two(capsys, apart, tmp_path):
    hub, hall = apart
    for words in (
        ("export", hub, "--out", hall),
        ("export", hub, "--out", tmp_path / "no" / "x.dayfile"),
        ("export", hub, "--out", tmp_path / "x.dayfile", "--unit", "TB-999"),
        ("export", hub, "--out", tmp_path / "x.dayfile", "--since", "yesterday"),
        ("export", hub, "--out", tmp_path / "x.dayfile", "--since", "2099-01-01"),
        ("import", hub, tmp_path / "nothing.dayfile"),
        ("import", hub, hall),
    ):
        code, out, err = run(capsys, *words)
        assert (code, out) == (2, ""), words
        assert err.startswith("benchapp: "), words
        assert len(err.splitlines()) == 1, words
    assert not (tmp_path / "x.dayfile").exists()


def test_a_file_that_does_not_hold_keeps_no_other_from_being_brought_in(capsys, apart, tmp_path):
    hub, hall = apart
    out, broken = tmp_path / "hall.dayfile", tmp_path / "broken.dayfile"
    run(capsys, "export", hall, "--out", out)
    broken.write_bytes(out.read_bytes()[:-9])
    code, said, err = run(capsys, "import", hub, broken, out)
    assert code == 2
    assert "of hall.dayfile are added." in said
    assert err.startswith("benchapp: broken.dayfile is no sound day file (")
