"""Changes one value in the text of a file; comments, order and every other line stay as they were written.

A change is tried in the plainest spelling first and read back: what is returned always reads as the old data with that
one value changed.
"""

import json
from collections.abc import Iterator
from typing import Any

from benchapp.errors import BenchError
from benchapp.files.document import Document
from benchapp.files.locations import FileProblems, Key
from benchapp.files.reader import parse_document
from benchapp.files.scalars import Scalar
from benchapp.words import say

_BLOCK_SIGNS = ("|", ">")


def replace_value(document: Document, key: Key, value: Scalar) -> str:
    """The text with the value under `key` changed; raises BenchError when that cannot be done in place."""
    old = _value_at(document, key)
    if isinstance(old, dict | list):
        raise BenchError(
            say("{location}: several values stand here. Change them one by one.", location=document.location(key))
        )
    wanted = _with_value(document.data, key, value)
    start, end = document.spans[key]
    for spelled in _spellings(document, key, value):
        text = document.text[:start] + spelled + document.text[end:]
        try:
            if _same(parse_document(text, document.source).data, wanted):
                return text
        except FileProblems:
            continue
    raise BenchError(
        say(
            "{location}: {value!r:.60} cannot be put here in place. Change it in the text.",
            location=document.location(key),
            value=value,
        )
    )


def _value_at(document: Document, key: Key) -> Any:  # noqa: ANN401 - a file's data
    if key not in document.spans:
        raise BenchError(
            say(
                "{source}: nothing is written under {listed}.",
                source=document.source,
                listed=" / ".join(map(str, key)) or "the top",
            )
        )
    data = document.data
    for part in key:
        data = data[part]
    return data


def _with_value(data: Any, key: Key, value: Scalar) -> Any:  # noqa: ANN401 - a file's data
    if not key:
        return value
    first, rest = key[0], key[1:]
    if isinstance(data, list):
        return [_with_value(item, rest, value) if index == first else item for index, item in enumerate(data)]
    return {name: _with_value(item, rest, value) if name == first else item for name, item in data.items()}


def _spellings(document: Document, key: Key, value: Scalar) -> Iterator[str]:
    """Ways to write the value in place of the old one, the plainest first."""
    start, end = document.spans[key]
    old = document.text[start:end]
    is_block = old.startswith(_BLOCK_SIGNS)
    if is_block and isinstance(value, str) and "\n" in value:
        yield _as_block(value, old)
    words = [_plain(value)] if not isinstance(value, str) else [value, json.dumps(value, ensure_ascii=False)]
    for word in words:
        if is_block:
            yield word + _after_block(old)
        else:
            yield word
            yield f" {word}"
            yield f": {word}"


def _plain(value: Scalar) -> str:
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)


def _as_block(value: str, old: str) -> str:
    """Text of several lines, indented as the old text was."""
    lines = old.splitlines()[1:]
    indent = next((len(line) - len(line.lstrip(" ")) for line in lines if line.strip()), 2)
    breaks_after = len(value) - len(value.rstrip("\n"))
    keep = ("-", "", "+")[min(breaks_after, 2)]
    body = "".join(f"{' ' * indent}{line}\n" if line else "\n" for line in value.rstrip("\n").split("\n"))
    return f"|{keep}{_comment(old)}\n{body}" + "\n" * (breaks_after - 1)


def _after_block(old: str) -> str:
    """What has to follow a word put in place of a text of several lines: its comment and its empty lines."""
    return _comment(old) + old[len(old.rstrip("\r\n")) :]


def _comment(old: str) -> str:
    _, mark, comment = old.split("\n", 1)[0].partition(" #")
    return f" #{comment}" if mark else ""


def _same(one: Any, other: Any) -> bool:  # noqa: ANN401 - a file's data
    """Equal, and true is not 1."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(_same(one[name], other[name]) for name in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    return isinstance(one, bool) == isinstance(other, bool) and one == other
