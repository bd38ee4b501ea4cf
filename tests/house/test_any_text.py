"""Enough texts are thrown at what reads text, in every run."""

import subprocess
import sys

from tests import any_text

EVERYDAY = 100
"""Cases of an everyday run where a test says nothing else (tests/conftest.py)."""


def test_every_run_tries_twenty_thousand_texts_on_the_four_surfaces():
    assert len(any_text.CASES) == 4
    assert sum(any_text.CASES.values()) * EVERYDAY >= 20_000


def test_the_everyday_profile_has_as_many_cases_as_is_reckoned_with():
    program = "import tests.conftest; from hypothesis import settings; print(settings().max_examples)"
    found = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert int(found.stdout) == EVERYDAY
