"""What can be said of a reading, and under which rule; what each answer then opens.

The four statements are those of ILAC-G8:09/2019 clause 4.2.3; "not judged" is ours, for a reading that the meter
cannot settle or that is no number. RULES_VERSION goes with every stored judgement: it changes when any rule of this
package does.
"""

from enum import StrEnum

RULES_VERSION = "1"


class Judgement(StrEnum):
    """ILAC-G8's four statements, and the answer for a reading that cannot be judged."""

    PASS = "pass"  # noqa: S105 (a judgement, no password)
    CONDITIONAL_PASS = "conditional pass"  # noqa: S105
    CONDITIONAL_FAIL = "conditional fail"
    FAIL = "fail"
    NOT_JUDGED = "not judged"


class Rule(StrEnum):
    """Simple acceptance decides at the limit itself; guarded acceptance stays a guard band inside it."""

    SIMPLE = "simple"
    GUARDED = "guarded"


def completes_step(judgement: Judgement) -> bool:
    """Whether the step counts as done: a pass or a conditional pass."""
    return judgement in (Judgement.PASS, Judgement.CONDITIONAL_PASS)


def opens_live_step(judgement: Judgement) -> bool:
    """Whether a live step may rest on it: a pass alone. A conditional result never brings mains to a unit."""
    return judgement is Judgement.PASS
