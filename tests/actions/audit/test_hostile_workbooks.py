"""A workbook that somebody made to do harm: a sentence at once, on the console and at every way to open it."""

import shutil
import sqlite3
import time
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

import pytest

from benchapp.actions.entries.days import open_bench
from benchapp.actions.entries.intake import take_in_lot
from benchapp.actions.workbench.bench import Bench
from benchapp.cli.command import main
from benchapp.errors import BenchError
from benchapp.workbook.model.values import MeterProof
from benchapp.workbook.opened.workbook import Workbook
from tests.actions.conftest import SMALL, Clock
from tests.forging import without_guards
from tests.people import OPENED, staffed
from tests.workbook.hostile import NAMES, SCHEMA, make_hostile

LONGEST = 5.0
"""Seconds of this thread's own processor time for one look."""


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workbook with a lot of three, closed, and all loaded that a first look loads."""
    path = tmp_path_factory.mktemp("sound") / "tarnbeck.workbook"
    with Bench.create(path, folders=(SMALL,), clock=Clock(), workshop=staffed()) as bench:
        proofs = (MeterProof(meter="tb-m1", proved=True, lead_resistance=0.1),)
        open_bench(bench, by="AB", meters=proofs, rcd_button_tested=True, **OPENED)
        marks = ("TB-001", "TB-002", "TB-003")
        take_in_lot(bench, name="Tarnbeck hall", equipment="tb-ls1", route="small-check", marks=marks, by="AB")
    assert main(["verify", str(path)]) == 0
    return path


@pytest.fixture
def hostile(sound: Path, tmp_path: Path) -> Callable[[str], Path]:
    """Makes a hostile file of the sound one."""

    def make(name: str) -> Path:
        path = tmp_path / "stranger.workbook"
        shutil.copyfile(sound, path)
        make_hostile(path, name)
        return path

    return make


def _look(path: Path) -> None:
    workbook = Workbook.look_at(path)
    try:
        _read_all(workbook)
    finally:
        workbook.close()


def _open(path: Path) -> None:
    workbook = Workbook.open(path)
    try:
        _read_all(workbook)
    finally:
        workbook.close()


def _read_all(workbook: Workbook) -> None:
    workbook.lots()
    workbook.stages()
    for unit in workbook.units():
        workbook.entries(unit.mark)
        workbook.runs(unit.mark)


def _work(path: Path) -> None:
    with Bench.open(path, folders=(SMALL,)) as bench:
        for lot in bench.workbook.lots():
            bench.board(lot.name)


WAYS: dict[str, Callable[[Path], object]] = {
    "look": _look,
    "open": _open,
    "work": _work,
    "lots": lambda path: main(["lots", str(path)]),
    "verify": lambda path: main(["verify", str(path)]),
}


@pytest.mark.parametrize("name", NAMES)
def test_a_hostile_workbook_is_a_sentence_at_once(
    hostile: Callable[[str], Path], capsys: pytest.CaptureFixture[str], name: str
) -> None:
    for way, take in WAYS.items():
        path = hostile(name)
        begun = time.thread_time()
        with suppress(BenchError):
            take(path)
        taken = time.thread_time() - begun
        said = capsys.readouterr()
        assert all(letter.isprintable() or letter == "\n" for letter in said.out + said.err)
        assert taken < LONGEST, f"{way}: {taken:.1f} s"
        path.unlink()
        for beside in path.parent.glob(f"{path.name}-*"):
            beside.unlink()


@pytest.mark.parametrize("name", SCHEMA)
def test_what_is_made_of_other_things_is_never_opened_for_writing(hostile: Callable[[str], Path], name: str) -> None:
    path = hostile(name)
    before = path.read_bytes()
    with pytest.raises(BenchError):
        Workbook.open(path)
    with pytest.raises(BenchError):
        Workbook.look_at(path)
    assert path.read_bytes() == before


@pytest.mark.parametrize("name", SCHEMA)
def test_verify_says_no_to_what_is_made_of_other_things(
    hostile: Callable[[str], Path], capsys: pytest.CaptureFixture[str], name: str
) -> None:
    assert main(["verify", str(hostile(name))]) != 0
    assert "stranger.workbook" in capsys.readouterr().err


DEPTH = 100_000


@pytest.mark.parametrize("kind", ["settings", "anchor", "opening", "beginning"])
def test_a_well_sealed_text_that_is_nested_without_end_is_a_difference(
    sound: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    path = Path(shutil.copy(sound, tmp_path / "stranger.workbook"))
    without_guards(path, lambda connection: _nest(connection, kind))
    for command in (["verify"], ["rejudge"], ["lots"], ["verify", "--json"]):
        code = main([command[0], str(path), *command[1:]])
        assert code == 1 or (code in (0, 2) and command[0] != "verify")
        said = capsys.readouterr()
        assert len(said.out + said.err) < DEPTH
    if kind == "beginning":
        assert main(["follow", str(path), "TB-003"]) == 2


def _nest(connection: sqlite3.Connection, kind: str) -> None:
    """Nest the content of the last entry of that kind, and seal it anew."""
    last = "SELECT id, chain_id, number, sealed FROM entries WHERE kind = ? ORDER BY id DESC LIMIT 1"
    ident, chain, number, sealed = connection.execute(last, (kind,)).fetchone()
    start, end = sealed.index(',"content":') + 11, sealed.index(',"kind":')
    sealed = sealed[:start] + '{"x":' + "[" * DEPTH + "]" * DEPTH + "}" + sealed[end:]
    link = sha256(sealed.encode()).hexdigest()
    connection.execute("UPDATE entries SET sealed = ?, sha256 = ? WHERE id = ?", (sealed, link, ident))
    head = "UPDATE chains SET last_sha256 = ? WHERE id = ? AND last_entry = ?"
    connection.execute(head, (link, chain, number))
