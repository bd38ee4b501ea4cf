"""What would this answer be worth? Tries an answer without recording it; the live gauge and the recording both use it."""

from benchapp.sequences.entries import Given
from benchapp.sequences.planned import Plan
from benchapp.sequences.state import Attempt, UnitState


def attempt(plan: Plan, state: UnitState, address: str, given: Given, *, at: str) -> Attempt:
    """Judge an answer; `content` of the result is what an entry of it would carry."""
    ...
