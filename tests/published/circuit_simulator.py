"""ngspice in batch mode: the circuit simulator of other authors that some tests here compare with (Debian package).

Where it is absent these tests are skipped with a printed reason, since a test run installs nothing by itself. In CI,
where tests/start.py installs it, its absence fails them.
"""

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

PROGRAM = shutil.which("ngspice")
MISSING = "ngspice is not installed: apt-get install ngspice"
needs_simulator = pytest.mark.skipif(PROGRAM is None and os.environ.get("CI") != "true", reason=MISSING)


def printed(deck: str, folder: Path) -> str:
    """What the simulator says of a deck that is written into the folder."""
    assert PROGRAM is not None, MISSING
    (folder / "deck.cir").write_text(deck, encoding="utf-8")
    done = subprocess.run([PROGRAM, "-b", "deck.cir"], cwd=folder, capture_output=True, text=True, timeout=120)
    return done.stdout + done.stderr


def magnitudes(deck: str, folder: Path) -> list[float]:
    """The values of all tables that a deck of one frequency prints, one table after the other."""
    said = printed(deck, folder)
    rows = re.findall(r"^0\t\S+\t(.*)$", said, re.MULTILINE)
    assert rows, said[-2000:]
    return [float(value) for row in rows for value in row.split()]
