"""Kinds of value that several models of the sequence language share: texts, grades of a fault, conditions."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, StringConstraints, WithJsonSchema

from benchapp.judgement.meters.functions import Function

Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=2, max_length=600)]
Severity = Literal["note", "mend", "do not use"]
Mark = Literal["good", "bad", "does not apply"]
JudgementWord = Literal["pass", "conditional pass", "conditional fail", "fail", "not judged", "not taken"]
"""what comes out of an answer; "not taken" where it would be refused, as a wait cut short"""


def _as_list(written: Any) -> Any:  # noqa: ANN401  whatever the file holds
    return [written] if isinstance(written, str | bool | int | float) else written


_ONE = {"type": ["string", "number", "boolean"]}
OneOrMore = Annotated[
    tuple[bool | float | str, ...],
    BeforeValidator(_as_list),
    Field(min_length=1),
    WithJsonSchema({"anyOf": [_ONE, {"type": "array", "items": _ONE, "minItems": 1}]}),
]
FunctionName = Annotated[str, WithJsonSchema({"type": "string", "enum": [one.value for one in Function]})]
"""A meter's function; which there are is asked in `step_checks`, with the nearest where it is none."""
When = Mapping[str, OneOrMore]
"""facts of the unit, or earlier `ask` steps of the sequence, with the values for which the step is done"""
