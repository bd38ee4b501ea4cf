"""What the program holds and rests on, each with its licence and the text of it; Qt-free.

First what resources/licences names, then every package that the program needs, as it says of itself where installed.
"""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path
from typing import Any

from benchapp.files.shipped import shipped_folder

PROGRAM = "benchapp"
_LICENCE_FILE = re.compile(r"(?i)^(licen[cs]e|copying|notice)")
_CLASSIFIER = "License :: OSI Approved :: "
_LONGEST_NAME = 80
"""Characters; a longer `License` field is the licence's text, or a copyright notice, not its name (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Something under a licence, and what its licence says."""

    name: str
    licence: str
    """As the work itself names it, an SPDX expression where it gives one."""
    text: str
    packages: frozenset[str] = frozenset()
    """Normalised names of the installed packages that this is about."""


def all_works() -> tuple[Work, ...]:
    """What is shipped, then the packages that the program needs, by name; raises BenchError when the list is lost."""
    shipped = shipped_works()
    named = frozenset[str]().union(*(work.packages for work in shipped))
    needed = sorted(needed_packages().items())
    return (*shipped, *(_work_of(package) for name, package in needed if name not in named))


def shipped_works() -> tuple[Work, ...]:
    """What resources/licences/licences.toml names."""
    folder = shipped_folder("resources") / "licences"
    listed = tomllib.loads((folder / "licences.toml").read_text(encoding="utf-8"))["works"]
    return tuple(_shipped_work(entry, folder) for entry in listed)


def needed_packages() -> dict[str, Distribution]:
    """The installed packages that the program needs, and those that they need, by normalised name."""
    found: dict[str, Distribution] = {}
    asked = _required(PROGRAM)
    while asked:
        name = asked.pop()
        if name in found:
            continue
        try:
            found[name] = distribution(name)
        except PackageNotFoundError:  # for another system or another Python
            continue
        asked += _required(name)
    return found


def normalised(name: str) -> str:
    """A package's name as all its spellings compare (PyPA specification "Names and normalization")."""
    return re.sub(r"[-_.]+", "-", name).lower()


def _shipped_work(entry: dict[str, Any], folder: Path) -> Work:
    notice = " ".join(entry.get("notice", "").split())
    texts = [(folder / name).read_text(encoding="utf-8") for name in entry["texts"]]
    return Work(
        name=entry["name"],
        licence=entry["licence"],
        text="\n\n".join([notice, *texts] if notice else texts),
        packages=frozenset(map(normalised, entry.get("packages", ()))),
    )


def _required(name: str) -> list[str]:
    """Names of the packages that a package needs, without what it only needs for an extra."""
    try:
        lines = distribution(name).requires or []
    except PackageNotFoundError:
        return []
    plain = (line for line in lines if "extra ==" not in line)
    return [normalised(re.split(r"[^A-Za-z0-9._-]", line, maxsplit=1)[0]) for line in plain]


def _work_of(package: Distribution) -> Work:
    return Work(
        name=f"{package.metadata['Name']} {package.version}",
        licence=_licence_named(package),
        text="\n\n".join(_texts(package)) or "The package carries no text of its licence.",
        packages=frozenset({normalised(package.metadata["Name"])}),
    )


def _licence_named(package: Distribution) -> str:
    """The licence by its SPDX expression, else its classifiers, else what the package wrote."""
    told = package.metadata
    if "License-Expression" in told:
        return told["License-Expression"]
    if classifiers := [line for line in told.get_all("Classifier", []) if line.startswith(_CLASSIFIER)]:
        return ", ".join(line.removeprefix(_CLASSIFIER) for line in classifiers)
    written = told["License"].strip() if "License" in told else ""
    return written if written and len(written) <= _LONGEST_NAME and "\n" not in written else "see the text"


def _texts(package: Distribution) -> Iterator[str]:
    for file in package.files or []:
        inside = file.parts[0].endswith(".dist-info")
        if inside and ("licenses" in file.parts or _LICENCE_FILE.match(file.name)):
            yield Path(file.locate()).read_text(encoding="utf-8", errors="replace")
