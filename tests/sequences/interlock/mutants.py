"""Errors planted in the interlock one at a time, each in a copy of the program, and which test finds it.

`python3 -m tests.sequences.interlock.mutants` prints the table; words after it choose mutants by what is in their name.
The walks and the random machine are asked first: it is the oracle that should find them. Who may do what, and what
a failed reading leaves behind, is asked of the tests that state it case by case.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml

ROOT = next(folder for folder in Path(__file__).parents if (folder / "pyproject.toml").exists())
HERE = Path("tests/sequences/interlock")
WALKS = (
    "",
    "_of_dead_tests",
    "_of_the_way_back",
    "_of_false_alarms",
    "_of_site_mains",
    "_of_hazards",
    "_of_first_power",
    "_of_least_times",
)
ASKED = (
    tuple(f"test_walks{one}.py" for one in WALKS),
    ("test_people_gate.py", "test_failed_safety.py"),
    ("test_machine.py",),
)
"""the next are run where the ones before find nothing"""
NEEDED = ("benchapp", "tests", "sequences", "resources", "pyproject.toml")
_FAILED = re.compile(r"^FAILED \S+?/(?P<file>\w+)\.py::(?P<test>.+?)(?: - .*)?$", re.MULTILINE)


@dataclass(frozen=True, kw_only=True)
class Mutant:
    """One change of one line of benchapp/sequences."""

    name: str
    file: str
    old: str
    new: str

    def changed(self, text: str) -> str:
        """The text of its file with the change; raises ValueError where the line does not stand there once."""
        if text.count(self.old) != 1:
            raise ValueError(
                f"{self.file}: “{self.old}” stands there {text.count(self.old)} times; move the mutant too"
            )
        return text.replace(self.old, self.new)


@cache
def mutants() -> tuple[Mutant, ...]:
    """All of mutants.yaml."""
    written = yaml.load((ROOT / HERE / "mutants.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    return tuple(Mutant(name=one["mutant"], file=one["file"], old=one["old"], new=one["new"]) for one in written)


def source(mutant: Mutant, root: Path = ROOT) -> Path:
    """The file that it changes."""
    return root / "benchapp" / "sequences" / mutant.file


def copy_of_the_program(folder: Path) -> None:
    """All that the walks need, without what is made anew."""
    ignored = shutil.ignore_patterns("__pycache__", "*.ttf", "desktop", "*.gz", "out")
    for name in NEEDED:
        original = ROOT / name
        if original.is_dir():
            shutil.copytree(original, folder / name, ignore=ignored)
        else:
            shutil.copy2(original, folder / name)


def killers(mutant: Mutant | None) -> tuple[str, ...]:
    """The tests that fail in a copy with that change; of the unchanged copy for None."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        copy_of_the_program(folder)
        if mutant is not None:
            changed = source(mutant, folder)
            changed.write_text(mutant.changed(changed.read_text(encoding="utf-8")), encoding="utf-8")
        for files in ASKED:
            found = _failed(folder, [str(HERE / file) for file in files])
            if found:
                return found
    return ()


def _failed(folder: Path, files: list[str]) -> tuple[str, ...]:
    """Names of the tests that fail there; raises RuntimeError where they could not be run."""
    options = ["-q", "-p", "no:randomly", "-p", "no:cacheprovider", "-p", "no:xdist", "--tb=no", "--exitfirst"]
    done = subprocess.run(
        [sys.executable, "-m", "pytest", *options, "--hypothesis-seed=1", *files],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1", "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=False,
    )
    found = tuple(f"{match['file']}: {match['test']}" for match in _FAILED.finditer(done.stdout))
    if done.returncode not in (0, 1, 2) or (done.returncode and not found):
        raise RuntimeError(f"The tests did not run: {done.stdout[-2000:]}{done.stderr[-2000:]}")
    return found


def main(words: list[str]) -> int:
    """Print the table; 1 where a mutant lives."""
    chosen = [one for one in mutants() if not words or any(word in one.name for word in words)]
    living = 0
    for mutant in chosen:
        found = killers(mutant)
        living += not found
        print(f"{mutant.name:62} {found[0] if found else 'LIVES'}", flush=True)
    print(f"{len(chosen) - living} of {len(chosen)} found")
    return 1 if living else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
