"""Readings straight from an instrument, and the capture of a steady one.

Instruments are asked in the open standards' own words (IEEE 488.2, SCPI-1999) over a network socket. A reading comes
in by the same door as a typed one (`quantities`), and is only offered: the technician records it.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.meters.answers import read_answer
    from benchapp.meters.instrument import Identity, Instrument
    from benchapp.meters.problems import MeterProblem
    from benchapp.meters.questions import can_ask, question_for
    from benchapp.meters.steady import Capture, Steadiness, captures

_HOMES = {
    "Capture": "steady",
    "Identity": "instrument",
    "Instrument": "instrument",
    "MeterProblem": "problems",
    "Steadiness": "steady",
    "can_ask": "questions",
    "captures": "steady",
    "question_for": "questions",
    "read_answer": "answers",
}

__all__ = [
    "Capture",
    "Identity",
    "Instrument",
    "MeterProblem",
    "Steadiness",
    "can_ask",
    "captures",
    "question_for",
    "read_answer",
]


def __getattr__(name: str) -> Any:  # noqa: ANN401 (a module's attribute may be anything)
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
