"""From the words of a command line to the sub-command that they ask for, and its exit code."""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

from benchapp import __version__
from benchapp.cli.shape import Command, path_named, say
from benchapp.errors import BenchError
from benchapp.visible import visible

WORKBOOK = ".workbook"
"""how a workbook's name ends: no sub-command's does"""
OpenWindow = Callable[[Path | None], int]
GOOD, NO, BAD_INPUT = 0, 1, 2
STOPPED_BY_HAND = 130
"""what a shell expects of a program stopped with Ctrl-C"""


def sub_commands() -> tuple[Command, ...]:
    """Every sub-command; loaded when one is asked for, since a window waits for none of them."""
    from benchapp.cli import backups, bench, circuits, exchange, files, following, numbers, places

    return (
        *numbers.COMMANDS,
        *circuits.COMMANDS,
        *files.COMMANDS,
        *bench.COMMANDS,
        *following.COMMANDS,
        *backups.COMMANDS,
        *places.COMMANDS,
        *exchange.COMMANDS,
    )


class Parser(argparse.ArgumentParser):
    """Complains in one line."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the words given, and how to ask for help."""
        self.exit(BAD_INPUT, f"{self.prog}: {_plain(message)} (try {self.prog} --help)\n")


def main(words: Sequence[str] | None = None, *, open_window: OpenWindow | None = None) -> int:
    """Run a command; without one, open the window. Whatever goes wrong ends as one line on stderr and a code."""
    given = list(sys.argv[1:] if words is None else words)
    try:
        return _run(given, open_window)
    except BenchError as problem:
        return _complain(_in_one_line(problem))
    except KeyboardInterrupt:
        return STOPPED_BY_HAND
    except BrokenPipeError:  # whoever read our output has seen enough
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return GOOD
    except (OSError, UnicodeError) as error:
        return _complain(f"{error}. Check the name and the place, then try again.")


def _run(given: list[str], open_window: OpenWindow | None) -> int:
    _make_room_for_any_letter()
    if not given or (len(given) == 1 and given[0].endswith(WORKBOOK) and not given[0].startswith("-")):
        return _open(open_window, path_named(given[0]) if given else None)
    names = ["window", *(command.name for command in sub_commands())]
    if not given[0].startswith("-") and given[0] not in names:
        if not _is_file_name(given[0]):
            return _complain(_no_such_command(given[0], names))
        given = ["window", *given]
    asked = _parser().parse_args(given)
    if asked.command in (None, "window"):
        return _open(open_window, getattr(asked, "workbook", None))
    run: Callable[[argparse.Namespace], int] = asked.run
    return run(asked)


def _open(open_window: OpenWindow | None, workbook: Path | None) -> int:
    if open_window is None:
        return _complain("No window can be opened from here. Name a sub-command (try benchapp --help).")
    return open_window(workbook)


def _is_file_name(word: str) -> bool:
    return bool(Path(word).suffix) or "/" in word or "\\" in word or Path(word).exists()


def _no_such_command(word: str, names: Sequence[str]) -> str:
    from benchapp.files.spelling import nearest

    near = nearest(word, names)
    hint = f"Did you mean {near}?" if near else f"There are {', '.join(names)}."
    return f"There is no command {word!r}. {hint}"


def _complain(sentence: str) -> int:
    with suppress(BrokenPipeError):
        say(f"benchapp: {_plain(sentence)}", to=sys.stderr)
    return BAD_INPUT


def _plain(sentence: str) -> str:
    """One line, without what would steer the console: a typed text is quoted in it."""
    return visible(" ".join(sentence.split()))


def _in_one_line(problem: BenchError) -> str:
    """The sentence; of a file with many mistakes the first, and where to see the others."""
    first, *others = problem.sentence.splitlines() or [""]
    return f"{first} (and {len(others)} more; benchapp check lists all of a file)" if others else first


def _make_room_for_any_letter() -> None:
    """A console that cannot show Ω or ± gets a question mark instead of a fault."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def _parser() -> Parser:
    parser = Parser(
        prog="benchapp",
        description="A repair-bench workbook with guided test sequences. Without a sub-command the window opens.",
        epilog="Exit codes: 0 all is well, 1 the answer is no, 2 bad input.",
    )
    parser.add_argument("--version", action="version", version=f"benchapp {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    window = commands.add_parser("window", help="open the window, on a workbook if one is named")
    window.add_argument("workbook", nargs="?", type=path_named)
    for command in sub_commands():
        one = commands.add_parser(command.name, help=command.says, description=command.says)
        command.arguments(one)
        one.set_defaults(run=command.run)
    return parser
