"""What importing the packages loads: nothing heavy before it is needed."""

import importlib
import subprocess
import sys

import pytest

HEAVY = {"yaml", "pydantic", "pint", "numpy", "scipy"}


@pytest.mark.parametrize("package", ["benchapp.files", "benchapp.quantities"])
def test_importing_the_package_loads_nothing_heavy(package):
    code = f"import sys, {package}; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not HEAVY & set(loaded)


def test_reading_what_was_typed_loads_nothing_heavy():
    code = (
        "import sys\n"
        "from benchapp.quantities import Kind, parse_formula, read_reading, show\n"
        "show(read_reading('4k7', kind=Kind.resistance).si, Kind.resistance)\n"
        "parse_formula('9 V * a').value({'a': 1.5})\n"
        "print(*sys.modules)"
    )
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not HEAVY & set(loaded)


@pytest.mark.parametrize("package", ["benchapp.files", "benchapp.quantities"])
def test_every_name_that_is_offered_is_there(package):
    module = importlib.import_module(package)
    assert all(getattr(module, name) is not None for name in module.__all__)
    with pytest.raises(AttributeError, match="has no attribute 'nowhere'"):
        _ = module.nowhere
