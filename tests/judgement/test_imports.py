"""What importing the judgement brings with it: nothing heavy."""

import subprocess
import sys

import pytest

HEAVY = ("pint", "numpy", "scipy", "pydantic", "yaml", "uncertainties", "reportlab", "sqlalchemy")
SCRIPT = """
import sys
import benchapp.judgement.{module}
print(*[name for name in {heavy!r} if name in sys.modules])
"""
USED = ["decision.columns", "decision.decision", "decision.advice", "limits.bands", "limits.fuses", "meters.readings"]


@pytest.mark.parametrize("module", USED)
def test_judging_loads_nothing_heavy(module):
    script = SCRIPT.format(module=module, heavy=HEAVY)
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.split() == []
