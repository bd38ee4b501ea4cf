"""Words for what stands in a file and for what should: pydantic's kinds of error, said to people."""

from collections.abc import Mapping
from typing import Any


def shown(value: Any) -> str:  # noqa: ANN401 - a file's data
    """A value of a file as it is quoted in a complaint."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a group of keys"
    if isinstance(value, list):
        return f"[{', '.join(map(str, value))}]" if value and _is_short(value) else "a list"
    text = str(value)
    return f'"{text[:60]}{"…" if len(text) > 60 else ""}"'


def entries(number: int) -> str:
    """So many entries, in words."""
    return "1 entry" if number == 1 else f"{number} entries"


def _is_short(value: list[Any]) -> bool:
    """Whether a list is plain and short enough to be quoted whole."""
    words = all(isinstance(one, str | int | float) and not isinstance(one, bool) for one in value)
    return words and sum(len(str(one)) + 2 for one in value) <= _LONGEST_LIST


def expected_of(kind: str, context: Mapping[str, Any]) -> str:
    """What should stand where pydantic found an error of this kind; empty when there are no words for it."""
    return (_EXPECTED.get(kind) or _BOUNDS.get(kind, "")).format(**context)


_LONGEST_LIST = 60
"""Characters of a list that is quoted whole (own choice)."""
_EXPECTED = {
    "bool_parsing": "true or false",
    "bool_type": "true or false",
    "dict_type": "a group of keys, each with a value",
    "model_type": "a group of keys, each with a value",
    "model_attributes_type": "a group of keys, each with a value",
    "mapping_type": "a group of keys, each with a value",
    "list_type": "a list",
    "tuple_type": "a list",
    "set_type": "a list",
    "frozen_set_type": "a list",
    "string_type": "text",
    "int_parsing": "a whole number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "float_parsing": "a number",
    "float_type": "a number",
    "decimal_parsing": "a number",
    "decimal_type": "a number",
    "finite_number": "a number",
    "date_from_datetime_parsing": "a date such as 2026-03-31",
    "date_parsing": "a date such as 2026-03-31",
    "date_type": "a date such as 2026-03-31",
    "none_required": "nothing",
}
_BOUNDS = {
    "greater_than": "more than {gt}",
    "greater_than_equal": "at least {ge}",
    "less_than": "less than {lt}",
    "less_than_equal": "at most {le}",
    "too_short": "at least {min_length} entries",
    "too_long": "at most {max_length} entries",
    "string_too_short": "at least {min_length} characters",
    "string_too_long": "at most {max_length} characters",
    "string_pattern_mismatch": "text of another form",
}
