"""What can be said of a reading, and under which rule; what each answer then opens.

The four statements are those of ILAC-G8:09/2019 clause 4.2.3; "not judged" is ours, for a reading that the meter
cannot settle or that is no number.

RULES_VERSION goes with every stored judgement, and a judgement is taken again by the rules that it names:
1  every result is normal, or t for few readings; a reading is taken to be shown on the smallest range that holds it
2  a result of which one rectangular source outweighs the others is spread like it; a meter that stays in touch keeps
   its range until the reading is well inside the one below
"""

from enum import StrEnum

RULES_VERSION = "2"
FIRST_RULES = "1"
KNOWN_RULES = frozenset({FIRST_RULES, RULES_VERSION})
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


def completes_step(judgement: object) -> bool:
    """Whether the step counts as done: a pass or a conditional pass (the word itself will do, as an entry keeps it)."""
    return judgement in (Judgement.passed, Judgement.conditional_pass)


def opens_live_step(judgement: object) -> bool:
    """Whether a live step may rest on it: a pass alone. A conditional result never brings mains to a unit."""
    return judgement == Judgement.passed
