"""`python -m benchapp` is the same as `benchapp`: without a sub-command the window opens."""

import os
from collections.abc import Sequence
from pathlib import Path

from benchapp.cli.command import main as run_command
from benchapp.errors import BenchError
from benchapp.operating_system import has_display


def main(words: Sequence[str] | None = None) -> int:
    """Run a command or open the window; returns the exit code."""
    return run_command(words, open_window=open_window)


def open_window(workbook: Path | None) -> int:
    """Open the window on a workbook, or where the last one was left; raises BenchError where there can be none."""
    if not has_display() and not os.environ.get("QT_QPA_PLATFORM"):
        raise BenchError(
            "There is no display to open the window on. Run it on a desktop, or use a sub-command (benchapp --help)."
        )
    try:
        from benchapp.desktop.start import run
    except ImportError as error:
        from benchapp.desktop.platforms import problem_of

        raise problem_of(str(error)) from error
    return int(run(workbook))


if __name__ == "__main__":
    raise SystemExit(main())
