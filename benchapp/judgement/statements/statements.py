"""What can be said of a reading, and under which rule; what each answer then opens.

The four statements are those of ILAC-G8:09/2019 clause 4.2.3; "not judged" is ours, for a reading that the meter
cannot settle or that is no number.

RULES_VERSION goes with every stored judgement. A judgement is verified by the rules that it names; one that names rules
which are not in KNOWN_RULES is not guessed at. A rule that changes the judgement of any reading, or what the gate lets
be recorded, gets a new version.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

RULES_VERSION = "2"
KNOWN_RULES = frozenset({RULES_VERSION})
"""The rules by which this program can judge."""


class Judgement(StrEnum):
    """ILAC-G8's four statements, and the answer for a reading that cannot be judged."""

    passed = "pass"
    conditional_pass = "conditional pass"  # noqa: S105 (no password)
    conditional_fail = "conditional fail"
    failed = "fail"
    not_judged = "not judged"


class Rule(StrEnum):
    """Simple acceptance decides at the limit itself; guarded acceptance stays a guard band inside it."""

    simple = "simple"
    guarded = "guarded"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opens:
    """What a judgement opens and shuts."""

    completes_step: bool = False
    live_step: bool = False
    """whether a live step may rest on it"""
    fault_search: bool = False


WHAT_OPENS: Mapping[str, Opens] = {
    Judgement.passed: Opens(completes_step=True, live_step=True),
    Judgement.conditional_pass: Opens(completes_step=True),
    Judgement.conditional_fail: Opens(fault_search=True),
    Judgement.failed: Opens(fault_search=True),
    Judgement.not_judged: Opens(),
}
"""The one rule: a conditional pass is done but brings no mains to a unit, a conditional fail is not done."""
_NOTHING = Opens()


def completes_step(judgement: object) -> bool:
    """Whether the step counts as done (the word itself will do, as an entry keeps it)."""
    return WHAT_OPENS.get(str(judgement), _NOTHING).completes_step


def opens_live_step(judgement: object) -> bool:
    """Whether a live step may rest on it: a conditional result never brings mains to a unit."""
    return WHAT_OPENS.get(str(judgement), _NOTHING).live_step


def opens_fault_search(judgement: object) -> bool:
    """Whether a search for the fault can begin from it."""
    return WHAT_OPENS.get(str(judgement), _NOTHING).fault_search
