"""The same work without a screen: one sub-command for each thing, tables for people and `--json` for programs.

Exit codes: 0 all is well, 1 the answer is "no", 2 bad input, with one line on stderr that says why.
"""

from benchapp.cli.command import main as main

__all__ = ["main"]
