"""Answers: what the technician did, saw or measured at a step, and taking the last of them back."""

from typing import TYPE_CHECKING

from benchapp.actions.bench import Bench
from benchapp.actions.changes import Changes

if TYPE_CHECKING:
    from benchapp.sequences import Given


def record_answer(
    bench: Bench, unit: str, address: str, given: "Given", *, by: str, uuid: str | None = None
) -> Changes:
    """Judge an answer to a step and put it on disk; raises Refused with the engine's sentence.

    Called again with the same `uuid` it records nothing twice.
    """


def withdraw_answer(bench: Bench, unit: str, *, by: str, number: int | None = None, why: str = "") -> Changes:
    """Take back an answer (the unit's last one when no number is given); the entry itself stays."""
