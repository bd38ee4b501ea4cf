"""What importing the package costs."""

import subprocess
import sys


def test_importing_paper_loads_nothing_heavy():
    code = (
        "import sys, benchapp.paper.content as content; content.TagContent; content.unit_code('TB-1', 'ab')\n"
        "print([m for m in ('reportlab', 'segno', 'pypdfium2', 'yaml', 'pydantic') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
