"""What importing the package costs."""

import subprocess
import sys


def test_importing_paper_loads_nothing_heavy():
    code = (
        "import sys, benchapp.paper as p; p.TagContent; p.unit_code('TB-1', 'ab')\n"
        "print([m for m in ('reportlab', 'segno', 'pypdfium2', 'yaml', 'pydantic') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_every_public_name_can_be_fetched():
    import benchapp.paper

    for name in benchapp.paper.__all__:
        assert getattr(benchapp.paper, name) is not None
