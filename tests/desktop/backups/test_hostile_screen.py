"""A window on a workbook that somebody made to do harm: it is told as damage, at once, and the file stays as it is."""

import time
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtWidgets import QPlainTextEdit

from benchapp.actions.workbench.bench import Bench
from demo.technician import Technician
from tests.desktop.backups.test_damaged_screen import start_on  # noqa: F401 - a fixture
from tests.desktop.windows import take_in
from tests.workbook.hostile import make_hostile

LONGEST = 5.0
"""Seconds of this thread's own processor time until the damage is told."""


@pytest.mark.parametrize(
    "name", ["a view that never ends", "a trigger that acts", "no entries", "bytes for a mark", "pages of rubbish"]
)
def test_a_hostile_workbook_is_told_as_damage_at_once(
    bench: Bench,
    path: Path,
    start_on: Callable[[Path], Technician],  # noqa: F811 - the fixture
    name: str,
) -> None:
    take_in(bench)
    bench.close()
    make_hostile(path, name)
    before, begun = path.read_bytes(), time.thread_time()
    technician = start_on(path)
    assert time.thread_time() - begun < LONGEST
    assert (
        technician.window.findChild(QPlainTextEdit, "damaged-words").toPlainText().startswith(f"{path.name} is damaged")
    )
    assert path.read_bytes() == before
