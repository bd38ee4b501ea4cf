"""A mixed lot of twenty with six faults on a real X server: keys, a mouse alone, a scanner, and tags on paper."""

import json
import subprocess
import sys
from collections import Counter

import pypdfium2
import pytest
import yaml

from benchapp.actions.audit.verifying import verify_workbook
from benchapp.actions.workbench.bench import Bench
from tests.journeys.real_screen import ROOT, display, needs_real_screen
from tests.journeys.twenty import SAID

BLACK = 64
LONGEST = 2400
"""seconds after which the whole lot is given up"""


def play(path, *words):
    """What the journey tells at its end."""
    with display() as there:
        command = [sys.executable, "-m", "tests.journeys.twenty", str(path), *words]
        done = subprocess.run(
            command, cwd=ROOT, env=there, capture_output=True, text=True, timeout=LONGEST, check=False
        )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.splitlines()[-1])


def printed_of(path, told):
    """How many tags the workbook has as printed, and how many pages came out that are not empty."""
    with Bench.open(path) as bench:
        tags = sum(len(bench.workbook.tags_printed(unit.mark)) for unit in bench.units())
    pages = [page.render(scale=1).to_pil().convert("L") for page in pypdfium2.PdfDocument(told["printed"])]
    return tags, sum(page.getextrema()[0] < BLACK for page in pages)


def hands(told, mark):
    """Who worked a unit, and what that took."""
    return next((who.partition(" by ")[2], done) for who, done in told["done"].items() if who.startswith(mark))


@needs_real_screen
def test_a_fault_by_mouse_and_one_by_scanner_end_on_paper(path):
    told = play(path, "short")
    assert told["became"] == {"TB-203": "hold", "TB-105": "scrap"}
    by_mouse, by_scanner = hands(told, "TB-203"), hands(told, "TB-105")
    assert by_mouse[0] == "mouse"
    assert by_mouse[1]["click"] > by_mouse[1]["key"]  # the end of its mark, and readings
    assert by_scanner[1]["scan"] >= 1
    tags, pages = printed_of(path, told)
    assert (tags, pages > 0) == (20, True)
    assert verify_workbook(path) == ()


@pytest.mark.thorough
@pytest.mark.timeout(LONGEST)
@needs_real_screen
def test_twenty_units_with_six_faults_go_from_the_van_to_their_tags(path, record_property):
    said = yaml.safe_load(SAID.read_text(encoding="utf-8"))
    told = play(path)
    worst = Counter({"scrap": 2, "hold": 1})
    assert Counter(told["became"].values()) == worst + Counter({"for sale": 20 - worst.total()})
    mended = {mark for mark, hidden in said["hidden"].items() if "repair" in hidden}
    with Bench.open(path) as bench:
        repaired = {unit.mark for unit in bench.units() if any(e.kind == "repair" for e in bench.entries(unit.mark))}
    assert repaired == mended
    assert printed_of(path, told)[0] == 20
    for kind in ("key", "click", "scan"):
        record_property(f"{kind}s of twenty units", sum(done.get(kind, 0) for done in told["done"].values()))
    assert verify_workbook(path) == ()
