"""A stored answer judged again from the texts that its run pinned, and what comes out otherwise, in words."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeGuard

from benchapp.sequences.answering.evaluate import answer_from, evaluate
from benchapp.sequences.history.unit_history import UnitHistory
from benchapp.sequences.interlock.fold import answering_state, look
from benchapp.sequences.planning.answer_content import AnswerContent, is_answer
from benchapp.sequences.planning.contents import content_json
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.state import Evaluation
from benchapp.sequences.planning.step_digest import has_changed

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
STEP_DIGEST = "step_digest"
"""the key of an answer's content that is looked at by `step_differs`"""
TWELVE_DIGITS = 1e-12


def reverify(plan: Plan, entries: Sequence[Entry], location: int) -> Evaluation:
    """The answer at `location` of the history, tried again where it stood."""
    entry = entries[location]
    assert is_answer(entry)
    state = answering_state(look(UnitHistory(plan, entries[:location]), at=entry.at))
    return evaluate(plan, state, entry.address, answer_from(entry.content), at=entry.at)


def what_differs(stored: AnswerContent, again: Evaluation) -> Iterator[str]:
    """What of the whole content comes out otherwise than it was recorded, in words."""
    if again.content is None:
        yield f"it cannot be judged again: {again.complaint}"
        return
    if again.content == stored:
        return
    were, are = content_json(stored), content_json(again.content)
    for key in dict.fromkeys((*are, *were)):
        if key == STEP_DIGEST:
            continue
        before, now = were.get(key), are.get(key)
        if before is not now and not same_at_twelve_digits(before, now):
            yield f"{key.replace('_', ' ')} was recorded as {_said(before)}, and comes out as {_said(now)}"


def step_differs(plan: Plan, entry: Entry[AnswerContent]) -> Iterator[str]:
    """Whether the step that the answer says it was given at is the one in the texts that its run pinned, in words."""
    step = plan.by_address.get(entry.address)
    if step is not None and has_changed(step, entry.content):
        yield f"it was given at another step than the {entry.address} that its run pinned"


def same_at_twelve_digits(before: object, now: object) -> bool:
    """Whether two values of a judgement are the same; numbers are compared at 12 digits."""
    if type(before) is type(now) and isinstance(before, str | float) and before == now:
        return True
    if _is_number(before) and _is_number(now):
        a, b = float(before), float(now)  # type: ignore[arg-type]
        return abs(a - b) <= TWELVE_DIGITS * max(abs(a), abs(b))
    if _is_list(before) and _is_list(now):
        return len(before) == len(now) and all(map(same_at_twelve_digits, before, now))
    if isinstance(before, Mapping) and isinstance(now, Mapping):
        return before.keys() == now.keys() and all(same_at_twelve_digits(before[key], now[key]) for key in before)
    return type(before) is type(now) and before == now


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _is_list(value: object) -> TypeGuard[Sequence[object]]:
    return isinstance(value, list | tuple)


def _said(value: object) -> str:
    return "nothing" if value is None else f"{value:.12g}" if isinstance(value, float) else str(value)
