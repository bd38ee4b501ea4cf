"""Branch coverage of what judges and guards, held at what it reaches: a ratchet.

`python -m tests.house.branch_coverage REPORT` reads coverage.py's JSON report, prints each package's share of branches
taken, and ends with 1 where one fell below its floor in branch-coverage.toml. Raise a floor when a share has grown.
"""

import json
import sys
import tomllib
from pathlib import Path

FLOORS = Path(__file__).with_name("branch-coverage.toml")
ROOT = Path(__file__).resolve().parents[2]


def floors() -> dict[str, float]:
    """The least share of branches in percent, by folder below benchapp."""
    return dict(tomllib.loads(FLOORS.read_text(encoding="utf-8"))["percent"])


def shares(report: Path) -> dict[str, tuple[int, int]]:
    """Branches taken and branches there are, by folder; a folder without any is an error of the run."""
    files = json.loads(report.read_text(encoding="utf-8"))["files"]
    found = {}
    for folder in floors():
        summaries = [one["summary"] for name, one in files.items() if Path(name).is_relative_to(f"benchapp/{folder}")]
        taken = sum(one["covered_branches"] for one in summaries)
        found[folder] = taken, sum(one["num_branches"] for one in summaries)
    return found


def below(found: dict[str, tuple[int, int]], least: dict[str, float]) -> list[str]:
    """A sentence for each folder whose share is below its floor."""
    return [
        f"{folder}: {taken} of {there} branches are taken, less than the {least[folder]} % of before."
        for folder, (taken, there) in found.items()
        if not there or 100 * taken / there < least[folder]
    ]


def main(report: Path) -> int:
    """Print the table, then what fell; 1 where something did."""
    found, least = shares(report), floors()
    for folder, (taken, there) in found.items():
        share = f"{100 * taken / there:.1f} %" if there else "none"
        print(f"branch coverage of {folder}: {share} ({taken} of {there}; at least {least[folder]} %)")
    fell = below(found, least)
    print(*fell, sep="\n", end="\n" if fell else "")
    return 1 if fell else 0


if __name__ == "__main__":
    raise SystemExit(main(Path(sys.argv[1])))
