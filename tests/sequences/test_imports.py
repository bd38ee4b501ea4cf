"""A window opens without what it does not show yet."""

import subprocess
import sys

HEAVY = ("yaml", "pydantic", "numpy", "scipy", "pint", "sqlalchemy", "reportlab", "PySide6")


def loaded_by(code: str) -> set[str]:
    program = f"import sys\n{code}\nprint(*[name for name in {HEAVY!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def test_entries_states_and_plans_are_types_without_weight():
    modules = ("language.vocabulary", "planning.entries", "planning.planned", "planning.state")
    assert loaded_by("import " + ", ".join(f"benchapp.sequences.{name}" for name in modules)) == set()


def test_importing_what_a_lot_tells_loads_nothing_heavy():
    assert loaded_by("import benchapp.lots.board") == set()
