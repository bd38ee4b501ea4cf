"""What importing the packages loads: nothing heavy before it is needed."""

import subprocess
import sys

import pytest

HEAVY = {"yaml", "pydantic", "pint", "numpy", "scipy"}


LIGHT = (
    "files.beside",
    "files.locations",
    "files.shipped",
    "files.spelling",
    "quantities.display",
    "quantities.entry",
    "quantities.markings",
)


@pytest.mark.parametrize("module", LIGHT)
def test_importing_what_the_window_uses_loads_nothing_heavy(module):
    code = f"import sys, benchapp.{module}; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not HEAVY & set(loaded)


def test_reading_what_was_typed_loads_nothing_heavy():
    code = (
        "import sys\n"
        "from benchapp.quantities.display import show\n"
        "from benchapp.quantities.entry import read_reading\n"
        "from benchapp.quantities.formula import parse_formula\n"
        "from benchapp.quantities.dimensions import Kind\n"
        "show(read_reading('4k7', kind=Kind.resistance).si, Kind.resistance)\n"
        "parse_formula('9 V * a').value({'a': 1.5})\n"
        "print(*sys.modules)"
    )
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not HEAVY & set(loaded)
