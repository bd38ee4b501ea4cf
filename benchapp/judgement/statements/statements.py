"""What can be said of a reading, and under which rule; what each answer then opens.

The four statements are those of ILAC-G8:09/2019 clause 4.2.3; "not judged" is ours, for a reading that the meter
cannot settle or that is no number.

RULES_VERSION goes with every stored judgement, and a judgement is taken again by the rules that it names:
1  every result is normal, or t for few readings; a reading is taken to be shown on the smallest range that holds it
2  a result of which one rectangular source outweighs the others is spread like it; a meter that stays in touch keeps
   its range until the reading is well inside the one below, and where several ranges could have shown it the last
   digit tells which; over-range means more than the range in use; "more than" and "less than" a value are judged by
   guard band and capability as that value is; a value worked out from readings of one meter allows for what they share
3  a resistance with a diode in its path is held against what polarity lets conduct; before, every diode was taken for a
   short or for nothing. Live bands reach their true corners, and none is guessed behind a diode; before, an entry's own
   band counts. A voltage is held against its band on the meter function that shows it: DC on AC is not judged
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

RULES_VERSION = "3"
FIRST_RULES = "1"
WITHOUT_POLARITY = frozenset({FIRST_RULES, "2"})
"""Rules that knew no polarity of a diode."""
KNOWN_RULES = WITHOUT_POLARITY | {RULES_VERSION}
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
