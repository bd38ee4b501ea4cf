"""What a sub-command is, and how answers are printed: aligned columns for people, JSON for programs."""

import argparse
import json
import re
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TextIO

from benchapp.files.shipped import shipped_folder
from benchapp.visible import visible

GAP = "  "


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """One sub-command: its name, what it says of itself, its arguments, and what it does (returns the exit code)."""

    name: str
    says: str
    arguments: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], int]


def say(words: str = "", *, to: TextIO | None = None) -> None:
    """Print words, whoever wrote them (on stdout, unless another is named); no console is steered by them."""
    print(visible(words, keep="\n"), file=to)


def print_json(value: Any) -> None:  # noqa: ANN401 (any JSON value)
    """The answer for programs; letters as they are, and escaped what cannot be seen."""
    print(_UNSEEN.sub(_escaped, json.dumps(value, ensure_ascii=False, indent=2)))


_UNSEEN = re.compile("[\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ud800-\udfff\ufeff]")
"""What JSON leaves as it is though a console may be steered by it."""


def _escaped(found: re.Match[str]) -> str:
    return f"\\u{ord(found.group()):04x}"


def print_table(rows: Iterable[Sequence[str]], *, head: Sequence[str] = ()) -> None:
    """Columns as wide as their widest cell; the last one runs free."""
    every = [tuple(head), *map(tuple, rows)] if head else [tuple(row) for row in rows]
    lines = [tuple(map(visible, line)) for line in every]
    if not lines:
        return
    widths = [max(len(line[column]) for line in lines) for column in range(len(lines[0]) - 1)]
    for line in lines:
        cells = [cell.ljust(width) for cell, width in zip(line, widths, strict=False)]
        print(GAP.join([*cells, line[-1]]).rstrip())


def add_region(parser: argparse.ArgumentParser, says: str, **more: str) -> None:
    """The option of a command that takes a region's limits: which there are is what is shipped, a file for each."""
    there = ", ".join(sorted(file.stem for file in (shipped_folder("resources") / "limits").glob("*.yaml")))
    parser.add_argument("--region", metavar="ID", help=f"{says}: {there}", **more)  # type: ignore[arg-type]


def add_json(parser: argparse.ArgumentParser) -> None:
    """The switch that every command with an answer has."""
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def path_named(words: str) -> Path:
    """A path as it was typed; an empty one would be the folder that one happens to stand in."""
    if not words.strip():
        raise argparse.ArgumentTypeError("no name was given; name a file")
    return Path(words)


def progress_of(what: str) -> Callable[[int, int], None] | None:
    """A line on stderr that counts up ("3 of 20 units"); none where nobody watches."""
    if not sys.stderr.isatty():
        return None

    def show(done: int, of: int) -> None:
        print(f"\r{done} of {of} {what}", end="" if done < of else "\n", file=sys.stderr, flush=True)

    return show
