"""No file keeps a reader busy: two million characters of mistakes are answered at once, in few and short lines."""

import gc
import os
import time
from pathlib import Path

import pytest

from benchapp.actions.standalone.checking import check_files
from benchapp.errors import BenchError
from benchapp.files.beside import said_in
from benchapp.files.locations import MOST_COMPLAINTS, FileProblems
from benchapp.files.reader import MOST_LINES, parse_document, read_document
from benchapp.files.text import LONGEST_TEXT
from benchapp.files.tree import MOST_ENTRIES, MOST_VALUES
from tests.files.hostile import NAMES, hostile_text

SLOWEST = 2.0
"""Seconds of this process's own time for the whole check of one file, on any machine; tests/performance is stricter."""
LONGEST_LINE = 1_200


@pytest.fixture(scope="module", autouse=True)
def _all_loaded(tmp_path_factory: pytest.TempPathFactory) -> None:
    """What is imported and kept at the first check is not the time of the second."""
    file = tmp_path_factory.mktemp("first") / "first.yaml"
    file.write_text("equipment: a\n", encoding="utf-8")
    check_files([file])


@pytest.mark.parametrize("name", NAMES)
def test_a_hostile_file_is_answered_at_once_in_few_and_short_lines(tmp_path: Path, name: str) -> None:
    file = tmp_path / "hostile.yaml"
    file.write_text(hostile_text(name), encoding="utf-8", newline="")
    gc.collect()
    begun = time.process_time()
    (report,) = check_files([file])
    taken = time.process_time() - begun
    assert not report.good
    assert 0 < len(report.complaints) <= MOST_COMPLAINTS + 1
    assert max(map(len, report.complaints)) - len(str(file)) <= LONGEST_LINE
    assert all(line.startswith(f"{file}:") for line in report.complaints)
    assert taken < SLOWEST, f"{taken:.2f} s"


def complaints_of(text: str) -> list[str]:
    with pytest.raises(FileProblems) as caught:
        parse_document(text, "a.yaml")
    return [str(complaint) for complaint in caught.value.complaints]


def test_a_text_that_is_too_long_is_refused_with_what_is_expected() -> None:
    (line,) = complaints_of("a" * (LONGEST_TEXT + 1))
    assert line.startswith(f"a.yaml:1:1: {LONGEST_TEXT + 1} characters are more than a file of the bench may have")
    assert line.endswith(f"; expected at most {LONGEST_TEXT}")


def test_lines_without_end_are_refused_however_they_end() -> None:
    for ending in ("\n", "\r", "\r\n", "\x85", "\u2028"):
        (line,) = complaints_of(ending * MOST_LINES)
        assert line.startswith(f"a.yaml:1:1: {MOST_LINES + 1} lines are more than a file of the bench may have")


def test_values_without_end_are_refused_where_they_become_too_many() -> None:
    rows = (MOST_VALUES - 1) // 250
    text = "[" + ("[" + "1," * 249 + "],") * rows
    assert len(parse_document(text + "]", "a.yaml").data) == rows
    (line,) = complaints_of(text + "[" + "1," * 300)
    assert line.startswith("a.yaml:1:")
    assert line.endswith(
        f": more than {MOST_VALUES} values stand in this file; expected a file with fewer, or several files"
    )


def test_a_list_or_group_without_end_is_refused_where_it_begins() -> None:
    assert len(parse_document("[" + "1," * MOST_ENTRIES + "]", "a.yaml").data) == MOST_ENTRIES
    expected = f"a.yaml:1:4: {MOST_ENTRIES + 1} entries are more than a list or group may have; at most {MOST_ENTRIES}"
    expected = expected.replace("; at", "; expected at")
    assert complaints_of("a: [" + "1," * (MOST_ENTRIES + 1) + "]") == [expected]
    assert complaints_of("a: {" + "".join(f"k{n}: 1," for n in range(MOST_ENTRIES + 1)) + "}") == [expected]


def test_of_mistakes_without_end_the_first_are_said_and_that_there_are_more() -> None:
    lines = complaints_of("a: 1\n" * 1000)
    assert len(lines) == MOST_COMPLAINTS + 1
    assert lines[-1] == f"a.yaml:{MOST_COMPLAINTS + 2}:4: more things are wrong from here on; mend the others first"


def test_a_pipe_and_links_in_a_circle_are_refused_and_not_waited_for(tmp_path: Path) -> None:
    pipe, circle = tmp_path / "pipe.yaml", tmp_path / "circle.yaml"
    os.mkfifo(pipe)
    circle.symlink_to(circle)
    with pytest.raises(BenchError, match=r"pipe\.yaml cannot be read: is no plain file\."):
        read_document(pipe)
    with pytest.raises(BenchError, match=r"circle\.yaml cannot be read: too many levels of symbolic links\."):
        read_document(circle)


def test_a_file_of_fifty_megabytes_is_refused_by_its_size(tmp_path: Path) -> None:
    file = tmp_path / "large.yaml"
    with file.open("wb") as stream:
        stream.truncate(50_000_000)
    with pytest.raises(FileProblems, match=f"more than {LONGEST_TEXT} characters"):
        read_document(file)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("equipment: lamp   # a comment\n", ("equipment", "lamp")),
        ("# first\nmeter: 'tb m'\n", ("meter", "tb m")),
        ('label sheet :  "a4"\r\n', ("label sheet", "a4")),
        ("equipment: a\nroute: b\n", ("route", "b")),
        ("route:\n", ("route", "")),
        ("services: {web: {}}\n", None),
        (" equipment: a\n", None),
    ],
)
def test_a_file_says_by_a_look_what_it_is(text: str, said: tuple[str, str] | None) -> None:
    assert said_in(text) == said
