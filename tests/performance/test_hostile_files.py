"""Hostile files against the bare parse by libyaml of the same text: what is refused costs little more than that."""

import time
from contextlib import suppress
from pathlib import Path

import pytest
import yaml

from benchapp.actions.standalone.checking import check_files
from benchapp.errors import BenchError
from benchapp.files.reader import parse_document
from tests.files.hostile import hostile_texts

pytestmark = pytest.mark.performance

MOST = 3.0
"""Times the bare parse, and a little that every file costs."""
LEAST = 0.25
"""Seconds: what a file of the bench may cost before a ratio says anything."""


def _seconds(action) -> float:
    begun = time.process_time()
    with suppress(yaml.YAMLError, BenchError):
        action()
    return time.process_time() - begun


def test_reading_a_hostile_text_costs_at_most_three_times_the_bare_parse():
    worst = ("", 0.0, 0.0)
    for name, text in hostile_texts():
        bare = _seconds(lambda text=text: sum(1 for _ in yaml.parse(text, Loader=yaml.CBaseLoader)))
        ours = _seconds(lambda text=text: parse_document(text, "a.yaml"))
        worst = max(worst, (name, ours, bare), key=lambda one: one[1])
        assert ours <= max(MOST * bare, LEAST), f"{name}: {ours:.3f} s against {bare:.3f} s"
    print(f"\nthe slowest hostile text to read: {worst[0]}, {worst[1]:.3f} s, bare parse {worst[2]:.3f} s")


def test_checking_a_hostile_file_costs_little_more_than_checking_a_small_one(tmp_path: Path):
    file = tmp_path / "hostile.yaml"
    file.write_text("equipment: a\n")
    check_files([file])
    small = _seconds(lambda: check_files([file]))
    found = []
    for name, text in hostile_texts():
        file.write_text(text, newline="")
        found.append((_seconds(lambda: check_files([file])), name))
    slowest, name = max(found)
    print(f"\nthe slowest hostile file to check: {name}, {slowest:.2f} s; a small wrong file {small:.2f} s")
    assert slowest <= 1
