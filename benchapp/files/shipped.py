"""Where the files that come with the program are: beside the package in a clone, inside it when installed."""

import os
import tomllib
from functools import cache
from pathlib import Path
from typing import Literal

import benchapp
from benchapp.errors import BenchError
from benchapp.words import say

_FOLDERS: tuple[Literal["sequences", "resources"], ...] = ("sequences", "resources")


def shipped_folder(name: Literal["sequences", "resources"]) -> Path:
    """The folder of shipped sequences or resources; raises BenchError when the installation has lost it."""
    package = Path(benchapp.__file__).parent
    for folder in (package / "_shipped" / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise BenchError(
        say(
            "The folder {name} that comes with the program is missing beside {package}. Install the program again.",
            name=name,
            package=package,
        )
    )


def is_shipped(path: Path) -> bool:
    """Whether the file is one of those that come with the program."""
    real = Path(os.path.realpath(path))  # resolve() raises where links go round in a circle
    return any(real.is_relative_to(shipped_folder(name).resolve()) for name in _FOLDERS)


@cache
def earlier_texts() -> frozenset[str]:
    """SHA-256 of the texts that earlier releases shipped and this one does not."""
    stated = tomllib.loads((shipped_folder("resources") / "earlier-texts.toml").read_text(encoding="utf-8"))
    return frozenset(stated["texts"])
