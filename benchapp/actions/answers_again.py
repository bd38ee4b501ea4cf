"""A stored answer judged again from the texts that its run pinned: the same, or what differs?"""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, TypeGuard

from benchapp.sequences.entries import Entry

if TYPE_CHECKING:
    from benchapp.sequences import Attempt, Plan

TAKEN = (
    "range_shown",
    "range_before",
    "over_range_at",
    "lead_resistance",
    "of_leads",
    "source_resistance",
    "frequency",
    "waveform",
    "temperature",
    "test_voltage",
)
"""what a reading was taken with and in, beside its meter"""
JUDGED = (
    "value",
    "bound",
    "kind",
    "lower",
    "upper",
    "rule",
    "safety",
    "expected",
    "standard_uncertainty",
    "expanded_uncertainty",
    "guard_band",
    "conformance_probability",
    "capable",
    "judgement",
    "sentence",
    "derivation",
    "corrections",
    "coverage",
    "degrees_of_freedom",
    "dominant_half_width",
    "others_standard_uncertainty",
    "budget",
    *TAKEN,
    "cautions",
    "meter_cautions",
)
"""what of an answer is computed, and so must come out the same"""
WORDS = frozenset({"sentence", "derivation", "corrections", "cautions", "meter_cautions"})
"""what is said of a judgement; a later program may say it better, so it is only held to what it says itself"""
TWELVE_DIGITS = 1e-12


def judged_again(plan: "Plan", entries: Sequence[Entry], place: int) -> "Attempt":
    """The answer at `place` of the history, tried again where it stood, by the rules that it was judged by."""
    from benchapp.judgement import RULES_VERSION
    from benchapp.sequences import attempt, fold
    from benchapp.sequences.attempts import given_from

    entry = entries[place]
    state = fold(plan, entries[:place], at=entry.at)
    rules = str(entry.content.get("rules_version", RULES_VERSION))
    return attempt(plan, state, entry.address, given_from(entry.content), at=entry.at, rules=rules)


def what_differs(stored: Mapping[str, Any], again: "Attempt") -> Iterator[str]:
    """What comes out otherwise than it was recorded, in words."""
    from benchapp.judgement import RULES_VERSION

    if again.complaint:
        yield f"it cannot be judged again: {again.complaint}"
        return
    as_today = stored.get("rules_version", RULES_VERSION) == RULES_VERSION
    for key in JUDGED:
        if key in WORDS and not as_today:
            continue
        before, now = stored.get(key), again.content.get(key)
        if key == "budget" and not as_today:
            before, now = _numbers(before), _numbers(now)
        if not same_at_twelve_digits(before, now):
            yield f"{key.replace('_', ' ')} was recorded as {_said(before)}, and comes out as {_said(now)}"


def step_differs(plan: "Plan", entry: Entry) -> Iterator[str]:
    """Whether the step that the answer says it was given at is the one in the texts that its run pinned, in words."""
    from benchapp.sequences.step_digest import has_changed

    step = plan.by_address.get(entry.address)
    if step is not None and has_changed(step, entry.content):
        yield f"it was given at another step than the {entry.address} that its run pinned"


def _numbers(budget: object) -> object:
    """A budget without the words of its sources."""
    return [row[1:] for row in budget if _is_list(row)] if _is_list(budget) else budget


def same_at_twelve_digits(before: object, now: object) -> bool:
    """Whether two values of a judgement are the same; numbers are compared at 12 digits."""
    if _is_number(before) and _is_number(now):
        a, b = float(before), float(now)  # type: ignore[arg-type]
        return abs(a - b) <= TWELVE_DIGITS * max(abs(a), abs(b))
    if _is_list(before) and _is_list(now):
        return len(before) == len(now) and all(map(same_at_twelve_digits, before, now))
    return type(before) is type(now) and before == now


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _is_list(value: object) -> TypeGuard[Sequence[object]]:
    return isinstance(value, list | tuple)


def _said(value: object) -> str:
    return "nothing" if value is None else f"{value:.12g}" if isinstance(value, float) else str(value)
