"""What came of one trial: where the unit was stopped and how far power had come, or that it was left for sale."""

from dataclasses import dataclass

STAGES = ("V", "D", "I", "L", "M")
"""look, dead by meter, insulation test, limited first power, full mains; R (a rule, a question) stands after all"""
ENERGIES = ("none", "500 V", "limited", "full")


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """`caught` is a stage, or empty; `energy` the most that the unit had been put on; `where` the step that told.

    `words` is what the page said there. A unit that was left for sale has `left`, and what its tag names as untested.
    """

    caught: str = ""
    energy: str = "none"
    where: str = ""
    words: str = ""
    left: bool = False
    not_tested: tuple[str, ...] = ()
    stuck: str = ""
    hurt: str = ""
    """what a person touched charged or live, where it came to that"""


def in_time(caught: str, latest: str) -> bool:
    """Whether a stage is the latest or earlier; R asks only that it is caught at all."""
    return latest == "R" or (caught in STAGES and STAGES.index(caught) <= STAGES.index(latest))
