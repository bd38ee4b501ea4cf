"""The table of the hazard trials: run them all, print what came of each, and say whether it is as the lists say.

`python3 tests/start.py --hazards` runs every row in every design that carries it, on every route, with several seeds of
reading noise, and every sound unit beside them. Exit code 1: something came otherwise than the exceptions say.
"""

import os
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.hazards.outcome import Outcome
from tests.hazards.sound import run_sound, sound_units
from tests.hazards.trial import Row, Trial, routes_of, rows, run
from tests.hazards.verdicts import CAUGHT, exceptions, verdict

SEEDS = (0, 1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One trial in the table: its row, where it was walked, what came of it."""

    row: Row
    trial: Trial
    route: str
    outcome: Outcome
    word: str

    def written(self) -> str:
        """One line of text."""
        told = self.outcome
        came = f"{self.word}" + (f" at {told.caught}" if told.caught else "")
        where = told.where or told.stuck or told.hurt
        before = after(told.energy)
        return f"{self.trial.name:16} {self.row.latest} {came:28} before {before:10} {where:42} {self.row.words}"


def after(energy: str) -> str:
    """The energy that had not been reached yet when it was caught."""
    return {"none": "any power", "500 V": "mains", "limited": "full mains", "full": "sale"}[energy]


def lines(*, routes: bool, seeds: Sequence[int] = (0,)) -> Iterator[Line]:
    """Every trial of every row, on the usual route or on all of them."""
    for row in rows().values():
        for trial in row.trials:
            for route in routes_of(trial.design) if routes else routes_of(trial.design)[:1]:
                for seed in seeds:
                    outcome = run(trial, route=route, seed=seed)
                    yield Line(row=row, trial=trial, route=route, outcome=outcome, word=verdict(row, trial, outcome))


def unexpected(line: Line) -> str:
    """How a trial came otherwise than the exceptions say; empty where it did not."""
    known = exceptions().get(f"{line.trial.name} on {line.route}") or exceptions().get(line.trial.name)
    if known is None:
        return "" if line.word == CAUGHT else f"{line.trial.name} on {line.route}: {line.word}"
    if line.word != known["comes"]:
        return f"{line.trial.name} on {line.route}: {line.word}, the exceptions say {known['comes']}"
    return ""


def counted(found: Sequence[Line]) -> dict[str, int]:
    """Rows by what came of the worst of their trials, and rows that no shipped design carries."""
    order = ["caught", "late", "left, named on the tag", "left", "hurt", "stuck"]
    worst: dict[str, str] = {}
    for line in found:
        worst[line.row.ident] = max(worst.get(line.row.ident, "caught"), line.word, key=order.index)
    counts = Counter(worst.values())
    counts["not tried"] = sum(1 for row in rows().values() if row.not_tried)
    return {name: counts[name] for name in (*order, "not tried") if counts[name]}


def main(words: Sequence[str]) -> int:
    """Run, print, and return the exit code; "--once" walks the usual routes with one seed."""
    once = "--once" in words
    with tempfile.TemporaryDirectory() as folder:
        os.environ["BENCHAPP_DATA"] = str(Path(folder) / "data")
        found, wrong = [], []
        for sound in sound_units():
            outcome = run_sound(sound)
            print(f"sound {sound.name}: {'for sale' if outcome.left else outcome}", flush=True)
            wrong += [] if outcome.left else [f"sound {sound.name}: {outcome}"]
        for line in lines(routes=not once, seeds=(0,) if once else SEEDS):
            found.append(line)
            print(line.written(), flush=True)
            wrong += [told] if (told := unexpected(line)) else []
    for row in rows().values():
        if row.not_tried:
            print(f"{row.ident:16} {row.latest} not tried: {row.not_tried}. {row.words}")
    print("\nRows: " + ", ".join(f"{name} {count}" for name, count in counted(found).items()))
    print("\n".join(["", "Otherwise than the lists say:", *wrong]) if wrong else "All came as the lists say.")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
