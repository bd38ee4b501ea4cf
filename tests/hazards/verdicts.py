"""Whether a trial came out as the list asks, in one word, and the exceptions that are known with their reasons."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import yaml

from tests.hazards.matching import says
from tests.hazards.outcome import ENERGIES, Outcome, in_time
from tests.hazards.trial import Row, Trial

CAUGHT, LATE, NAMED, LEFT, HURT, STUCK = "caught", "late", "left, named on the tag", "left", "hurt", "stuck"
MOST_ENERGY = {"V": "none", "D": "none", "I": "500 V", "L": "limited", "M": "full", "R": "full"}
"""the most that a unit may have been put on when it is caught, by the row's latest stage"""


def verdict(row: Row, trial: Trial, outcome: Outcome) -> str:
    """One word for what came of it."""
    if outcome.hurt:
        return HURT
    if outcome.stuck:
        return STUCK
    if outcome.caught:
        return CAUGHT if in_time(outcome.caught, row.latest) and _before(row, trial, outcome) else LATE
    named = row.named and any(says(line, row.named) for line in outcome.not_tested)
    return NAMED if named else LEFT


def _before(row: Row, trial: Trial, outcome: Outcome) -> bool:
    """Whether power had not come further than it may; a trial in another way is powered on purpose."""
    return bool(trial.way) or ENERGIES.index(outcome.energy) <= ENERGIES.index(MOST_ENERGY[row.latest])


@cache
def exceptions() -> Mapping[str, Mapping[str, str]]:
    """By the trial's name: what comes of it (`comes`), and why that is so (`why`)."""
    text = (Path(__file__).parent / "exceptions.yaml").read_text(encoding="utf-8")
    found: Mapping[str, Mapping[str, str]] = yaml.safe_load(text) or {}
    return found
