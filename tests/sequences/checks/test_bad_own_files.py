"""One bad file of an author's own blocks no intake: it is left out and named, and all else is there."""

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from benchapp.files.locations import Complaint
from benchapp.files.shipped import shipped_folder
from benchapp.sequences.checks.loading import load_with_own

GOOD = "sequence: attic-look\ntitle: Look\nsay: Look.\nsteps:\n  - work: look\n    say: Look at it.\n    do: [Look.]\n"
NOT_OURS = "services: {web: {}}\n"


def _link_to_itself(file: Path) -> None:
    file.symlink_to(file)


def _link_to_what_cannot_be_read(file: Path) -> None:
    file.symlink_to("/proc/self/mem")  # as good as a file without leave to read, also for the superuser


def _large(file: Path) -> None:
    with file.open("wb") as stream:
        stream.write(b"equipment: large\n")
        stream.truncate(50_000_000)


BAD: dict[str, Callable[[Path], object]] = {
    "nothing in it that fits": lambda file: file.write_text("sequence: [1]\n"),
    "a syntax error": lambda file: file.write_text("sequence: a\nsteps: [1, 2\n"),
    "Latin-1": lambda file: file.write_bytes("sequence: a\ntitle: Prüfung\n".encode("latin-1")),
    "UTF-16": lambda file: file.write_bytes("sequence: a\ntitle: b\n".encode("utf-16")),
    "a folder": lambda file: file.mkdir(),
    "a pipe": lambda file: os.mkfifo(file),
    "links in a circle": _link_to_itself,
    "no leave to read": _link_to_what_cannot_be_read,
    "a link to nothing": lambda file: file.symlink_to(file.parent / "gone.yaml"),
    "fifty megabytes": _large,
    "a name that leads nowhere": lambda file: file.write_text(
        "route: attic-way\ntitle: Way\nequipment: [tb-ls1]\nsequences: [gone]\nnot tested: [all]\n"
    ),
    "another with its id": lambda file: file.write_text(GOOD),
}


def _left_out(complaints: tuple[Complaint, ...]) -> set[str]:
    return {complaint.location.file for complaint in complaints}


@pytest.mark.parametrize("kind", BAD)
def test_a_bad_file_is_left_out_and_named_and_the_others_are_there(tmp_path: Path, kind: str) -> None:
    (tmp_path / "a-good.yaml").write_text(GOOD)
    (tmp_path / "stray.yaml").write_text(NOT_OURS)
    bad = tmp_path / "bad.yaml"
    BAD[kind](bad)
    begun = time.process_time()
    catalogue, complaints = load_with_own(tmp_path)
    assert time.process_time() - begun < 10
    assert _left_out(complaints) == {str(bad)}
    assert "attic-look" in catalogue.sequences
    assert "continuity" in catalogue.sequences


def test_a_file_that_spoils_shipped_ones_is_found_and_the_others_stay(tmp_path: Path) -> None:
    (tmp_path / "a-good.yaml").write_text(GOOD)
    spoiling = tmp_path / "clean.yaml"
    shipped = (shipped_folder("resources") / "equipment" / "tb-ls1.yaml").read_text(encoding="utf-8")
    spoiling.write_text(shipped.replace("small-driver", "treble-driver"))  # a shipped sequence blames that part
    catalogue, complaints = load_with_own(tmp_path)
    assert _left_out(complaints) == {str(spoiling)}
    assert "with this file others no longer fit: " in str(complaints[0])
    assert "attic-look" in catalogue.sequences


def test_other_peoples_files_are_not_spoken_of(tmp_path: Path) -> None:
    (tmp_path / "stray.yaml").write_text(NOT_OURS)
    (tmp_path / "tabs.yaml").write_text("\tservices\n")
    assert load_with_own(tmp_path)[1] == ()
