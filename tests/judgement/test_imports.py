"""What importing the package brings with it: nothing heavy."""

import subprocess
import sys

import pytest

HEAVY = ("pint", "numpy", "scipy", "pydantic", "yaml", "uncertainties", "reportlab", "sqlalchemy")
SCRIPT = """
import sys
import benchapp.judgement
{use}
print(*[name for name in {heavy!r} if name in sys.modules])
"""


@pytest.mark.parametrize(
    "use",
    [
        "",
        "from benchapp.judgement import Function, combine, decide, parse_accept, uncertainty_of",
        "from benchapp.judgement import advise, choose_fuse, cord_rating, limit_band, propagate, judge_columns",
    ],
)
def test_judging_loads_nothing_heavy(use):
    script = SCRIPT.format(use=use, heavy=HEAVY)
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.split() == []


def test_every_public_name_exists():
    import benchapp.judgement as judgement

    for name in judgement.__all__:
        assert getattr(judgement, name) is not None
    with pytest.raises(AttributeError):
        _ = judgement.nothing
