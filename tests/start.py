"""Make the environment and run everything that CI runs.

Beside the environment, tests/published compares with ngspice, a circuit simulator of other authors (Debian package
ngspice), and a journey is made on a real X server (xvfb, openbox, xdotool). CI installs them; elsewhere they are used
where they are there, and where they are not the run says what it skips.
"""

import argparse
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from benchapp import environment  # noqa: E402 - found only after the line above
from benchapp.errors import BenchError  # noqa: E402

PURE = ["files", "quantities", "judgement", "wiring", "sequences", "lots"]
BYTECODE = environment.ENVIRONMENT / "bytecode"
"""where compiled modules are kept, away from the sources"""
HELD = ["sequences.interlock", "sequences.history", "sequences.answering", "sequences.kinds", "judgement"]
"""packages whose branch coverage is measured and may not fall (tests/house/branch_coverage.py)"""
HELD_TESTS = ["tests/sequences", "tests/judgement", "tests/actions/workbench"]
"""where the tests stand under which they are counted (tests/conftest.py marks them)"""
UNCOUNTED = ["tests/sequences/interlock/test_machine.py"]
"""those that walk the same branches over and over: counted, each takes more than four times as long"""
REPORT = ".branch-coverage.json"
TOOLS = (
    ("ngspice", "ngspice", "what tests/published compares with it"),
    ("Xvfb", "xvfb", "the journey on a real X server"),
    ("openbox", "openbox", "the journey on a real X server"),
    ("xdotool", "xdotool", "the journey on a real X server"),
)
"""programs beside the environment, the Debian package of each, and what it is for"""
TWO, FOUR = (("--numprocesses", number, "--dist", "worksteal") for number in ("2", "4"))
"""processes; two keep two cores busy, but for tests that wait: for a person's next key, a disk, another process"""


def commands(python: Path, arguments: argparse.Namespace) -> list[list[str]]:
    """The checks in the order they run; the first that fails ends the run."""
    run = [str(python), "-m"]
    pytest = [*run, "pytest", *arguments.pytest]
    if arguments.performance:
        return [[*pytest, "-m", "performance", "-s", "-p", "no:randomly", "tests/performance"]]
    if arguments.campaign:
        return [[*pytest, *TWO, "-p", "no:randomly", "tests/campaign"]]
    if arguments.hazards:
        return [[*run, "tests.hazards.table"]]
    if arguments.quick:
        return [[*pytest, "--exitfirst", *(f"tests/{name}" for name in PURE)]]
    if arguments.thorough:
        pytest += ["--hypothesis-profile", "thorough"]
    linter = str(python.with_name("lint-imports"))
    return [
        [*run, "ruff", "check", "."],
        [*run, "ruff", "format", "--check", "."],
        [*run, "mypy"],
        [linter, "--no-logo"],
        *tests_with_coverage(run, pytest, whole=not arguments.pytest),
        *([[*pytest, *TWO, "-m", "thorough"]] if arguments.thorough and not arguments.pytest else []),
    ]


def keep_what_was_compiled() -> None:
    """The tests start hundreds of Python processes: each finds what the first of them has compiled."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ["PYTHONPYCACHEPREFIX"] = str(BYTECODE)


def tests_with_coverage(run: list[str], pytest: list[str], *, whole: bool) -> list[list[str]]:
    """All tests, once: those of the held packages with their branches counted. Chosen tests run without counting."""
    if not whole:
        return [[*pytest, *TWO]]
    counted = [f"--cov=benchapp.{name}" for name in HELD]
    report = ["--cov-branch", f"--cov-report=json:{REPORT}"]
    return [
        [*pytest, *FOUR, "-m", "not performance and not thorough and not held"],
        [*pytest, *TWO, "-m", "held and not thorough", *counted, *report, *HELD_TESTS],
        [*run, "tests.house.branch_coverage", REPORT],
    ]


def main() -> int:
    """Return the exit code of the first check that fails, else 0."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--performance", action="store_true", help="measure ratios against a bare floor and print them")
    parser.add_argument("--campaign", action="store_true", help="an hour of accidents and forgeries")
    parser.add_argument("--hazards", action="store_true", help="every hazard in every unit that carries it, as a table")
    parser.add_argument("--quick", action="store_true", help="the packages without screen and disk only")
    parser.add_argument("--thorough", action="store_true", help="many more generated cases")
    parser.add_argument("pytest", nargs="*", help="more words for pytest, after --")
    arguments = parser.parse_args()
    try:
        python = environment.prepare(extras=["test"])
    except BenchError as problem:
        print(problem, file=sys.stderr)
        return 2
    keep_what_was_compiled()
    if arguments.campaign:
        os.environ["BENCHAPP_CAMPAIGN"] = "whole"
    for program, package, what_for in TOOLS:
        install = os.environ.get("CI") == "true"
        print(environment.provide_tool(program, package=package, what_for=what_for, install=install))
    for command in commands(python, arguments):
        print(f"\n== {' '.join(Path(word).name if word == command[0] else word for word in command)}", flush=True)
        code = subprocess.run(command, cwd=ROOT, check=False).returncode
        if code:
            return code
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
